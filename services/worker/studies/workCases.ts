import { caseSetDocumentSchema } from "../../../shared/cases/caseSet.ts";
import { casePartSchema, casesAskSchema, fileAsAsked, seedsOf } from "../../../shared/cases/casesStudy.ts";
import { seasonSent } from "../../../shared/cases/judgeCaseSet.ts";
import { type PlannedCase, plannedCases } from "../../../shared/cases/plannedCases.ts";
import type { RunOutcome } from "../../../shared/cases/runResult.ts";
import { loadHighs } from "../../linear/highs.ts";
import { createUnitRunner } from "../../whatif/runUnit.ts";
import type { PartWork } from "../partThreads.ts";
import type { WorkPart } from "./workPart.ts";

interface Prepared {
  readonly studyId: string;
  readonly cases: readonly PlannedCase[];
  readonly seeds: readonly number[];
  readonly runUnit: ReturnType<typeof createUnitRunner>;
}

/** Parts of a study come one after the other: what they have in common, the plans that cases start from too, is made once in a thread. */
let latest: Prepared | null = null;

/** One case in one week, with all of its seeds. */
export const workCases: WorkPart<RunOutcome[]> = async (work, onShare) => {
  if (latest?.studyId !== work.studyId) latest = await prepare(work);
  const { cases, seeds, runUnit } = latest;
  const { caseId, week } = casePartSchema.parse(work.ask);
  const planned = cases.find(({ id }) => id === caseId);
  if (planned === undefined) throw new Error(`the set has no case ${caseId}`);
  const outcomes: RunOutcome[] = [];
  runUnit({ planned, seeds, ...(week === undefined ? {} : { week }) }, (outcome) => {
    outcomes.push(outcome);
    onShare(outcomes.length / seeds.length);
  });
  return outcomes;
};

async function prepare({ studyId, input }: PartWork): Promise<Prepared> {
  const { operation } = input;
  const ask = casesAskSchema.parse(input.ask);
  const { cases, season } = caseSetDocumentSchema.parse(input.cases);
  const runUnit = createUnitRunner({
    operation,
    season: ask.weeks === null || season === undefined ? null : seasonSent(season, operation),
    budget: ask.budget,
    linear: await loadHighs(),
    seconds: () => performance.now() / 1000,
  });
  return { studyId, cases: plannedCases(operation, fileAsAsked(cases, ask)), seeds: seedsOf(ask), runUnit };
}
