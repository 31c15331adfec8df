import { z } from "zod";
import {
  atLeastZero,
  dropletClassSchema,
  methodSchema,
  positive,
  productIdSchema,
  sensitiveKindSchema,
} from "./quantities.ts";

export const labelUseSchema = z
  .strictObject({
    crop: z.string().min(1).describe("as named in the fields"),
    rateMinPerHa: positive.describe("least rate, L or kg of product per hectare"),
    rateMaxPerHa: positive.describe("greatest rate, L or kg of product per hectare"),
    phiDays: z.number().int().min(0).max(365).describe("pre-harvest interval, whole days"),
    seasonMaxCount: z.number().int().positive().optional().describe("most applications in a season"),
    seasonMaxPerHa: positive.optional().describe("most product in a season, L or kg per hectare"),
    retreatmentDays: z.number().int().min(0).max(365).default(0).describe("least whole days between two applications"),
  })
  .describe("what the label allows on one crop");

export const bufferSchema = z.strictObject({
  kind: sensitiveKindSchema,
  distanceM: positive.max(5000).describe("least distance from the sensitive place, m"),
  downwindOnly: z
    .boolean()
    .default(false)
    .describe("true: kept only in hours when the wind blows towards the place; false: always kept"),
  downwindRule: z
    .enum(["stopsField", "sparesPart"])
    .default("stopsField")
    .describe("what such an hour stops: the whole field, or only the ground within the distance"),
  onlyFinerThan: dropletClassSchema
    .optional()
    .describe("the label asks for it only when the spray is finer than this class; left out: always"),
});

export const productSchema = z.strictObject({
  id: productIdSchema,
  name: z.string().min(1).describe("the name on the label"),
  registrationNumber: z.string().min(1).describe("the authority's number on the label"),
  restrictedUse: z
    .boolean()
    .optional()
    .describe("whether its use is restricted to certified applicators (US); left out: taken as restricted"),
  growthStageLimited: z
    .boolean()
    .optional()
    .describe(
      "true: the label allows it at certain growth stages only; plans do not look at that, records tell the stage",
    ),
  active: z.string().min(1).describe("active substances, by common name"),
  method: methodSchema,
  rateUnit: z
    .enum(["L", "kg"])
    .optional()
    .describe(
      "what its rates are in, per hectare; left out: L for a liquid, kg for granules; a powder to be mixed is kg",
    ),
  densityKgPerL: positive.max(5).default(1).describe("liquid density, or bulk density of granules"),
  licenceClass: z.string().min(1).describe("class of licence that the person flying it must hold"),
  uses: z.array(labelUseSchema).min(1).describe("crops on which the label allows it, each once"),
  reiHours: atLeastZero.max(24 * 60).describe("re-entry interval, hours from the end of the application"),
  rainfastHours: atLeastZero.max(72).default(0).describe("hours without rain needed after the application"),
  windMinKph: atLeastZero.max(60).default(0).describe("least wind that the label asks for"),
  windMaxKph: positive.max(60).describe("most wind that the label allows"),
  gustMaxKph: positive.max(90).optional().describe("strongest gust that the label allows"),
  deltaTMinC: z.number().min(0).max(30).optional().describe("least Delta T (dry bulb less wet bulb)"),
  deltaTMaxC: z.number().min(0).max(30).optional().describe("greatest Delta T"),
  temperatureMinC: z.number().min(-20).max(50).optional().describe("least air temperature"),
  temperatureMaxC: z.number().min(-20).max(50).optional().describe("greatest air temperature"),
  humidityMinPct: z.number().min(0).max(100).optional().describe("least relative humidity"),
  humidityMaxPct: z.number().min(0).max(100).optional().describe("greatest relative humidity"),
  releaseHeightMaxM: positive.max(50).optional().describe("greatest height above the crop at which it may be released"),
  dropletFinest: dropletClassSchema.optional().describe("finest droplet class that the label allows"),
  dropletCoarsest: dropletClassSchema.optional().describe("coarsest droplet class that the label allows"),
  carrierMinLPerHa: atLeastZero.default(0).describe("least carrier volume, L/ha"),
  buffers: z.array(bufferSchema).default([]).describe("distances that the label asks to be kept"),
  bloomRule: z
    .enum(["allowed", "outsideBeeHours", "forbidden"])
    .default("allowed")
    .describe("what holds while the crop is in bloom"),
  inversionRule: z
    .enum(["ignore", "notWhenLikely", "notWhenPossible"])
    .default("ignore")
    .describe("which level of inversion risk stops the work"),
  compatibilityGroup: z.string().min(1).default("any").describe("a change of group in the tank needs a clean-out"),
  cleanOutMin: atLeastZero.max(240).default(0).describe("minutes to clean the tank before another group goes in"),
  cleanOutL: atLeastZero.max(2000).default(0).describe("litres of water that this clean-out takes"),
});
export const productsSchema = z.array(productSchema).min(1);

export type LabelUse = z.infer<typeof labelUseSchema>;
export type Buffer = z.infer<typeof bufferSchema>;
export type Product = z.infer<typeof productSchema>;

export function rateUnitOf(product: Pick<Product, "method" | "rateUnit">): "L" | "kg" {
  return product.rateUnit ?? (product.method === "liquid" ? "L" : "kg");
}
