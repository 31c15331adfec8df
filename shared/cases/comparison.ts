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
  differences: ofEachMeasure(differenceSchema)
    .nullable()
    .describe("null of the base, and where no run can be held against one of the base"),
  changesNothing: z.boolean().describe("every run is the same as that of the base"),
  ownership: ownershipSchema.nullable(),
  sentence: z.string().describe("for the owner"),
});

export const comparisonSchema = z.object({
  formatVersion: z.literal(1),
  operationName: z.string(),
  currency: z.string(),
  weeksPerYear: z.number(),
  interestPct: z.number(),
  seeds: z.number().int(),
  weeks: z.number().int().nullable().describe("sampled weeks; null: the operation's own week"),
  base: caseOutcomeSchema,
  cases: z.array(caseOutcomeSchema),
  failed: z.array(z.object({ key: runKeySchema, message: z.string() })),
});

export type Difference = z.infer<typeof differenceSchema>;
export type Ownership = z.infer<typeof ownershipSchema>;
export type CaseOutcome = z.infer<typeof caseOutcomeSchema>;
export type Comparison = z.infer<typeof comparisonSchema>;
