import { casePartSchema, casesAskSchema, fileAsAsked, seedsOf } from "../../../shared/cases/casesStudy.ts";
import { plannedCases } from "../../../shared/cases/plannedCases.ts";
import type { RunOutcome } from "../../../shared/cases/runResult.ts";
import { caseSetDocumentSchema } from "../../../shared/contracts/caseSets.ts";
import { loadHighs } from "../../linear/highs.ts";
import { createUnitRunner } from "../../whatif/runUnit.ts";
import type { WorkPart } from "./workPart.ts";

/** One case in one week, with all of its seeds. */
export const workCases: WorkPart<RunOutcome[]> = async ({ input, ask: partAsk }, onShare) => {
  const { operation } = input;
  const { caseId, week } = casePartSchema.parse(partAsk);
  const ask = casesAskSchema.parse(input.ask);
  const file = fileAsAsked(caseSetDocumentSchema.parse(input.cases).cases, ask);
  const planned = plannedCases(operation, file).find(({ id }) => id === caseId);
  if (planned === undefined) throw new Error(`the set has no case ${caseId}`);
  const unit = { planned, seeds: seedsOf(ask), ...(week === undefined ? {} : { week }) };
  const seconds = () => performance.now() / 1000;
  const outcomes: RunOutcome[] = [];
  const run = createUnitRunner({ operation, season: null, budget: ask.budget, linear: await loadHighs(), seconds });
  run(unit, (outcome) => {
    outcomes.push(outcome);
    onShare(outcomes.length / unit.seeds.length);
  });
  return outcomes;
};
