import { z } from "zod";
import { chargerSchema } from "../model/fleet.ts";
import {
  aircraftTypeIdSchema,
  atLeastZero,
  baseIdSchema,
  crewIdSchema,
  positive,
  tenderIdSchema,
} from "../model/quantities.ts";
import { changesSchema } from "./change.ts";

/** The case that nothing is changed in; every other is held against it. */
export const baseCaseId = "base";
/** Our choice, by trial: a dozen cases of the demo with three seeds then take about a minute on two threads. */
export const defaultIterations = 3000;
export const defaultSeeds = 3;

const caseIdWords = "an id of letters, digits, dot, dash or underscore, at most 64 long";
export const caseIdSchema = z
  .string()
  .regex(/^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$/, caseIdWords)
  .describe(caseIdWords);

/** Our choice, far above any fleet: figures with more digits are slips, and no table holds them. */
const priceSchema = atLeastZero.max(1e12);

/** One thing that a case buys, or pays for every year. */
export const buySchema = z
  .strictObject({
    what: z.string().min(1).describe("what it is, for people"),
    priceCents: priceSchema.optional().describe("what it costs; given together with years"),
    years: positive.max(100).optional().describe("how long it is kept"),
    salvageCents: priceSchema
      .optional()
      .describe("what it still brings when it is sold after those years; left out: 0"),
    perYearCents: priceSchema.optional().describe("in place of a price: what it costs a year, as hire or a retainer"),
  })
  .refine(
    ({ priceCents, years, perYearCents }) =>
      perYearCents === undefined
        ? priceCents !== undefined && years !== undefined
        : priceCents === undefined && years === undefined,
    "either priceCents with years, or perYearCents",
  )
  .refine(({ priceCents, salvageCents = 0 }) => salvageCents <= (priceCents ?? 0), {
    path: ["salvageCents"],
    message: "no more than priceCents, and none beside perYearCents",
  });

const buysSchema = z
  .array(buySchema)
  .optional()
  .describe(
    "what it costs to own; left out: ownershipCentsPerYear of the types of aircraft that the case has more of, less that of those taken away",
  );

export const caseSchema = z.strictObject({
  id: caseIdSchema,
  name: z.string().min(1).max(80).describe("what people call it"),
  changes: changesSchema.min(1).describe("changes to the operation, made one after the other"),
  buys: buysSchema,
});

export const curveSchema = z.strictObject({
  typeId: aircraftTypeIdSchema.describe("the type of aircraft"),
  baseId: baseIdSchema.describe("where they stand"),
  fewer: z.number().int().min(0).max(20).default(0).describe("the curve begins with so many fewer than there are"),
  upTo: z.number().int().min(1).max(20).describe("and ends with so many more"),
  batterySets: z.number().int().min(0).max(500).default(0).describe("battery sets that come with each one more"),
  crewLike: crewIdSchema.optional().describe("with each one more comes a crew like this one, at that base"),
  tenderLike: tenderIdSchema.optional().describe("and a tender like this one, at that base"),
  charger: z
    .strictObject({ bays: chargerSchema.shape.bays, kw: chargerSchema.shape.kw })
    .optional()
    .describe("and a charger"),
  buys: z
    .array(buySchema)
    .optional()
    .describe("what each one costs to own, with all that comes with it; left out: the type's ownershipCentsPerYear"),
});

export const casesFileSchema = z.strictObject({
  formatVersion: z.literal(1).describe("version of this format"),
  cases: z.array(caseSchema).default([]).describe("each is held against the operation as it is"),
  curve: curveSchema.optional().describe("margin against the number of aircraft of one type"),
  budget: z
    .strictObject({
      iterations: z
        .number()
        .int()
        .min(1)
        .max(100_000_000)
        .optional()
        .describe("iterations of each search; the same file then gives the same table"),
      seconds: positive.max(3600).optional().describe("in place of iterations: how long each search takes, s"),
    })
    .refine(
      ({ iterations, seconds }) => (iterations === undefined) !== (seconds === undefined),
      "either iterations or seconds",
    )
    .default({ iterations: defaultIterations })
    .describe("how long each plan is searched for, the same for every case"),
  seeds: z
    .number()
    .int()
    .min(1)
    .max(100)
    .default(defaultSeeds)
    .describe("every case is planned with so many seeds: what differs from seed to seed is chance"),
  season: z
    .strictObject({
      file: z.string().min(1).describe("the season's document, as season.json"),
      history: z.string().min(1).describe("its history of weather, as history.csv"),
    })
    .optional()
    .describe("files beside this one, from which weeks are sampled when they are asked for (see season.md)"),
  weeksPerYear: positive.max(53).describe("weeks of a year that are like this one, or like those of the season"),
  interestPct: z.number().min(0).max(100).describe("interest of a year on what is bought, %"),
});

export type Buy = z.infer<typeof buySchema>;
export type Case = z.infer<typeof caseSchema>;
export type Curve = z.infer<typeof curveSchema>;
export type CasesFile = z.infer<typeof casesFileSchema>;
