import { z } from "zod";
import type { Operation } from "../model/operation.ts";
import { crewIdSchema, localDateSchema, orderIdSchema } from "../model/quantities.ts";
import { blockIdSchema, type Plan } from "../plan/plan.ts";
import type { StopProgress } from "../plan/stopProgress.ts";
import type { ChangeCost } from "./changeCost.ts";

/** A plan that crews have been told of, what it was made of, and how far they have come with it. */
export interface Told {
  readonly plan: Plan;
  readonly operation: Operation;
  readonly progress: readonly StopProgress[];
}

export interface ReplanAsk {
  /** As it is known now. */
  readonly operation: Operation;
  /** All that crews have been told, the first first; the last is what they go by now. */
  readonly told: readonly [...Told[], Told];
  /** Local time: the plan is made for what comes after. */
  readonly asOf: string;
  /** Local date: published crew-days up to it stay as they stand, as far as they hold. */
  readonly keepUntil?: string | undefined;
  /** Left out: the usual. */
  readonly changeCost?: ChangeCost | undefined;
}

/** What the dispatcher should know of how the operation to be planned again was made. */
export const replanRemarkSchema = z.object({
  sentence: z.string().min(1).describe("for people"),
  orderId: orderIdSchema.optional(),
  crewId: crewIdSchema.optional(),
  date: localDateSchema.optional(),
});

/** What has become of a stop of the published plan by then. */
export const fates = ["done", "underWay", "doneInPart", "missed", "toCome"] as const;

export const stopFateSchema = z.object({
  blockId: blockIdSchema,
  fate: z.enum(fates).describe("missed: it should have begun, and nobody has reported that it did"),
  isLocked: z.boolean().describe("whether it stands in the plan that is to be made, at its time"),
});

export type ReplanRemark = z.infer<typeof replanRemarkSchema>;
export type Fate = (typeof fates)[number];
export type StopFate = z.infer<typeof stopFateSchema>;

export interface Replanned {
  /** What is to be planned again. */
  readonly operation: Operation;
  /** Of every stop of the plan that crews go by now. */
  readonly fates: readonly StopFate[];
  readonly remarks: readonly ReplanRemark[];
}
