import type { PointXY, Ring } from "../../../shared/geo/plane.ts";
import type { FieldDraft } from "./draft.ts";
import type { FieldShape } from "./fieldShapes.ts";

export type ToPosition = (point: PointXY) => [lonDeg: number, latDeg: number];

/** RFC 7946: the last position repeats the first. */
export function closedRing(ring: Ring, toPosition: ToPosition): [number, number][] {
  const positions = ring.map(toPosition);
  return [...positions, positions[0]!];
}

/** Outer rings counterclockwise, holes clockwise (RFC 7946, 3.1.6). */
export function fieldGeometry({ polygons }: FieldShape, toPosition: ToPosition): FieldDraft["geometry"] {
  const coordinates = polygons.map(({ outer, holes }) => [
    closedRing(outer, toPosition),
    ...holes.map((hole) => closedRing([...hole].reverse(), toPosition)),
  ]);
  return coordinates.length === 1
    ? { type: "Polygon", coordinates: coordinates[0]! }
    : { type: "MultiPolygon", coordinates };
}
