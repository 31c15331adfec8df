import { z } from "zod";
import { atLeastZero, crewIdSchema, localDateSchema, positive, productIdSchema } from "../model/quantities.ts";
import { blockIdSchema } from "../plan/plan.ts";

export const stopReasons = [
  "wind",
  "rain",
  "inversion",
  "people",
  "aircraft",
  "tender",
  "product",
  "water",
  "daylight",
  "duty",
  "grower",
  "other",
] as const;

const words = z.string().max(2000);
/** A wrong clock may say anything that a calendar can; it is kept. */
const earliestMs = 0;
const latestMs = Date.UTC(2200, 0, 1);
const instantSchema = z.iso
  .datetime({ offset: true })
  .refine((text) => Date.parse(text) >= earliestMs && Date.parse(text) < latestMs, "an instant from 1970 to 2199")
  .transform((text) => new Date(text).toISOString())
  .describe("ISO 8601, in UTC or with an offset");

/** What any report has. */
const head = {
  id: z.uuid().toLowerCase().describe("given by the phone; the same report sent again has the same"),
  publication: z.number().int().positive().max(2_147_483_647).describe("number of the plan that the phone had"),
  at: instantSchema.describe("when it happened, by the phone's clock"),
};
const ofStop = { ...head, blockId: blockIdSchema };
const doneHa = atLeastZero
  .max(100_000)
  .describe("hectares of the block done so far in all, whoever did them and on whatever day");
const used = z
  .array(z.strictObject({ productId: productIdSchema, amount: positive.max(1_000_000) }))
  .max(50)
  .optional()
  .describe("what was used of each product in this crew-day, L or kg; left out: rate times hectares");

/** What was measured on site. */
export const airMeasuredSchema = z.strictObject({
  windKph: atLeastZero.max(200).describe("mean"),
  gustKph: atLeastZero.max(300).optional(),
  windFromDeg: z.number().min(0).max(360).optional().describe("where the wind comes from, degrees from north"),
  temperatureC: z.number().min(-40).max(60).optional(),
  humidityPct: z.number().min(0).max(100).optional(),
  heightM: positive.max(100).optional().describe("height above ground at which the wind was measured"),
  where: words.default("").describe("where it was measured"),
});

/** What a crew tells of its work, as its phone sends it. */
export const workReportSchema = z.discriminatedUnion("kind", [
  z.strictObject({ kind: z.literal("arrived"), ...ofStop }),
  z.strictObject({ kind: z.literal("started"), ...ofStop }),
  z.strictObject({ kind: z.literal("loadDone"), ...ofStop }),
  z.strictObject({
    kind: z.literal("stopped"),
    ...ofStop,
    reason: z.enum(stopReasons).describe("people: somebody in the area"),
    words: words.default("").describe("for the dispatcher"),
    doneHa,
    used,
  }),
  z.strictObject({ kind: z.literal("goesOn"), ...ofStop }),
  z.strictObject({ kind: z.literal("finished"), ...ofStop, doneHa, used }),
  z.strictObject({ kind: z.literal("conditions"), ...ofStop, air: airMeasuredSchema }),
  z.strictObject({
    kind: z.literal("correction"),
    ...head,
    withdraws: z.uuid().toLowerCase().describe("id of a report of the same crew that does not hold"),
    words: words.default("").describe("why"),
  }),
]);

/** A report as it is kept. */
export const keptReportSchema = z.object({
  report: workReportSchema,
  planId: z.uuid().describe("the plan that the phone had"),
  crewId: crewIdSchema,
  date: localDateSchema.describe("local date of the crew-day"),
  ground: z.string().nullable().describe("names the block's ground, so that it is known again in another plan"),
  receivedAt: z.iso.datetime(),
  byName: z.string().min(1).describe("who has sent it"),
});

export type StopReason = (typeof stopReasons)[number];
export type AirMeasured = z.infer<typeof airMeasuredSchema>;
export type WorkReport = z.infer<typeof workReportSchema>;
export type KeptReport = z.infer<typeof keptReportSchema>;
