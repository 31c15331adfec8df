import { z } from "zod";
import { type FieldFeature, fieldFeatureSchema, type SensitiveFeature, sensitiveFeatureSchema } from "./field.ts";
import {
  type Aircraft,
  type AircraftType,
  aircraftSchema,
  aircraftTypeSchema,
  type BatteryStock,
  batteryStockSchema,
  type Charger,
  type Crew,
  chargerSchema,
  crewSchema,
  hireOfferSchema,
  type Tender,
  tenderSchema,
} from "./fleet.ts";
import { type Lock, lockSchema } from "./locks.ts";
import { type Order, orderSchema } from "./order.ts";
import { type Product, productSchema } from "./product.ts";
import {
  aircraftIdSchema,
  aircraftTypeIdSchema,
  baseIdSchema,
  chargerIdSchema,
  crewIdSchema,
  fieldIdSchema,
  localDateTimeSchema,
  orderIdSchema,
  productIdSchema,
  sensitiveIdSchema,
  tenderIdSchema,
  waterPointIdSchema,
} from "./quantities.ts";
import { type ListResource, list, type WholeResource, whole } from "./resource.ts";
import { type Base, baseSchema, roadSchema, settingsSchema, type WaterPoint, waterPointSchema } from "./settings.ts";
import { weatherSchema } from "./weather.ts";

/** An id, or several parted by colons, which ids have none of. */
const joined = (words: string) =>
  z
    .string()
    .regex(/^[A-Za-z0-9._-]{1,64}:[A-Za-z0-9._-]{1,64}$/, words)
    .describe(words);

const usesProduct = ({ products, alternatives = [] }: Order, productId: string) =>
  [{ products }, ...alternatives].some((mix) => mix.products.some((one) => one.productId === productId));

/** Lists of the operation whose entries are read and changed one by one. */
export const listResources: readonly ListResource[] = [
  list<FieldFeature>("fields", {
    one: "field",
    keyName: "fieldId",
    keySchema: fieldIdSchema,
    entrySchema: fieldFeatureSchema,
    keyOf: ({ properties }) => properties.id,
    path: ["fields", "features"],
    filters: {
      crop: ["fields of this crop", ({ properties }, crop) => properties.crop === crop],
      grower: ["fields of this grower", ({ properties }, grower) => properties.grower === grower],
    },
  }),
  list<SensitiveFeature>("sensitive-places", {
    one: "sensitive place",
    keyName: "sensitiveId",
    keySchema: sensitiveIdSchema,
    entrySchema: sensitiveFeatureSchema,
    keyOf: ({ properties }) => properties.id,
    path: ["sensitive", "features"],
    filters: { kind: ["places of this kind", ({ properties }, kind) => properties.kind === kind] },
  }),
  list<Product>("products", {
    one: "product",
    keyName: "productId",
    keySchema: productIdSchema,
    entrySchema: productSchema,
    keyOf: ({ id }) => id,
    path: ["products"],
    filters: { method: ["products applied by this method", (product, method) => product.method === method] },
  }),
  list<Order>("orders", {
    one: "order",
    keyName: "orderId",
    keySchema: orderIdSchema,
    entrySchema: orderSchema,
    keyOf: ({ id }) => id,
    path: ["orders"],
    beside: ["fields"],
    filters: {
      field: ["orders for the field of this id", ({ fieldId }, field) => fieldId === field],
      crop: [
        "orders for fields of this crop",
        ({ fieldId }, crop, { fields }) =>
          fields.features.some(({ properties }) => properties.id === fieldId && properties.crop === crop),
      ],
      priority: ["orders of this priority", (order, priority) => order.priority === priority],
      product: ["orders that apply the product of this id, or may", usesProduct],
    },
  }),
  list<AircraftType>("aircraft-types", {
    one: "aircraft type",
    keyName: "aircraftTypeId",
    keySchema: aircraftTypeIdSchema,
    entrySchema: aircraftTypeSchema,
    keyOf: ({ id }) => id,
    path: ["fleet", "aircraftTypes"],
  }),
  list<Aircraft>("aircraft", {
    one: "aircraft",
    keyName: "aircraftId",
    keySchema: aircraftIdSchema,
    entrySchema: aircraftSchema,
    keyOf: ({ id }) => id,
    path: ["fleet", "aircraft"],
    filters: {
      type: ["aircraft of the type of this id", ({ typeId }, type) => typeId === type],
      base: ["aircraft at the base of this id", ({ baseId }, base) => baseId === base],
    },
  }),
  list<BatteryStock>("battery-stocks", {
    one: "battery stock",
    keyName: "batteryStockKey",
    keySchema: joined("id of the base, a colon, id of the aircraft type"),
    entrySchema: batteryStockSchema,
    keyOf: ({ baseId, aircraftTypeId }) => `${baseId}:${aircraftTypeId}`,
    path: ["fleet", "batteryStocks"],
  }),
  list<Charger>("chargers", {
    one: "charger",
    keyName: "chargerId",
    keySchema: chargerIdSchema,
    entrySchema: chargerSchema,
    keyOf: ({ id }) => id,
    path: ["fleet", "chargers"],
    filters: { base: ["chargers at the base of this id", ({ baseId }, base) => baseId === base] },
  }),
  list<Tender>("tenders", {
    one: "tender",
    keyName: "tenderId",
    keySchema: tenderIdSchema,
    entrySchema: tenderSchema,
    keyOf: ({ id }) => id,
    path: ["fleet", "tenders"],
    filters: { base: ["tenders at the base of this id", ({ baseId }, base) => baseId === base] },
  }),
  list<Crew>("crews", {
    one: "crew",
    keyName: "crewId",
    keySchema: crewIdSchema,
    entrySchema: crewSchema,
    keyOf: ({ id }) => id,
    path: ["fleet", "crews"],
    filters: { base: ["crews at the base of this id", ({ baseId }, base) => baseId === base] },
  }),
  list<Base>("bases", {
    one: "base",
    keyName: "baseId",
    keySchema: baseIdSchema,
    entrySchema: baseSchema,
    keyOf: ({ id }) => id,
    path: ["settings", "bases"],
  }),
  list<WaterPoint>("water-points", {
    one: "water point",
    keyName: "waterPointId",
    keySchema: waterPointIdSchema,
    entrySchema: waterPointSchema,
    keyOf: ({ id }) => id,
    path: ["settings", "waterPoints"],
  }),
  list<Lock>("locks", {
    one: "lock",
    keyName: "lockKey",
    keySchema: joined("id of the crew, a colon, the date"),
    entrySchema: lockSchema,
    keyOf: ({ crewId, date }) => `${crewId}:${date}`,
    path: ["locks"],
    filters: {
      crew: ["locks of the crew of this id", ({ crewId }, crew) => crewId === crew],
      date: ["locks of this date", (lock, date) => lock.date === date],
    },
  }),
];

