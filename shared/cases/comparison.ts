import { z } from "zod";
import { conflictKinds } from "../plan/plan.ts";
import { moneySchema, runKeySchema, usedSchema } from "./runResult.ts";

/** What cases are held side by side by. */
export const measureNames = [
  "servedHa",
  "ordersDone",
  "ordersInTime",
  "roadKm",
  "dutyHours",
  "earnedCents",
  "costCents",
  "marginCents",
] as const;
export type MeasureName = (typeof measureNames)[number];

function ofEachMeasure<Value extends z.ZodType>(value: Value) {
  return z.record(z.enum(measureNames), value);
}

const intervalSchema = z
  .tuple([z.number(), z.number()])
  .nullable()
  .describe("where the true mean lies with 95 %; null of a single pair");

export const differenceSchema = z.object({
  pairs: z.number().int().describe("of runs with the same seed, or of sampled weeks"),
  mean: z.number().describe("this case less the base"),
  interval95: intervalSchema,
  isClear: z.boolean().describe("false: no clear difference"),
});

export const ownershipSchema = z.object({
  ownershipCentsPerYear: z
    .number()
    .describe("what it costs a year to own what the case buys; negative where it owns less"),
  priceCents: z.number().nullable().describe("what is paid at once; null where nothing says it"),
  extraMarginCentsPerYear: z.number(),
  interval95: intervalSchema.describe("of the extra margin a year"),
  gainCentsPerYear: z.number().describe("extra margin less ownership"),
  verdict: z.enum(["pays", "doesNotPay", "notClear"]),
  paybackYears: z
    .object({ simple: z.number(), discounted: z.number().nullable().describe("null: interest eats it up") })
    .nullable()
    .describe("null where there is no price, or no clear gain"),
});

export const quantilesSchema = z.object({
  q10: z.number(),
  q25: z.number(),
  q50: z.number(),
  q75: z.number(),
  q90: z.number(),
});

export const seasonOutcomeSchema = z.object({
  servedHa: quantilesSchema.describe("hectares of a week: in a tenth of the weeks at most q10, and so on"),
  allDoneFrac: z.number().describe("share of the weeks in which every order is done"),
  hoursSufficeFrac: z
    .number()
    .describe(
      "share of the weeks in which nothing is left out for want of hours: all is done that these crews, aircraft and this equipment may do at all by labels, dates and weather",
    ),
});

export const caseOutcomeSchema = z.object({
  id: z.string(),
  name: z.string(),
  changes: z.string().describe("in words"),
  runs: z.number().int().describe("that came to a good plan"),
  measures: ofEachMeasure(
    z.object({ mean: z.number(), deviation: z.number().nullable().describe("over all runs; null of one") }),
  )
    .nullable()
    .describe("means of a week; null where no run came to a plan"),
  money: moneySchema.nullable().describe("means of a week"),
  conflicts: z
    .array(z.object({ kind: z.enum(conflictKinds), orders: z.number(), areaHa: z.number() }))
    .describe("means of a week"),
  used: z.array(usedSchema).describe("means of a week"),
  season: seasonOutcomeSchema.nullable().describe("over sampled weeks; else null"),
  differences: ofEachMeasure(differenceSchema)
    .nullable()
    .describe("null of the base, and where no run can be held against one of the base"),
  changesNothing: z.boolean().describe("every run is the same as that of the base"),
  ownership: ownershipSchema.nullable(),
  sentence: z.string().describe("for the owner"),
});

export const curvePointSchema = z.object({
  count: z.number().int().describe("aircraft of the type at the base"),
  caseId: z.string(),
  marginCentsPerYear: z
    .number()
    .nullable()
    .describe("before what it costs to own them; null where no run came to a plan"),
  next: ownershipSchema
    .nullable()
    .describe("what this one more brings beside one fewer; null of the first, and where runs failed"),
  weeks: z
    .object({
      marginCentsPerYear: quantilesSchema.describe("were all weeks of a year like one of them"),
      nextCentsPerYear: quantilesSchema.nullable().describe("what this one more brings, likewise"),
      nextPaysFrac: z
        .number()
        .nullable()
        .describe("share of the weeks in which this one more brings more than its share of what it costs to own"),
    })
    .nullish()
    .describe("how much sampled weeks differ; null of a single week, left out in studies of earlier releases"),
});

export const curveOutcomeSchema = z.object({
  typeName: z.string(),
  baseName: z.string(),
  points: z.array(curvePointSchema),
  sentence: z.string().describe("where the next one no longer pays"),
});

export const comparisonSchema = z.object({
  formatVersion: z.literal(1),
  operationName: z.string(),
  currency: z.string(),
  weeksPerYear: z.number(),
  interestPct: z.number(),
  seeds: z.number().int(),
  weeks: z.number().int().nullable().describe("sampled weeks; null: the operation's own week"),
  calmHours: z
    .array(z.object({ month: z.string().describe("as 2027-06"), weeks: z.number().int(), hoursPerWeek: z.number() }))
    .describe(
      "by month of the sampled weeks, of the operation as it is: hours of the days of a week in which an order was open for some aircraft that there is, mean over orders",
    ),
  base: caseOutcomeSchema,
  cases: z.array(caseOutcomeSchema).describe("of the file"),
  curve: curveOutcomeSchema.nullable(),
  failed: z.array(z.object({ key: runKeySchema, message: z.string() })),
});

export type Difference = z.infer<typeof differenceSchema>;
export type Ownership = z.infer<typeof ownershipSchema>;
export type CurvePointOutcome = z.infer<typeof curvePointSchema>;
export type CurveOutcome = z.infer<typeof curveOutcomeSchema>;
export type Quantiles = z.infer<typeof quantilesSchema>;
export type SeasonOutcome = z.infer<typeof seasonOutcomeSchema>;
export type CaseOutcome = z.infer<typeof caseOutcomeSchema>;
export type Comparison = z.infer<typeof comparisonSchema>;
