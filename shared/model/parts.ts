import type { z } from "zod";
import { type Path, valueAt } from "./faults.ts";
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
  type HireOffer,
  hireOfferSchema,
  type Tender,
  tenderSchema,
} from "./fleet.ts";
import { type Lock, lockSchema } from "./locks.ts";
import { type Order, orderSchema } from "./order.ts";
import { type Product, productSchema } from "./product.ts";
import {
  type Base,
  baseSchema,
  confidenceSchema,
  dropletTableSchema,
  planningSchema,
  type Road,
  roadSchema,
  type WaterPoint,
  waterPointSchema,
} from "./settings.ts";
import { type WeatherStep, weatherStepSchema } from "./weather.ts";

export interface Located<T> {
  path: Path;
  item: T;
}

/** A list of the operation, as far as its entries fit their schema. */
export interface PartList<T> {
  /** The list itself is there; without it nothing can be said about what it lacks. */
  isThere: boolean;
  /** How many entries it has, those with faults included. */
  size: number;
  entries: Located<T>[];
  /** Every id that stands in the list, also of entries that have other faults. */
  ids: Located<string>[];
}

/** What of an operation can be read one by one, so that one fault does not hide the others. */
export interface Parts {
  timeZone: unknown;
  firstDay: unknown;
  days: unknown;
  forecastIssued: unknown;
  planFrom: unknown;
  bases: PartList<Base>;
  waterPoints: PartList<WaterPoint>;
  confidence: Located<z.infer<typeof confidenceSchema>> | undefined;
  dropletLowerUm: Located<z.infer<typeof dropletTableSchema>["lowerUm"]> | undefined;
  planning: Located<z.infer<typeof planningSchema>> | undefined;
  fields: PartList<FieldFeature>;
  sensitive: PartList<SensitiveFeature>;
  products: PartList<Product>;
  orders: PartList<Order>;
  aircraftTypes: PartList<AircraftType>;
  aircraft: PartList<Aircraft>;
  batteryStocks: PartList<BatteryStock>;
  chargers: PartList<Charger>;
  tenders: PartList<Tender>;
  crews: PartList<Crew>;
  hire: PartList<HireOffer>;
  weather: PartList<WeatherStep>;
  roads: PartList<Road>;
  locks: PartList<Lock>;
}

/** Where an entry of a list carries its id. */
const ownId: Path = ["id"];
const featureId: Path = ["properties", "id"];

function listPart<T>(list: unknown, path: Path, schema: z.ZodType<T>, idPath: Path): PartList<T> {
  const rawEntries: unknown[] = Array.isArray(list) ? list : [];
  const part: PartList<T> = { isThere: Array.isArray(list), size: rawEntries.length, entries: [], ids: [] };
  for (const [at, raw] of rawEntries.entries()) {
    const id = valueAt(raw, idPath);
    if (typeof id === "string") part.ids.push({ path: [...path, at, ...idPath], item: id });
    const parsed = schema.safeParse(raw);
    if (parsed.success) part.entries.push({ path: [...path, at], item: parsed.data });
  }
  return part;
}

export function readParts(raw: unknown): Parts {
  const required = <T>(path: Path, schema: z.ZodType<T>, idPath: Path) =>
    listPart(valueAt(raw, path), path, schema, idPath);
  const optional = <T>(path: Path, schema: z.ZodType<T>, idPath: Path) =>
    listPart(valueAt(raw, path) ?? [], path, schema, idPath);
  const sensitive = valueAt(raw, ["sensitive"]) === undefined ? optional : required;
  const dropletPath = ["settings", "limits", "dropletTable"];
  const dropletTable = dropletTableSchema.safeParse(valueAt(raw, dropletPath));
  const confidencePath = ["settings", "limits", "confidence"];
  const confidence = confidenceSchema.safeParse(valueAt(raw, confidencePath));
  const planningPath = ["settings", "planning"];
  const planning = planningSchema.safeParse(valueAt(raw, planningPath));
  return {
    timeZone: valueAt(raw, ["settings", "timeZone"]),
    firstDay: valueAt(raw, ["settings", "firstDay"]),
    days: valueAt(raw, ["settings", "days"]),
    forecastIssued: valueAt(raw, ["settings", "forecastIssued"]),
    planFrom: valueAt(raw, ["settings", "planFrom"]),
    bases: required(["settings", "bases"], baseSchema, ownId),
    waterPoints: optional(["settings", "waterPoints"], waterPointSchema, ownId),
    confidence: confidence.success ? { path: confidencePath, item: confidence.data } : undefined,
    dropletLowerUm: dropletTable.success
      ? { path: [...dropletPath, "lowerUm"], item: dropletTable.data.lowerUm }
      : undefined,
    planning: planning.success ? { path: planningPath, item: planning.data } : undefined,
    fields: required(["fields", "features"], fieldFeatureSchema, featureId),
    sensitive: sensitive(["sensitive", "features"], sensitiveFeatureSchema, featureId),
    products: required(["products"], productSchema, ownId),
    orders: required(["orders"], orderSchema, ownId),
    aircraftTypes: required(["fleet", "aircraftTypes"], aircraftTypeSchema, ownId),
    aircraft: required(["fleet", "aircraft"], aircraftSchema, ownId),
    batteryStocks: optional(["fleet", "batteryStocks"], batteryStockSchema, ownId),
    chargers: optional(["fleet", "chargers"], chargerSchema, ownId),
    tenders: required(["fleet", "tenders"], tenderSchema, ownId),
    crews: required(["fleet", "crews"], crewSchema, ownId),
    hire: optional(["fleet", "hire"], hireOfferSchema, ownId),
    weather: required(["weather"], weatherStepSchema, ownId),
    roads: optional(["roads"], roadSchema, ownId),
    locks: optional(["locks"], lockSchema, ownId),
  };
}
