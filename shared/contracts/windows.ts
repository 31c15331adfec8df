import { z } from "zod";
import { inversionLevels } from "../agronomy/inversion.ts";
import { limitNames, minuteLimits } from "../agronomy/limits.ts";
import {
  aircraftTypeIdSchema,
  atLeastZero,
  fraction,
  localDateTimeSchema,
  orderIdSchema,
} from "../model/quantities.ts";

export const judgementSchema = z.object({
  limit: z.enum(limitNames),
  actual: z.union([z.number(), z.string()]),
  allowed: z.union([z.number(), z.string()]),
  unit: z.string(),
  sentence: z.string().min(1).describe("for people"),
});

const isoSchema = z.iso.datetime({ offset: true });
const spanSchema = z.object({
  startMin: z.number().int().describe("minutes since local midnight of the operation's first day"),
  endMin: z.number().int(),
  start: isoSchema,
  end: isoSchema,
});

/** The whole treated area, or the ground near to places that some hours' wind blows towards and the rest. */
const partSchema = z.enum(["whole", "near", "rest"]);

export const windowsQuerySchema = z.strictObject({
  type: aircraftTypeIdSchema.describe("id of the aircraft type"),
  night: z.enum(["yes", "no"]).default("no").describe("whether the crew may work at night"),
  part: partSchema
    .optional()
    .describe(
      "which of the order's parts: near or rest of one that is parted, whole of one that is not; left out: near or whole",
    ),
  at: localDateTimeSchema
    .optional()
    .describe("a local time that the clocks show on a day of the plan, as 2027-06-15T09:00, to be answered for"),
});

const clashSchema = z
  .object({
    flyableMin: atLeastZero.describe("minutes within the order's dates and the flying day"),
    leftByBloomMin: atLeastZero.describe("what bloom alone would leave of them"),
    leftByInversionMin: atLeastZero.describe("what inversion alone would leave"),
    bloom: judgementSchema,
    inversion: judgementSchema,
    sentence: z.string().min(1).describe("for people"),
  })
  .describe("bloom and inversion that only together leave no minute");

const minuteAnswerSchema = z.object({
  at: isoSchema,
  min: z.number().int(),
  open: z.boolean(),
  judgements: z.array(judgementSchema).describe("what stops the minute"),
  sentence: z.string().min(1).describe("whether it is open, why not, and when instead"),
});
export type MinuteAnswer = z.infer<typeof minuteAnswerSchema>;

export const orderWindowsSchema = z.object({
  orderId: orderIdSchema,
  aircraftTypeId: aircraftTypeIdSchema,
  night: z.enum(["yes", "no"]),
  parts: z
    .array(z.object({ part: partSchema, areaHa: atLeastZero }))
    .describe("the treated area by parts with windows of their own; none when buffers leave nothing"),
  part: partSchema.describe("which of the parts the answer is for; whole when there is none"),
  answer: minuteAnswerSchema.nullable().describe("for the time asked about; null when none was"),
  alsoAt: minuteAnswerSchema
    .nullable()
    .describe("the same for the second time that the clocks show it, where they show it twice; null where they do not"),
  clash: clashSchema.nullable(),
  limits: z.array(judgementSchema).describe("what stops the order at every minute"),
  windows: z.array(spanSchema).describe("when it may be worked; none when a limit stops it at every minute"),
  lostMin: z
    .partialRecord(z.enum(minuteLimits), z.number().int().min(0))
    .describe("minutes of the plan's days that each limit of single minutes stops"),
  hours: z
    .array(
      spanSchema.extend({
        openMin: z.number().int().min(0).max(60),
        judgements: z
          .array(judgementSchema)
          .describe("each limit that stops some minute of the hour, as it stands where it is worst"),
        inversionRisk: z.enum(inversionLevels).describe("the gravest in the hour, whatever the labels make of it"),
        confidenceFrac: fraction.describe("how far the forecast is trusted"),
      }),
    )
    .describe(
      "the horizon cut every 60 minutes from each local midnight; an hour before a midnight may be shorter where the clocks change",
    ),
  caution: z.string().min(1),
});
export type OrderWindows = z.infer<typeof orderWindowsSchema>;
