import { z } from "zod";
import {
  atLeastZero,
  baseIdSchema,
  fraction,
  latDegSchema,
  localDateSchema,
  localDateTimeSchema,
  lonDegSchema,
  positive,
  recordRules,
  waterPointIdSchema,
} from "./quantities.ts";

export const baseSchema = z.strictObject({
  id: baseIdSchema,
  name: z.string().min(1).describe("the name that people call it by"),
  latDeg: latDegSchema,
  lonDeg: lonDegSchema,
  mainsKw: atLeastZero.max(5000).describe("power for charging by night, kW"),
  fillLPerMin: positive.max(10000).default(200).describe("how fast a tender is filled with water here"),
});
export const waterPointSchema = z.strictObject({
  id: waterPointIdSchema,
  name: z.string().min(1).describe("the name that people call it by"),
  latDeg: latDegSchema,
  lonDeg: lonDegSchema,
  fillLPerMin: positive.max(10000).describe("how fast a tender is filled with water here"),
});

export const roadsSchema = z
  .strictObject({
    circuityFactor: z.number().min(1).max(5).default(1.3).describe("road km per straight km"),
    speedKph: positive.max(130).default(50).describe("mean speed of a tender on the road"),
  })
  .describe("used for every pair of places that roads.csv does not list");

export const costsSchema = z
  .strictObject({
    driveCentsPerKm: atLeastZero.describe("a kilometre of a tender on the road"),
    overtimeFactor: z.number().min(1).max(5).default(1.5).describe("wages of an overtime hour against a plain one"),
  })
  .describe("cost rates, in hundredths of the currency");

export const flyingDaySchema = z
  .strictObject({
    from: z
      .enum(["sunrise", "civilDawn"])
      .default("sunrise")
      .describe("sunrise, or civil dawn with the sun 6 degrees below the horizon"),
    fromOffsetMin: z.number().int().min(-180).max(180).default(0).describe("minutes after (negative: before)"),
    to: z
      .enum(["sunset", "civilDusk"])
      .default("sunset")
      .describe("sunset, or civil dusk with the sun 6 degrees below the horizon"),
    toOffsetMin: z.number().int().min(-180).max(180).default(0).describe("minutes after (negative: before)"),
  })
  .describe("the hours of a day in which flying is allowed without night work");

/** Our choice after ASABE S572.1 as older extension tables print it (MEMORY); EPA 2016 prints other figures. */
const defaultDropletLowerUm = { XF: 0, VF: 60, F: 106, M: 236, C: 341, VC: 404, XC: 503, UC: 666 };
export const dropletTableSchema = z
  .strictObject({
    source: z
      .string()
      .min(1)
      .default("ASABE S572.1 as printed in older extension tables")
      .describe("where the table is from; sources differ"),
    lowerUm: z
      .strictObject({
        XF: atLeastZero.describe("extremely fine"),
        VF: atLeastZero.describe("very fine"),
        F: atLeastZero.describe("fine"),
        M: atLeastZero.describe("medium"),
        C: atLeastZero.describe("coarse"),
        VC: atLeastZero.describe("very coarse"),
        XC: atLeastZero.describe("extremely coarse"),
        UC: atLeastZero.describe("ultra coarse"),
      })
      .default(defaultDropletLowerUm)
      .describe("least volume median diameter of each class, µm"),
  })
  .describe("where each droplet class begins");

/** Our choice: about how often a forecast of such an age holds; nothing rests on it but the weighing of risk. */
const defaultConfidence = [
  { untilLeadHours: 24, frac: 0.95 },
  { untilLeadHours: 48, frac: 0.9 },
  { untilLeadHours: 72, frac: 0.8 },
  { untilLeadHours: 120, frac: 0.65 },
  { untilLeadHours: 240, frac: 0.5 },
];
export const confidenceSchema = z
  .array(
    z.strictObject({
      untilLeadHours: positive.max(1000).describe("up to so many hours after the forecast was issued"),
      frac: fraction.describe("how far an hour of the forecast is trusted"),
    }),
  )
  .min(1)
  .default(defaultConfidence)
  .describe("trust in the forecast by its lead time, nearest first; beyond the last, the last holds");

export const limitsSchema = z
  .strictObject({
    flyingDay: flyingDaySchema.default(flyingDaySchema.parse({})),
    beeHours: z
      .strictObject({
        startAfterSunriseMin: z
          .number()
          .int()
          .min(-180)
          .max(600)
          .default(90)
          .describe("minutes from sunrise until bees fly"),
        endBeforeSunsetMin: z
          .number()
          .int()
          .min(-180)
          .max(600)
          .default(60)
          .describe("minutes before sunset at which they are home"),
      })
      .default({ startAfterSunriseMin: 90, endBeforeSunsetMin: 60 })
      .describe("hours in which bees are taken to forage"),
    inversionHours: z
      .strictObject({
        startBeforeSunsetMin: z.number().int().min(0).max(300).default(90).describe("minutes before sunset"),
        endAfterSunriseMin: z.number().int().min(0).max(300).default(60).describe("minutes after sunrise"),
      })
      .default({ startBeforeSunsetMin: 90, endAfterSunriseMin: 60 })
      .describe("hours about the night in which an inversion may lie over the field"),
    windAt: z
      .enum(["releaseHeight", "asMeasured"])
      .default("releaseHeight")
      .describe(
        "where limits of the mean wind hold: brought to the aircraft's release height, or as the forecast has it",
      ),
    windMaxKph: positive.max(90).optional().describe("the operation's own limit, beside label and aircraft"),
    gustMaxKph: positive.max(120).optional().describe("likewise for gusts"),
    rainMm: atLeastZero
      .default(0.1)
      .describe(
        "rain in an hour from which a step counts as rain, mm; a step longer than an hour counts by all its rain",
      ),
    rainProbabilityPct: z.number().min(0).max(100).default(50).describe("probability from which it counts as rain"),
    driftAngleDeg: z
      .number()
      .min(0)
      .max(180)
      .default(45)
      .describe("a place counts as downwind when it lies within this angle either side of the wind"),
    windVariableBelowKph: atLeastZero
      .max(20)
      .default(3)
      .describe(
        "a wind weaker than this has no direction to trust: every place in a downwind buffer counts as downwind",
      ),
    dropletTable: dropletTableSchema.default(dropletTableSchema.parse({})),
    confidence: confidenceSchema,
  })
  .describe("what the operation sets beside the labels");

