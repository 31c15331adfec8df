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

export const planOrigins = ["planned", "replanned", "moved"] as const;
export const planStates = ["draft", "published", "superseded"] as const;

export const planSummarySchema = z.object({
  id: planKeySchema,
  operationId: operationKeySchema,
  version: z.number().int().positive().describe("the version of the operation that it is a plan of"),
  origin: z.enum(planOrigins).describe("moved: by hand"),
  parentId: planKeySchema.nullable().describe("the plan that it was made of by hand"),
  state: z
    .enum(planStates)
    .describe("published: what crews have been told; superseded: what they had been told before"),
  createdAt: z.iso.datetime(),
});

export const storedPlanSchema = planSummarySchema.extend({ plan: planSchema });

/** A plan that crews were told. */
export const publicationSchema = z.object({
  id: z.uuid(),
  operationId: operationKeySchema,
  number: z.number().int().positive().describe("1 for the operation's first"),
  planId: planKeySchema,
  note: z.string().describe("for the crews"),
  byName: z.string().min(1).describe("who published it"),
  createdAt: z.iso.datetime(),
});

export const conflictListSchema = z.object({ conflicts: z.array(conflictSchema) });

export type PlanOrigin = (typeof planOrigins)[number];
export type PlanSummary = z.infer<typeof planSummarySchema>;
export type Publication = z.infer<typeof publicationSchema>;
export type StoredPlan = z.infer<typeof storedPlanSchema>;
/** As it was written, perhaps by an earlier release with fewer rules. */
export type StoredReport = z.infer<typeof checkReportSchema>;
