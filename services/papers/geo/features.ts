import type { AreaLike, GeometryLike } from "../../../shared/geo/convert.ts";
import type { LonLat } from "../../../shared/geo/plane.ts";
import type { DayMap } from "../../../shared/plan/dayMap.ts";
import { hazardName } from "../../../shared/plan/hazardWords.ts";
import type { WeekMap } from "../../../shared/plan/weekMap.ts";
import { hectares, kilometres, sensitiveWords } from "../../../shared/plan/words.ts";
import { standardWinding } from "./standardWinding.ts";

export const featureKinds = [
  "field",
  "ground",
  "passes",
  "route",
  "pad",
  "base",
  "water",
  "sensitive",
  "hazard",
] as const;
export type FeatureKind = (typeof featureKinds)[number];

export type FeatureGeometry =
  | GeometryLike
  | { readonly type: "MultiLineString"; readonly coordinates: readonly (readonly LonLat[])[] };

/** One thing on the map, whatever format it goes out in. */
export interface MapFeature {
  readonly id: string;
  readonly kind: FeatureKind;
  readonly name: string;
  /** For people. */
  readonly words: string;
  readonly geometry: FeatureGeometry;
  /** Facts by name, with their units. */
  readonly facts: Readonly<Record<string, string | number>>;
}

export interface MapDocument {
  readonly name: string;
  readonly words: string;
  readonly features: readonly MapFeature[];
}

const isArea = (geometry: FeatureGeometry): geometry is AreaLike =>
  geometry.type === "Polygon" || geometry.type === "MultiPolygon";
const wound = (geometry: FeatureGeometry): FeatureGeometry => (isArea(geometry) ? standardWinding(geometry) : geometry);

/** A crew's day: fields, ground of the stops, passes in the order flown, the way, pads, neighbours and hazards. */
export function dayFeatures(map: DayMap): MapFeature[] {
  return [
    ...map.fields.map(({ fieldId, name, grower, geometry }) =>
      feature("field", fieldId, name, grower, geometry, { fieldId, grower }),
    ),
    ...map.stops.flatMap((stop) => {
      const { areaHa, blockId, end, fieldName, geometry, headingDeg, number, orderId, passes, start } = stop;
      const name = `Stop ${number} ${fieldName}`;
      const words = `${start.clock} to ${end.clock}, ${hectares(areaHa)} ha, order ${orderId}`;
      const facts = { number, blockId, orderId, start: start.iso, end: end.iso, areaHa: rounded(areaHa, 4) };
      return [
        feature("ground", blockId, name, words, geometry, facts),
        feature(
          "passes",
          blockId,
          `${name}, passes`,
          `along ${Math.round(headingDeg)}°`,
          {
            type: "MultiLineString" as const,
            coordinates: passes,
          },
          { number, blockId, headingDeg: rounded(headingDeg, 2) },
        ),
      ];
    }),
    ...map.route.map(({ fromWords, toWords, start, end, km, line }, at) =>
      feature(
        "route",
        `${at + 1}`,
        `${fromWords} to ${toWords}`,
        `${start.clock} to ${end.clock}, ${kilometres(km)} km by road; drawn straight`,
        { type: "LineString" as const, coordinates: line },
        { number: at + 1, from: fromWords, to: toWords, start: start.iso, end: end.iso, roadKm: rounded(km, 2) },
      ),
    ),
    ...placeFeatures(map),
  ];
}

/** The week's fields with what becomes of them. */
export function weekFeatures(map: WeekMap): MapFeature[] {
  return [
    ...map.fields.map(({ fieldId, name, grower, crop, areaHa, geometry, status, orders }) =>
      feature("field", fieldId, name, `${statusWords[status]}; ${crop}, ${grower}`, geometry, {
        fieldId,
        grower,
        crop,
        areaHa: rounded(areaHa, 4),
        status,
        orders: orders.join(" "),
      }),
    ),
    ...placeFeatures(map),
  ];
}

const statusWords = {
  planned: "planned",
  partly: "planned in part",
  notPlanned: "not planned",
  noOrder: "nothing ordered",
} as const;

function placeFeatures({ hazards, places, sensitive }: Pick<DayMap, "places" | "sensitive" | "hazards">): MapFeature[] {
  return [
    ...places.map(({ kind, id, name, at }) =>
      feature(kind, id, name, placeWords[kind], { type: "Point" as const, coordinates: at }, {}),
    ),
    ...sensitive.map(({ id, kind, name, radiusM, geometry }) =>
      feature("sensitive", id, name, `sensitive place: ${sensitiveWords[kind]}`, geometry, {
        kind,
        ...(radiusM > 0 ? { radiusM } : {}),
      }),
    ),
    ...hazards.map(({ id, geometry, heightM, kind, note }) =>
      feature("hazard", id, hazardName({ heightM, kind }), note === "" ? "hazard" : `hazard: ${note}`, geometry, {
        kind,
        ...(heightM !== null && { heightM }),
      }),
    ),
  ];
}

const placeWords = { pad: "pad, where aircraft land and load", base: "base", water: "water point" } as const;

function feature(
  kind: FeatureKind,
  id: string,
  name: string,
  words: string,
  geometry: FeatureGeometry,
  facts: MapFeature["facts"],
): MapFeature {
  return { id: `${kind}/${id}`, kind, name, words, geometry: wound(geometry), facts };
}

function rounded(value: number, digits: number): number {
  return Number(value.toFixed(digits));
}
