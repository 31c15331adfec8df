import { z } from "zod";
import { progressSchema } from "../done/progress.ts";
import { keptReportSchema, workReportSchema } from "../done/workReport.ts";
import { nextSchema } from "./paging.ts";
import { planKeySchema } from "./planRequests.ts";
import { faultSchema } from "./problem.ts";

export const reportsAtOnce = 200;

/** What a phone has to send. Each report is judged by itself, so that a faulty one does not keep the others back. */
export const reportBatchSchema = z.strictObject({
  reports: z
    .array(z.unknown().meta({ standsFor: workReportSchema }))
    .min(1)
    .max(reportsAtOnce)
    .describe("in any order; the same report may be sent again"),
});

export const reportOutcomeSchema = z.object({
  id: z.string().nullable().describe("as it was sent; null where none can be read"),
  outcome: z.enum(["stored", "known", "refused"]).describe("known: it was stored before"),
  why: z.string().nullable().describe("why it was refused, for people"),
  faults: z.array(faultSchema).optional().describe("what is wrong with a report that cannot be read"),
});
export type ReportOutcome = z.infer<typeof reportOutcomeSchema>;

export const reportOutcomesSchema = z.object({
  reports: z.array(reportOutcomeSchema).describe("what became of each, in the order sent"),
});

export const reportListSchema = z.object({
  reports: z.array(keptReportSchema).describe("in the order in which they came in"),
  next: nextSchema,
});

/** How far a plan has come. */
export const planProgressSchema = progressSchema.extend({
  planId: planKeySchema,
  publication: z.number().int().positive().describe("the number by which crews were told the plan"),
});
export type PlanProgress = z.infer<typeof planProgressSchema>;
