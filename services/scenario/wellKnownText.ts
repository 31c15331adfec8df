import type { MultiPolygonGeometry } from "../../shared/geo/convert.ts";

type Coordinates = MultiPolygonGeometry["coordinates"];

const word = /^\s*MULTIPOLYGON\s*\(/i;
/** Of rings and polygons in their brackets. */
const pieces = /\(([^()]*)\)|[()]|[^()\s,]+/g;

/** Ground as well-known text (OGC 06-103r4, section 7), longitude first: MULTIPOLYGON (((x y, x y, ...), (hole)), ((...))). Undefined where it is none. */
export function readMultiPolygon(text: string): MultiPolygonGeometry | undefined {
  if (!word.test(text)) return undefined;
  const coordinates: Coordinates = [];
  let depth = 0;
  for (const [piece, ring] of text.replace(/^\s*MULTIPOLYGON/i, "").matchAll(pieces)) {
    if (ring !== undefined) {
      if (depth !== 2) return undefined;
      coordinates.at(-1)!.push(ring.split(",").map(position));
    } else if (piece === "(") {
      depth++;
      if (depth === 2) coordinates.push([]);
    } else if (piece === ")") {
      depth--;
    } else return undefined;
    if (depth < 0 || depth > 2) return undefined;
  }
  const isWhole = depth === 0 && coordinates.every((rings) => rings.length > 0);
  const isRead = coordinates.flat(2).every((numbers) => numbers.length === 2 && numbers.every(Number.isFinite));
  return isWhole && isRead ? { type: "MultiPolygon", coordinates } : undefined;
}

function position(text: string): [lonDeg: number, latDeg: number] {
  return text.trim().split(/\s+/).map(Number) as [number, number];
}

export function writeMultiPolygon({
  coordinates,
}: {
  readonly coordinates: readonly (readonly (readonly (readonly number[])[])[])[];
}): string {
  const polygons = coordinates.map(
    (rings) =>
      `(${rings.map((ring) => `(${ring.map(([lonDeg, latDeg]) => `${lonDeg} ${latDeg}`).join(", ")})`).join(", ")})`,
  );
  return `MULTIPOLYGON (${polygons.join(", ")})`;
}
