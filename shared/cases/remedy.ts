import { z } from "zod";
import { atLeastZero, orderIdSchema } from "../model/quantities.ts";
import { conflictKinds } from "../plan/plan.ts";
import { remedyChangeSchema } from "./remedyChange.ts";

/** One change that was tried by planning again with it, and what came of it. Cents are against the same search without it. */
export const remedySchema = z.strictObject({
  changes: z.array(remedyChangeSchema).min(1).describe("what is otherwise, to be made to the operation"),
  sentence: z.string().min(1).describe("for people: what to do, what it wins, what it costs"),
  askGrower: z.boolean().describe("true: a question to the grower, who may say no"),
  haWon: z.number().positive().describe("hectares of the group that are planned with it"),
  haWonInAll: z.number().describe("of all orders; less where others have to give way"),
  orderIdsWon: z.array(orderIdSchema).describe("orders of the group of which more is planned"),
  stopsMoved: z.number().int().min(0).describe("stops that another crew does, or on another day or at another hour"),
  stopsDropped: z.number().int().min(0).describe("stops that are left out for it"),
  costCents: z.number().describe("what the plan costs more, without hire, orders left out and changes of plan"),
  hireCents: atLeastZero.describe("for what is hired"),
  earnedCents: z.number().describe("what growers pay more"),
  valueCents: z.number().describe("the same as the planner weighs it, by priority"),
  netCents: z.number().describe("value less cost and hire; remedies are ranked by it"),
});

/** Orders that the same thing keeps out of the plan. */
export const remedyGroupSchema = z.strictObject({
  kind: z.enum(conflictKinds),
  orderIds: z.array(orderIdSchema).min(1),
  areaHa: atLeastZero.describe("hectares not planned; 0 when the orders have no ground"),
  sentence: z.string().min(1).describe("for people"),
});

export const groupRemediesSchema = z.strictObject({
  group: remedyGroupSchema,
  remedies: z.array(remedySchema).describe("best first; those that win nothing are not told"),
  tried: z.number().int().min(0).describe("changes that were planned again with, as often as it took to know"),
  screened: z.number().int().min(0).describe("changes that could be seen without planning to help none of the group"),
  leftOut: z
    .number()
    .int()
    .min(0)
    .describe("changes that were not tried, or not to the end, because there were too many or time was up"),
});

export const remediesSchema = z.strictObject({
  operationName: z.string(),
  seed: z.number().int(),
  iterations: z.number().int().min(0).describe("of each search from the present plan"),
  groups: z.array(groupRemediesSchema),
});

export type Remedy = z.infer<typeof remedySchema>;
export type RemedyGroup = z.infer<typeof remedyGroupSchema>;
export type GroupRemedies = z.infer<typeof groupRemediesSchema>;
export type Remedies = z.infer<typeof remediesSchema>;
