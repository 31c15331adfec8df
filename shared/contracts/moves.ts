import { z } from "zod";
import { crewIdSchema, localDateSchema, localDateTimeSchema } from "../model/quantities.ts";
import { blockIdSchema, scoreSchema } from "../plan/plan.ts";
import { scorePartNames } from "../plan/scoreParts.ts";
import { breachSchema, planSummarySchema } from "./plans.ts";

/** One change of a plan by hand. */
export const moveSchema = z.strictObject({
  blockId: blockIdSchema.describe("the block, whether it is planned or not"),
  to: z
    .strictObject({
      crewId: crewIdSchema,
      date: localDateSchema.describe("local date of the shift"),
      after: blockIdSchema
        .nullable()
        .optional()
        .describe("the stop of that day that it comes after; null: it is the first; left out: where it costs least"),
      startAt: localDateTimeSchema.optional().describe("its work begins at this minute, as 2027-06-07T05:30"),
    })
    .nullable()
    .describe("null: it is taken out of the plan"),
});

export const mostMoves = 50;

export const moveBodySchema = z.strictObject({
  moves: z
    .array(moveSchema)
    .min(1)
    .max(mostMoves)
    .refine((moves) => new Set(moves.map(({ blockId }) => blockId)).size === moves.length, {
      message: "each block once",
    })
    .describe("made one after the other"),
  keep: z.boolean().default(false).describe("whether the plan that comes of it is kept, as a draft of its own"),
});

const planTotalsSchema = scoreSchema.pick({
  totalCents: true,
  servedHa: true,
  orderedHa: true,
  roadKm: true,
  dutyMin: true,
});

export const moveAnswerSchema = z.object({
  allowed: z.boolean().describe("all of it goes, and the checker finds nothing wrong with the plan"),
  why: z.array(z.string().min(1)).describe("why not, for people; empty when it is allowed"),
  breaches: z.array(breachSchema).describe("what the checker found, where the moves go by the planner's rules"),
  leftOut: z
    .array(z.object({ blockId: blockIdSchema, crewId: crewIdSchema, date: localDateSchema, sentence: z.string() }))
    .describe("stops of the touched days that no longer fit and are not planned any more"),
  before: planTotalsSchema,
  after: planTotalsSchema.nullable().describe("null where there is no such plan"),
  costCents: z.number().nullable().describe("what the plan costs more than before; below zero: it saves"),
  parts: z
    .array(z.object({ part: z.enum(scorePartNames), words: z.string(), cents: z.number() }))
    .describe("the parts of the cost that change, each as after less before"),
  crewDays: z
    .array(
      z.object({
        crewId: crewIdSchema,
        date: localDateSchema,
        crewDay: z.looseObject({}).nullable().describe("as in the week; null: the crew no longer goes out"),
      }),
    )
    .describe("the days that are otherwise than before"),
  plan: planSummarySchema.nullable().describe("the draft that was kept"),
});

export type Move = z.infer<typeof moveSchema>;
export type MoveAnswer = z.infer<typeof moveAnswerSchema>;
/** Without what only the store knows. */
export type MoveJudgement = Omit<MoveAnswer, "plan">;
