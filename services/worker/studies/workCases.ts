import { caseSetDocumentSchema } from "../../../shared/cases/caseSet.ts";
import type { CasesFile } from "../../../shared/cases/cases.ts";
import { casePartSchema, casesAskSchema, fileAsAsked, seedsOf } from "../../../shared/cases/casesStudy.ts";
import { seasonOf } from "../../../shared/cases/judgeCaseSet.ts";
import { plannedCases } from "../../../shared/cases/plannedCases.ts";
import type { RunOutcome } from "../../../shared/cases/runResult.ts";
import { loadHighs } from "../../linear/highs.ts";
import { runUnit, type UnitMeans } from "../../whatif/runUnit.ts";
import type { PartWork } from "../partThreads.ts";
import type { WorkPart } from "./workPart.ts";

interface Prepared {
  readonly studyId: string;
  readonly file: CasesFile;
  readonly seeds: readonly number[];
  readonly means: UnitMeans;
}

/** Parts of a study come one after the other: what they have in common is prepared once. */
let latest: Prepared | null = null;

/** One case in one week, with all of its seeds. */
export const workCases: WorkPart<RunOutcome[]> = async (work, onShare) => {
  if (latest?.studyId !== work.studyId) latest = await prepare(work);
  const { file, seeds, means } = latest;
  const { caseId, week } = casePartSchema.parse(work.ask);
  const planned = plannedCases(means.operation, file).find(({ id }) => id === caseId);
  if (planned === undefined) throw new Error(`the set has no case ${caseId}`);
  const outcomes: RunOutcome[] = [];
  runUnit({ planned, seeds, ...(week === undefined ? {} : { week }) }, means, (outcome) => {
    outcomes.push(outcome);
    onShare(outcomes.length / seeds.length);
  });
  return outcomes;
};

async function prepare({ studyId, input }: PartWork): Promise<Prepared> {
  const { operation } = input;
  const ask = casesAskSchema.parse(input.ask);
  const { cases, season } = caseSetDocumentSchema.parse(input.cases);
  const means: UnitMeans = {
    operation,
    season: ask.weeks === null || season === undefined ? null : seasonOf(season, operation),
    budget: ask.budget,
    linear: await loadHighs(),
    seconds: () => performance.now() / 1000,
  };
  return { studyId, file: fileAsAsked(cases, ask), seeds: seedsOf(ask), means };
}
