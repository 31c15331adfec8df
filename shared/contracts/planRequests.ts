import { z } from "zod";
import { operationKeySchema } from "./operations.ts";
import { nextSchema } from "./paging.ts";

export const planKeySchema = z.uuid().describe("id of a plan request, and of the plan that comes of it");

export const defaultPlanSeconds = 10;
export const defaultPlanSeed = 1;

/** How long to plan: by the clock, or by a number of iterations, which with the seed gives the same plan again. */
export const planBodySchema = z
  .strictObject({
    seconds: z.number().positive().max(3600).optional().describe("how long to plan, seconds"),
    iterations: z
      .number()
      .int()
      .min(0)
      .max(100_000_000)
      .optional()
      .describe("how many iterations, in place of seconds"),
    seed: z.number().int().min(0).max(4_294_967_295).default(defaultPlanSeed),
  })
  .refine((body) => body.seconds === undefined || body.iterations === undefined, {
    message: "either seconds or iterations",
  })
  .describe(`when neither is given: ${defaultPlanSeconds} seconds`);

export const planProgressSchema = z.object({
  iterations: z.number().int().min(0),
  share: z.number().min(0).max(1).describe("how much of the time or of the iterations is used"),
  servedHa: z.number().min(0).describe("hectares planned in the best plan so far"),
  totalCents: z.number().describe("score of the best plan so far; less is better"),
  gapFrac: z
    .number()
    .min(0)
    .optional()
    .describe(
      "by how much of what is proven to be the least the best plan so far costs more; left out as long as nothing is proven",
    ),
  first: z
    .object({ seconds: z.number().min(0), servedHa: z.number().min(0), totalCents: z.number() })
    .optional()
    .describe(
      "of a plan made again: what still holds of the plan that it starts from, as the checker has passed it, and after how many seconds; left out before that",
    ),
});

export const planRequestKinds = ["plan", "replan"] as const;
export const planStatuses = ["queued", "running", "done", "failed", "cancelled"] as const;

export const planFailureSchema = z.object({
  kind: z.enum(["checkerFaulted", "plannerFailed", "startedTooOften"]),
  message: z.string().min(1).describe("for people"),
  breaches: z.array(z.unknown()).describe("what the checker found wrong with the plan; empty for other kinds"),
});

export const planRequestSchema = z.object({
  id: planKeySchema,
  operationId: operationKeySchema,
  version: z.number().int().positive().describe("the version of the operation that is planned"),
  kind: z.enum(planRequestKinds).describe("replan: from a plan, with as few changes to it as will do"),
  fromPlanId: planKeySchema.nullable().describe("the plan that a replan starts from"),
  seconds: z.number().positive().nullable(),
  iterations: z.number().int().min(0).nullable(),
  seed: z.number().int().min(0),
  status: z.enum(planStatuses),
  progress: planProgressSchema.nullable(),
  failure: planFailureSchema.nullable(),
  planId: planKeySchema.nullable().describe("set once there is a plan; a cancelled request may have its best so far"),
  createdAt: z.iso.datetime(),
  startedAt: z.iso.datetime().nullable(),
  endedAt: z.iso.datetime().nullable(),
});

export const planRequestListSchema = z.object({
  planRequests: z.array(planRequestSchema).describe("newest first"),
  next: nextSchema,
});

export type PlanProgress = z.infer<typeof planProgressSchema>;
export type PlanFailure = z.infer<typeof planFailureSchema>;
export type PlanRequest = z.infer<typeof planRequestSchema>;
export type PlanRequestKind = (typeof planRequestKinds)[number];
export type PlanStatus = (typeof planStatuses)[number];

export function hasEnded(status: PlanStatus): boolean {
  return status === "done" || status === "failed" || status === "cancelled";
}
