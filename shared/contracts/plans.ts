import { z } from "zod";
import { conflictSchema, planSchema } from "../plan/plan.ts";
import { operationKeySchema } from "./operations.ts";
import { planKeySchema } from "./planRequests.ts";

export const breachSchema = z.looseObject({
  rule: z.string().min(1),
  sentence: z.string().min(1),
});

/** What the independent checker said of a plan. */
export const checkReportSchema = z.object({
  ok: z.boolean(),
  checked: z.record(z.string(), z.number().int().min(0)).describe("how many times each rule was examined"),
  breaches: z.array(breachSchema),
});

export const storedPlanSchema = z.object({
  id: planKeySchema,
  operationId: operationKeySchema,
  version: z.number().int().positive(),
  createdAt: z.iso.datetime(),
  plan: planSchema,
});

export const conflictListSchema = z.object({ conflicts: z.array(conflictSchema) });

export type StoredPlan = z.infer<typeof storedPlanSchema>;
/** As it was written, perhaps by an earlier release with fewer rules. */
export type StoredReport = z.infer<typeof checkReportSchema>;
