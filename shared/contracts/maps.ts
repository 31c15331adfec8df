import { z } from "zod";
import { hazardKindSchema, localDateSchema, sensitiveKindSchema } from "../model/quantities.ts";

/**
 * What the maps show (plan/dayMap.ts, plan/weekMap.ts), as far as others may count on it. Geometries are those of RFC 7946;
 * positions are [longitude, latitude], degrees, WGS 84. More members come along; they may change from release to release.
 */
const positionSchema = z.array(z.number()).min(2);
const geometrySchema = z.looseObject({ type: z.string(), coordinates: z.array(z.unknown()) });
const boundsSchema = z.array(z.number()).length(4).describe("west, south, east, north");
const localTimeSchema = z.looseObject({ min: z.number().int(), date: localDateSchema, iso: z.string() });
const placeSchema = z.looseObject({
  kind: z.enum(["base", "water", "pad"]),
  id: z.string(),
  name: z.string(),
  at: positionSchema,
});
const sensitiveSchema = z.looseObject({
  id: z.string(),
  name: z.string(),
  kind: sensitiveKindSchema,
  geometry: geometrySchema,
});
const hazardOnMapSchema = z.looseObject({
  id: z.string().describe("its field's id and its number there"),
  kind: hazardKindSchema,
  heightM: z.number().positive().nullable().describe("its top above the ground, m; null: not known"),
  note: z.string(),
  geometry: geometrySchema.describe("a Point or a LineString"),
});

export const dayMapSchema = z.looseObject({
  crewId: z.string(),
  date: localDateSchema,
  fields: z.array(z.looseObject({ fieldId: z.string(), name: z.string(), geometry: geometrySchema })),
  stops: z.array(
    z.looseObject({
      number: z.number().int().positive(),
      blockId: z.string(),
      orderId: z.string(),
      fieldId: z.string(),
      start: localTimeSchema,
      end: localTimeSchema,
      geometry: geometrySchema.describe("the ground to be treated"),
      pad: positionSchema,
      passes: z.array(z.array(positionSchema)).describe("pieces of passes, in the order and direction flown"),
    }),
  ),
  route: z.array(
    z.looseObject({
      fromWords: z.string(),
      toWords: z.string(),
      start: localTimeSchema,
      end: localTimeSchema,
      km: z.number().min(0),
      line: z.array(positionSchema).length(2).describe("straight: which roads are taken is not known"),
    }),
  ),
  places: z.array(placeSchema),
  sensitive: z.array(sensitiveSchema).describe("what lies by the day's fields"),
  hazards: z.array(hazardOnMapSchema).describe("what an aircraft could fly into by the day's fields"),
  bounds: boundsSchema,
});

export const weekMapSchema = z.looseObject({
  fields: z.array(
    z.looseObject({
      fieldId: z.string(),
      name: z.string(),
      grower: z.string(),
      crop: z.string(),
      areaHa: z.number().min(0),
      geometry: geometrySchema,
      status: z.enum(["planned", "partly", "notPlanned", "noOrder"]),
      orders: z.array(z.string()),
      crewDays: z.array(z.looseObject({ crewId: z.string(), date: localDateSchema })),
    }),
  ),
  places: z.array(placeSchema),
  sensitive: z.array(sensitiveSchema),
  hazards: z.array(hazardOnMapSchema).describe("what an aircraft could fly into, of all fields"),
  bounds: boundsSchema,
});

/** RFC 7946, section 3.3. */
export const featureCollectionSchema = z.looseObject({
  type: z.literal("FeatureCollection"),
  features: z.array(
    z.looseObject({
      type: z.literal("Feature"),
      id: z.string(),
      geometry: geometrySchema,
      properties: z.looseObject({ kind: z.string(), name: z.string(), description: z.string() }),
    }),
  ),
});
