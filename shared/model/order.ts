import { z } from "zod";
import { multiPolygonSchema } from "./field.ts";
import {
  atLeastZero,
  dropletClassSchema,
  fieldIdSchema,
  localDateSchema,
  localDateTimeSchema,
  orderIdSchema,
  positive,
  productIdSchema,
} from "./quantities.ts";

export const orderProductSchema = z.strictObject({
  productId: productIdSchema.describe("the product to be applied"),
  ratePerHa: positive.describe("in the product's own unit, L or kg, per hectare"),
});

/** What goes out, and in how much spray. */
const mixShape = {
  products: z
    .array(orderProductSchema)
    .min(1)
    .describe("in a table: product:rate, several parted by a semicolon; a spray mix must leave room for water"),
  carrierLPerHa: atLeastZero
    .optional()
    .describe("spray volume in all, L/ha; left empty for granules, whose kg/ha are the sum of the rates"),
};
export const orderMixSchema = z.strictObject(mixShape);

export const orderSchema = z.strictObject({
  id: orderIdSchema,
  fieldId: fieldIdSchema.describe("the field to be treated"),
  ...mixShape,
  earliest: localDateTimeSchema.describe("work may not begin before, local time as 2027-06-07T05:30"),
  latest: localDateTimeSchema.describe("work must have ended by, local time as 2027-06-07T05:30"),
  preferredDate: localDateSchema.optional().describe("lateness counts from the end of this day"),
  priority: z
    .enum(["low", "normal", "high", "mandatory"])
    .default("normal")
    .describe(
      "what it is worth to serve it; mandatory counts at the highest price of any order, times mandatoryFactor",
    ),
  priceCentsPerHa: atLeastZero.describe("what the grower pays, cents per hectare"),
  dropletClass: dropletClassSchema
    .optional()
    .describe("the class to be sprayed; left empty: any that the labels allow"),
  headingDeg: z
    .number()
    .min(0)
    .max(360)
    .optional()
    .describe("direction in which passes must run for this order, degrees from north; left empty: the field's own"),
  waitAfterRainMm: positive
    .max(500)
    .optional()
    .describe("rain that leaves canopy or ground too wet, mm; given together with waitAfterRainHours"),
  waitAfterRainHours: positive.max(240).optional().describe("how far back rain counts, and so how long to wait, hours"),
  apartFrom: z
    .array(
      z.strictObject({
        orderId: orderIdSchema.describe("another order on the same field"),
        hours: positive.max(24 * 60).describe("least hours between the end of one and the start of the other"),
      }),
    )
    .default([])
    .describe(
      "waiting time to other orders, whichever comes first; in a table: order:hours, several parted by a semicolon",
    ),
  maySplit: z.boolean().default(true).describe("may be cut into blocks done by different outfits or days"),
  notes: z.string().default("").describe("for the crew"),
  alternatives: z
    .array(orderMixSchema)
    .optional()
    .describe(
      "what may be applied instead where it helps, never both; in a table: product:rate; product:rate @ L/ha, several parted by a vertical bar",
    ),
  ground: multiPolygonSchema
    .optional()
    .describe(
      "the part of the field that is to be treated; left out: all of it; in a table: well-known text (OGC 06-103r4) as MULTIPOLYGON (((138.5 -34.1, ...)))",
    ),
});
export const ordersSchema = z.array(orderSchema);

export type OrderProduct = z.infer<typeof orderProductSchema>;
export type OrderMix = z.infer<typeof orderMixSchema>;
export type Order = z.infer<typeof orderSchema>;
