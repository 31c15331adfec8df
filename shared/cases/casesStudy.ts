import { z } from "zod";
import type { Operation } from "../model/operation.ts";
import { type CasesFile, casesFileSchema } from "./cases.ts";
import { plannedCases } from "./plannedCases.ts";
import type { RunOutcome } from "./runResult.ts";

/** What is asked of a set of cases, defaults and what the set itself says filled in. */
export const casesAskSchema = z.strictObject({
  budget: casesFileSchema.shape.budget,
  seeds: casesFileSchema.shape.seeds,
  weeks: z.number().int().min(1).nullable().describe("sampled weeks; null: the operation's own week"),
});

/** A case in one week is one part: it is compiled once for all of its seeds. */
export const casePartSchema = z.strictObject({
  caseId: z.string(),
  week: z.number().int().min(0).optional(),
});

export type CasesAsk = z.infer<typeof casesAskSchema>;
export type CasePart = z.infer<typeof casePartSchema>;

export function fileAsAsked(file: CasesFile, { budget, seeds }: CasesAsk): CasesFile {
  return { ...file, budget, seeds };
}

export function seedsOf({ seeds }: CasesAsk): number[] {
  return Array.from({ length: seeds }, (_, at) => at + 1);
}

/** All parts, those of a week after each other. */
export function casePartsOf(operation: Operation, file: CasesFile, { weeks }: CasesAsk): CasePart[] {
  const cases = plannedCases(operation, file);
  const ofWeek = (week: { readonly week?: number }) => cases.map(({ id }): CasePart => ({ caseId: id, ...week }));
  return weeks === null ? ofWeek({}) : Array.from({ length: weeks }, (_, week) => ofWeek({ week })).flat();
}

/** Of a part that was lost none of its runs came to anything. */
export function lostRuns({ caseId, week }: CasePart, ask: CasesAsk, message: string): RunOutcome[] {
  return seedsOf(ask).map((seed) => ({
    status: "failed",
    key: { caseId, seed, ...(week === undefined ? {} : { week }) },
    message,
  }));
}
