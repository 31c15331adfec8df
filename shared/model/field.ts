import { z } from "zod";
import {
  atLeastZero,
  eppoCodeSchema,
  fieldIdSchema,
  growthStageSchema,
  hazardKindSchema,
  latDegSchema,
  localDateSchema,
  localDateTimeSchema,
  lonDegSchema,
  orderIdSchema,
  padIdSchema,
  positive,
  productIdSchema,
  sensitiveIdSchema,
  sensitiveKindSchema,
} from "./quantities.ts";

const latitudeWords = "a latitude from -90 to 90; a position is [longitude, latitude], longitude first";
/** RFC 7946 position: longitude first, then latitude; a third number (height) is taken and ignored. */
export const positionSchema = z
  .tuple([lonDegSchema, z.number().min(-90, latitudeWords).max(90, latitudeWords)])
  .rest(z.number())
  .describe("[longitude, latitude], degrees, WGS 84");
export const ringSchema = z.array(positionSchema).min(4).describe("a closed ring: first and last position are equal");

export const polygonSchema = z
  .object({ type: z.literal("Polygon"), coordinates: z.array(ringSchema).min(1) })
  .describe("outer ring, then holes (obstacles)");
export const multiPolygonSchema = z
  .object({
    type: z.literal("MultiPolygon"),
    coordinates: z.array(z.array(ringSchema).min(1)).min(1),
  })
  .describe("several polygons, each as above, that do not overlap");
export const areaGeometrySchema = z.discriminatedUnion("type", [polygonSchema, multiPolygonSchema]);

export const sensitiveGeometrySchema = z.discriminatedUnion("type", [
  z.object({ type: z.literal("Point"), coordinates: positionSchema }),
  z.object({ type: z.literal("LineString"), coordinates: z.array(positionSchema).min(2) }),
  polygonSchema,
  multiPolygonSchema,
]);

export const padSchema = z.strictObject({
  id: padIdSchema.describe("unique within its field"),
  latDeg: latDegSchema,
  lonDeg: lonDegSchema,
});

/** Our choice: nothing that stands on a farm is higher, and a slip of the hand soon is. */
const highestM = 1000;
/** Our choice: a note is read at a glance on a phone beside the field. */
const longestNote = 200;

export const hazardSchema = z.strictObject({
  kind: hazardKindSchema,
  geometry: z
    .discriminatedUnion("type", [
      z.object({ type: z.literal("Point"), coordinates: positionSchema }).describe("one place"),
      z
        .object({ type: z.literal("LineString"), coordinates: z.array(positionSchema).min(2) })
        .describe("a line from place to place, such as a wire from pole to pole"),
    ])
    .describe("where it stands or runs, within 2 km of the field"),
  heightM: positive.max(highestM).optional().describe("its top above the ground, m; left out: not known"),
  note: z.string().min(1).max(longestNote).optional().describe("for people, at most 200 letters"),
});

export const fieldPropertiesSchema = z.strictObject({
  id: fieldIdSchema,
  name: z.string().min(1).describe("the name that people call it by"),
  grower: z.string().min(1).describe("who ordered and pays"),
  growerAddress: z.string().min(1).optional().describe("for the application record"),
  landId: z.string().min(1).optional().describe("the unit of land in the authority's register, for the record"),
  crop: z.string().min(1).describe("as named in the products' label uses"),
  eppoCode: eppoCodeSchema.optional(),
  growthStage: growthStageSchema.optional(),
  slopePct: z.number().min(0).max(100).default(0).describe("steepest slope that has to be flown, percent"),
  headingDeg: z
    .number()
    .min(0)
    .max(360)
    .optional()
    .describe("direction in which passes must run (rows, drains), degrees from north; left out: the quickest"),
  pads: z.array(padSchema).min(1).describe("places by the field where aircraft land and load"),
  harvestDate: localDateSchema.optional().describe("the day on which harvest begins"),
  bloom: z
    .strictObject({ from: localDateSchema, to: localDateSchema })
    .optional()
    .describe("first and last day in bloom, both included"),
  closures: z
    .array(
      z.strictObject({
        from: localDateTimeSchema,
        to: localDateTimeSchema,
        reason: z.string().min(1).describe("for people"),
        people: z
          .boolean()
          .default(true)
          .describe(
            "whether people are in the field then, as is taken when nothing is said, so that the re-entry interval must have ended before it begins; false lifts that",
          ),
      }),
    )
    .default([])
    .describe(
      "times in which the field may not be worked (irrigation, workers); the re-entry interval must have ended when one begins, unless its `people` is false",
    ),
  entries: z
    .array(
      z.strictObject({
        from: localDateTimeSchema,
        to: localDateTimeSchema,
        who: z.string().min(1).describe("for people"),
      }),
    )
    .default([])
    .describe("planned entries by people; the re-entry interval must have ended when one begins"),
  pastApplications: z
    .array(
      z.strictObject({
        productId: productIdSchema.describe("the product applied"),
        endedAt: localDateTimeSchema.describe(
          "when the application ended, local time; at most a day after the first day begins or the forecast was issued",
        ),
        ratePerHa: positive.describe("in the product's own unit, L or kg, per hectare"),
        orderId: orderIdSchema
          .optional()
          .describe(
            "the order that was done in part: for what is left of it this is the same application, not an earlier one",
          ),
      }),
    )
    .default([])
    .describe("applications already made this season"),
  hazards: z
    .array(hazardSchema)
    .optional()
    .describe(
      "what an aircraft could fly into in or near the field; plans do not fly around it, as they do around the holes of the outline: crews are told of it",
    ),
  hazardsSurveyed: localDateSchema
    .optional()
    .describe("the day on which somebody last looked for hazards there, not after the last day of the operation"),
});

export const fieldFeatureSchema = z.object({
  type: z.literal("Feature"),
  geometry: areaGeometrySchema,
  properties: fieldPropertiesSchema,
});
export const fieldsSchema = z.object({
  type: z.literal("FeatureCollection"),
  features: z.array(fieldFeatureSchema).min(1),
});

export const sensitivePropertiesSchema = z.strictObject({
  id: sensitiveIdSchema,
  kind: sensitiveKindSchema,
  name: z.string().min(1).describe("the name that people call it by"),
  radiusM: atLeastZero.default(0).describe("for a point: how far the place itself reaches, m"),
});
export const sensitiveFeatureSchema = z.object({
  type: z.literal("Feature"),
  geometry: sensitiveGeometrySchema,
  properties: sensitivePropertiesSchema,
});
export const sensitiveSchema = z.object({
  type: z.literal("FeatureCollection"),
  features: z.array(sensitiveFeatureSchema),
});

export type Position = z.infer<typeof positionSchema>;
export type AreaGeometry = z.infer<typeof areaGeometrySchema>;
export type SensitiveGeometry = z.infer<typeof sensitiveGeometrySchema>;
export type Hazard = z.infer<typeof hazardSchema>;
export type Pad = z.infer<typeof padSchema>;
export type FieldProperties = z.infer<typeof fieldPropertiesSchema>;
export type FieldFeature = z.infer<typeof fieldFeatureSchema>;
export type SensitiveFeature = z.infer<typeof sensitiveFeatureSchema>;
