import type { LonLat } from "../../../../../shared/geo/plane.ts";
import type { AreaGeometry } from "../../../../../shared/model/field.ts";

/** Ground in a file, by the name that it has there; null: none. */
export interface AreaInFile {
  readonly name: string | null;
  readonly geometry: AreaGeometry;
}

export type AreasInFile =
  | { readonly ok: true; readonly areas: readonly AreaInFile[] }
  | { readonly ok: false; readonly words: string };

export function areaOf(polygons: readonly (readonly (readonly LonLat[])[])[]): AreaGeometry {
  const plain = polygons.map((rings) =>
    rings.map((ring) => ring.map(([lonDeg, latDeg]): [number, number] => [lonDeg, latDeg])),
  );
  return plain.length === 1
    ? { type: "Polygon", coordinates: plain[0]! }
    : { type: "MultiPolygon", coordinates: plain };
}

export function isPosition(value: unknown): value is LonLat {
  return (
    Array.isArray(value) &&
    value.length >= 2 &&
    value.every((number) => typeof number === "number" && Number.isFinite(number)) &&
    Math.abs(value[0]) <= 180 &&
    Math.abs(value[1]) <= 90
  );
}
