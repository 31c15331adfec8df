import type { GeometryLike } from "../geo/convert.ts";
import type { LonLat } from "../geo/plane.ts";
import type { SensitiveFeature, SensitiveGeometry } from "../model/field.ts";
import type { Operation } from "../model/operation.ts";
import type { SensitiveKind } from "../model/quantities.ts";
import type { PlanIndex } from "./planIndex.ts";

/** A place that crews drive to; a pad's id is fieldId/padId. */
export interface PlaceOnMap {
  readonly kind: "base" | "water" | "pad";
  readonly id: string;
  readonly name: string;
  readonly at: LonLat;
}

export interface SensitiveOnMap {
  readonly id: string;
  readonly name: string;
  readonly kind: SensitiveKind;
  /** How far a point reaches; 0 for all else. */
  readonly radiusM: number;
  readonly geometry: SensitiveGeometry;
}

/** West, south, east, north (RFC 7946, section 5). */
export type Bounds = readonly [westDeg: number, southDeg: number, eastDeg: number, northDeg: number];

export function basesAndWater({ settings }: Operation): PlaceOnMap[] {
  return [
    ...settings.bases.map((base) => ({ kind: "base" as const, id: base.id, name: base.name, at: positionOf(base) })),
    ...settings.waterPoints.map((point) => ({
      kind: "water" as const,
      id: point.id,
      name: point.name,
      at: positionOf(point),
    })),
  ];
}

export function placeOnMap(index: PlanIndex, place: string): PlaceOnMap {
  const known = basesAndWater(index.operation).find(({ id }) => id === place);
  if (known !== undefined) return known;
  const [fieldId, padId] = place.split("/");
  const pad = index.field(fieldId!).properties.pads.find(({ id }) => id === padId);
  if (pad === undefined) throw new Error(`the plan names ${place}, which the operation does not have`);
  return { kind: "pad", id: place, name: index.placeWords(place), at: positionOf(pad) };
}

export function sensitiveOnMap({ geometry, properties }: SensitiveFeature): SensitiveOnMap {
  const { id, name, kind, radiusM } = properties;
  return { id, name, kind, radiusM: geometry.type === "Point" ? radiusM : 0, geometry };
}

export function positionsOf(geometry: GeometryLike): readonly LonLat[] {
  switch (geometry.type) {
    case "Point":
      return [geometry.coordinates];
    case "LineString":
      return geometry.coordinates;
    case "Polygon":
      return geometry.coordinates.flat();
    case "MultiPolygon":
      return geometry.coordinates.flat(2);
  }
}

/** Around all positions. Those on both sides of the antimeridian are taken the short way, so that west is the greater then (RFC 7946, section 5.2). */
export function boundsOf(positions: readonly LonLat[]): Bounds {
  const firstDeg = positions[0]?.[0] ?? 0;
  let [west, south, east, north] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, -Infinity, -Infinity];
  for (const [lonDeg, latDeg] of positions) {
    const nearDeg = firstDeg + wrapDeg(lonDeg - firstDeg);
    west = Math.min(west, nearDeg);
    east = Math.max(east, nearDeg);
    south = Math.min(south, latDeg);
    north = Math.max(north, latDeg);
  }
  return [wrapDeg(west), south, wrapDeg(east), north];
}

function wrapDeg(angleDeg: number): number {
  return angleDeg >= -180 && angleDeg <= 180 ? angleDeg : angleDeg - 360 * Math.round(angleDeg / 360);
}

function positionOf({ lonDeg, latDeg }: { readonly lonDeg: number; readonly latDeg: number }): LonLat {
  return [lonDeg, latDeg];
}