export const forecastSchema = z.strictObject({
  forecastIssued: localDateTimeSchema.optional().describe("as in the settings, which take it over"),
  steps: weatherSchema.describe("the weather of all stations"),
});

/** Judged with the whole document that comes of it. */
const anything = z.unknown();

/** What is read and changed as a whole. */
export const wholeResources: readonly WholeResource[] = [
  whole("settings", {
    one: "settings",
    parts: ["settings"],
    schema: settingsSchema,
    sentSchema: anything,
    read: ({ settings }) => settings,
    write: (document, settings) => ({ ...document, settings }),
  }),
  whole("weather", {
    one: "weather",
    parts: ["settings", "weather"],
    schema: forecastSchema,
    sentSchema: z.strictObject({ forecastIssued: anything.optional(), steps: anything }),
    read: ({ settings: { forecastIssued }, weather }) => ({
      ...(forecastIssued === undefined ? {} : { forecastIssued }),
      steps: weather,
    }),
    write({ settings: { forecastIssued: _, ...settings }, ...document }, { forecastIssued, steps }) {
      const issued = forecastIssued === undefined ? {} : { forecastIssued };
      return { ...document, settings: { ...settings, ...issued }, weather: steps };
    },
  }),
  whole("roads", {
    one: "roads",
    parts: ["roads"],
    schema: z.array(roadSchema),
    sentSchema: anything,
    read: ({ roads }) => roads,
    write: (document, roads) => ({ ...document, roads }),
  }),
  whole("hire", {
    one: "hire",
    parts: ["fleet"],
    schema: z.array(hireOfferSchema),
    sentSchema: anything,
    read: ({ fleet }) => fleet.hire ?? [],
    write: (document, hire) => ({ ...document, fleet: { ...document.fleet, hire } }),
  }),
];
