import { z } from "zod";
import { localDateSchema, localDateTimeSchema } from "../model/quantities.ts";
import { replanRemarkSchema, stopFateSchema } from "../replan/ask.ts";
import { changeCosts } from "../replan/changeCost.ts";
import { planDifferenceSchema } from "../replan/difference.ts";
import { planBodySchema, planKeySchema } from "./planRequests.ts";

export const replanBodySchema = z
  .strictObject({
    ...planBodySchema.shape,
    asOf: localDateTimeSchema
      .optional()
      .describe(
        "the plan is made for what comes after, local time as 2027-06-09T10:30; left out: now, or the first or last minute of the operation's days",
      ),
    keepUntil: localDateSchema
      .optional()
      .describe("crew-days up to this one stay as they stand, as far as they hold; left out: none has to"),
    changeCost: z
      .enum(changeCosts)
      .default("usual")
      .describe("high: what crews know changes only where that is worth five times its usual cost"),
    fromPlanId: planKeySchema.optional().describe("the plan to stay near; left out: the one that crews go by"),
  })
  .refine((body) => body.seconds === undefined || body.iterations === undefined, {
    message: "either seconds or iterations",
  });

/** What was known when the plan was asked for. */
export const replanFactsSchema = z.object({
  asOf: localDateTimeSchema,
  keepUntil: localDateSchema.nullable(),
  changeCost: z.enum(changeCosts).default("usual").describe("usual where it was asked for before there was a choice"),
  fates: z.array(stopFateSchema),
  remarks: z.array(replanRemarkSchema),
});

export const differenceAnswerSchema = planDifferenceSchema.extend({
  planId: planKeySchema,
  beforePlanId: planKeySchema,
  remarks: z.array(replanRemarkSchema).describe("of a plan made again: what to know of how its operation was made"),
});

export type ReplanFacts = z.infer<typeof replanFactsSchema>;
export type DifferenceAnswer = z.infer<typeof differenceAnswerSchema>;
