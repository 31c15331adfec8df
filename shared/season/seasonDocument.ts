import { z } from "zod";
import { localDateSchema, positive } from "../model/quantities.ts";

export const demandSpanSchema = z.strictObject({
  from: localDateSchema.describe("first day of the span, as 2027-04-01"),
  to: localDateSchema.describe("its last day, included; spans do not overlap, days between them bring no orders"),
  ordersPerWeek: positive
    .max(5000)
    .optional()
    .describe("orders expected in seven days; this or areaHaPerWeek is given, not both"),
  areaHaPerWeek: positive
    .max(1_000_000)
    .optional()
    .describe("hectares expected in seven days, by the areas of the fields; so many orders as bring them on average"),
});

export const seasonDocumentSchema = z.strictObject({
  formatVersion: z.literal(1).describe("version of this format"),
  name: z.string().min(1).describe("the name that people call the season by"),
  demand: z
    .array(demandSpanSchema)
    .min(1)
    .describe("months or other spans of days, in order, with the work that they are expected to bring"),
  mandatory: z
    .enum(["drawn", "always", "never"])
    .default("drawn")
    .describe(
      "orders that must be done: drawn like any other, in every week (they count among those expected), or in none",
    ),
  weather: z
    .strictObject({
      meanRunDays: z
        .number()
        .min(1)
        .max(60)
        .default(3)
        .describe("mean length of the runs of days that are taken from the history as they followed each other"),
      windowDays: z
        .number()
        .int()
        .min(0)
        .max(182)
        .default(15)
        .describe("a day is drawn from so many calendar days before to so many after its date, of any year"),
    })
    .default({ meanRunDays: 3, windowDays: 15 })
    .describe("how weather is drawn from the history"),
});

export type DemandSpan = z.infer<typeof demandSpanSchema>;
/** What a season is expected to bring, beside the operation whose orders are drawn. */
export type SeasonDocument = z.infer<typeof seasonDocumentSchema>;