export const fieldworkSchema = z
  .strictObject({
    headlandM: z
      .number()
      .min(0)
      .max(100)
      .default(0)
      .describe("strip along a field's outline that is flown in laps, so that passes need not run up to it; 0: none"),
  })
  .describe("how fields are flown");

export const planningSchema = z
  .strictObject({
    blockMaxMin: z.number().int().min(10).max(720).default(120).describe("work longer than this is cut into blocks"),
    lateCentsPerHaDay: atLeastZero.default(200).describe("cost of a day after the preferred date"),
    mandatoryFactor: z
      .number()
      .min(1)
      .max(1000)
      .default(20)
      .describe("value of a mandatory order against the highest price of any order"),
    highFactor: z.number().min(1).max(100).default(2).describe("value of a high order against its price"),
    lowFactor: fraction.default(0.5).describe("value of a low order against its price"),
    outfitChangeCents: atLeastZero.default(2000).describe("cost of a crew taking another outfit than the day before"),
    riskCentsPerHa: atLeastZero
      .default(0)
      .describe("cost of a hectare worked in hours that the forecast says nothing of; by its trust less, 0: no matter"),
    changeCrewDayCents: atLeastZero
      .default(3000)
      .describe("against a published plan: cost of a block that goes to another crew or day"),
    changeDroppedCents: atLeastZero
      .default(5000)
      .describe("against a published plan: cost of a block that is left out now"),
    changeStartCents: atLeastZero
      .default(1000)
      .describe("against a published plan: cost of a block of the same crew and day that begins at another time"),
    changeStartToleranceMin: z
      .number()
      .int()
      .min(0)
      .max(1440)
      .default(60)
      .describe("a block that begins up to so much earlier or later has not changed"),
    pauseMaxMin: z
      .number()
      .int()
      .min(0)
      .max(1440)
      .default(240)
      .describe("longest pause of a work, as from one window to the next; 0: work never pauses"),
    stretchMinMin: z.number().int().min(1).max(720).default(20).describe("shortest stretch of a work that pauses"),
    resumeMin: z
      .number()
      .int()
      .min(0)
      .max(120)
      .default(5)
      .describe("added to a work for starting up again after each pause; less than stretchMinMin"),
  })
  .describe("how the planner weighs things");

export const settingsSchema = z.strictObject({
  formatVersion: z.literal(1).describe("version of this format"),
  name: z.string().min(1).describe("name of the operation"),
  timeZone: z.string().min(1).describe("IANA time zone, as Australia/Adelaide"),
  firstDay: localDateSchema.describe("first day of the plan"),
  days: z.number().int().min(1).max(31).describe("days that the plan covers"),
  forecastIssued: localDateTimeSchema
    .optional()
    .describe("when the forecast was issued, local time; left out: when the first day begins"),
  planFrom: localDateTimeSchema
    .optional()
    .describe(
      "when the plan is made anew with its days begun, local time: nothing begins before but work that a lock says to begin then; left out: the first day is still to come",
    ),
  altitudeM: z.number().min(-430).max(5000).default(0).describe("height above the sea, for the air pressure"),
  currency: z
    .string()
    .regex(/^[A-Z]{3}$/, "an ISO 4217 currency code as EUR")
    .describe("ISO 4217 code, as EUR"),
  bases: z.array(baseSchema).min(1).describe("places where crews start and end their day"),
  waterPoints: z.array(waterPointSchema).default([]).describe("places where a tender can take water on its way"),
  roads: roadsSchema.default(roadsSchema.parse({})),
  costs: costsSchema,
  limits: limitsSchema.default(limitsSchema.parse({})),
  fieldwork: fieldworkSchema.default(fieldworkSchema.parse({})),
  planning: planningSchema.default(planningSchema.parse({})),
  recordRules: z
    .array(z.enum(recordRules))
    .optional()
    .describe("rules by which applications are recorded, of the United States or the European Union; left out: both"),
});

/** One row of roads.csv: driving from one place (base, water point or pad as field/pad) to another. */
export const roadSchema = z.strictObject({
  from: z.string().min(1).describe("a base id, a water point id, or fieldId/padId"),
  to: z.string().min(1).describe("likewise; the way back is a row of its own"),
  distanceKm: atLeastZero.max(2000).describe("length of the road"),
  durationMin: atLeastZero.max(2880).describe("driving time of a tender"),
});

export type Base = z.infer<typeof baseSchema>;
export type WaterPoint = z.infer<typeof waterPointSchema>;
export type Settings = z.infer<typeof settingsSchema>;
export type Limits = z.infer<typeof limitsSchema>;
export type Road = z.infer<typeof roadSchema>;
