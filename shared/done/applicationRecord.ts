import { z } from "zod";
import { multiPolygonSchema } from "../model/field.ts";
import {
  aircraftIdSchema,
  atLeastZero,
  crewIdSchema,
  eppoCodeSchema,
  fieldIdSchema,
  growthStageSchema,
  localDateSchema,
  methodSchema,
  orderIdSchema,
  personIdSchema,
  positive,
  productIdSchema,
  recordRules,
} from "../model/quantities.ts";
import { blockIdSchema } from "../plan/plan.ts";
import { airMeasuredSchema } from "./workReport.ts";

const text = z.string().min(1).max(500);
const hectares = atLeastZero.max(100_000);
const instant = z.iso.datetime();

export const recordedProductSchema = z.object({
  productId: productIdSchema,
  name: z.string().min(1),
  registrationNumber: z.string().min(1).nullable(),
  amount: atLeastZero.describe("in all, in the unit"),
  unit: z.enum(["L", "kg"]),
  ratePerHa: atLeastZero.nullable().describe("of the ground treated; null where that is nothing"),
  amountFrom: z.enum(["report", "order", "person"]).describe("order: its rate times the hectares treated"),
  ordered: z.boolean(),
  restrictedUse: z.boolean(),
  growthStageLimited: z.boolean(),
  labelRates: z
    .object({ leastPerHa: positive, mostPerHa: positive })
    .nullable()
    .describe("what the label allows on the crop; null where it does not name it"),
});

export const measuredSchema = z.object({
  at: instant,
  air: airMeasuredSchema,
  limits: z
    .array(
      z.object({
        measure: z.enum(["wind", "gust", "Delta T", "temperature", "humidity"]),
        measured: z.number(),
        bound: z.enum(["least", "most"]),
        allowed: z.number(),
        unit: z.enum(["km/h", "°C", "%"]),
        setBy: z.string().min(1).describe("label, aircraft or operation, whichever is strictest"),
        holds: z.boolean(),
      }),
    )
    .describe("what was measured beside what is allowed"),
});

export const applicatorSchema = z.object({
  name: z.string().min(1),
  certificationNumber: z.string().min(1).nullable(),
});

/** What reports, plan and operation say of an application: one block, or what was done of it, by one crew on one day. */
export const applicationFactsSchema = z.object({
  planId: z.uuid(),
  timeZone: z.string(),
  recordRules: z.array(z.enum(recordRules)).describe("by which it is recorded"),
  state: z.enum(["finished", "stopped", "withdrawn"]).describe("withdrawn: its crew has taken the reports back"),
  orderId: orderIdSchema,
  blockId: blockIdSchema,
  crewId: crewIdSchema,
  crewName: z.string(),
  date: localDateSchema.describe("local date of the crew-day"),
  fieldId: fieldIdSchema,
  fieldName: z.string(),
  grower: z.string(),
  growerAddress: z.string().nullable(),
  landId: z.string().nullable(),
  crop: z.string(),
  eppoCode: eppoCodeSchema.nullable(),
  growthStage: growthStageSchema.nullable(),
  method: methodSchema,
  geometry: multiPolygonSchema.describe("the ground of the whole block"),
  blockHa: positive,
  treatedHa: atLeastZero.describe("by this crew on this day"),
  again: z.boolean().describe("another crew-day had reported the same ground as finished before"),
  startedAt: instant.nullable(),
  endedAt: instant.nullable(),
  clockDoubtful: z.boolean().describe("the clock of the phone that has told the times was wrong"),
  products: z.array(recordedProductSchema),
  carrierLPerHa: atLeastZero.nullable().describe("spray volume as ordered"),
  aircraft: z.array(z.object({ id: aircraftIdSchema, type: z.string() })),
  applicators: z.array(applicatorSchema).describe("none where it could have been one of several"),
  qualified: z
    .array(applicatorSchema.extend({ personId: personIdSchema }))
    .describe("those of the crew who may have flown it"),
  measured: z.array(measuredSchema).describe("conditions measured on site, in order of time"),
});

/** What a person adds or puts right. It stands whatever is reported later. */
export const byHandSchema = z.strictObject({
  treatedHa: hectares.optional(),
  startedAt: instant.optional(),
  endedAt: instant.optional(),
  products: z
    .array(
      z.strictObject({
        productId: productIdSchema,
        amount: atLeastZero.max(1_000_000).optional().describe("in all, in the product's own unit"),
        name: text.optional(),
        registrationNumber: text.optional(),
      }),
    )
    .max(50)
    .optional()
    .describe("of products of the record"),
  grower: text.optional(),
  growerAddress: text.optional(),
  landId: text.optional(),
  crop: text.optional(),
  eppoCode: eppoCodeSchema.optional(),
  growthStage: growthStageSchema.optional(),
  applicators: z
    .array(z.strictObject({ name: text, certificationNumber: text.optional() }))
    .min(1)
    .max(20)
    .optional()
    .describe("certified applicators who made or supervised it"),
  helpers: z.array(text).max(20).optional().describe("others who made it under their supervision"),
  spotApplication: text
    .optional()
    .describe("where, in words, if it was a spot application of less than a tenth of an acre"),
  notes: z.string().max(5000).optional(),
});

export type ApplicationFacts = z.infer<typeof applicationFactsSchema>;
export type RecordedProduct = z.infer<typeof recordedProductSchema>;
export type Measured = z.infer<typeof measuredSchema>;
export type ByHand = z.infer<typeof byHandSchema>;
