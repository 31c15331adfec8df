import { contains, isCounterClockwise } from "../../../../../shared/geo/area.ts";
import { createPlane, type Plane, type PointXY } from "../../../../../shared/geo/plane.ts";
import type { AreaGeometry } from "../../../../../shared/model/field.ts";
import { roundedDeg, type Sketch, type SketchRing } from "./sketch.ts";

/** Which ring of the sketch stands where in the geometry, so that faults can be told by what was drawn. */
export interface Laid {
  readonly geometry: AreaGeometry;
  /** By polygon, then by ring. */
  readonly ringsOf: readonly (readonly number[])[];
}

/** The geometry of a sketch by RFC 7946: closed rings, outlines counter-clockwise, obstacles clockwise within the outline around them. Null: no outline has three corners. */
export function layGeometry(sketch: Sketch): Laid | null {
  const rings = sketch.rings.map((ring, at) => ({ ...ring, at })).filter(({ corners }) => corners.length >= 3);
  const outlines = rings.filter(({ kind }) => kind === "outline");
  if (outlines.length === 0) return null;
  const plane = planeOfSketch(outlines[0]!);
  const polygons = outlines.map((outline) => ({ outline, holes: [] as typeof rings }));
  for (const hole of rings.filter(({ kind }) => kind === "obstacle")) {
    const point = plane.toXY(hole.corners[0]!);
    const around = polygons.find(({ outline }) => contains([[xyOf(plane, outline)]], point));
    // One that lies in none is told as a fault of the first.
    (around ?? polygons[0]!).holes.push(hole);
  }
  const coordinates = polygons.map(({ holes, outline }) => [
    closed(plane, outline, true),
    ...holes.map((hole) => closed(plane, hole, false)),
  ]);
  const ringsOf = polygons.map(({ holes, outline }) => [outline.at, ...holes.map(({ at }) => at)]);
  const geometry: AreaGeometry =
    coordinates.length === 1
      ? { type: "Polygon", coordinates: coordinates[0]! }
      : { type: "MultiPolygon", coordinates };
  return { geometry, ringsOf };
}

export function planeOfSketch({ corners }: SketchRing): Plane {
  const [lonDeg, latDeg] = corners[0]!;
  return createPlane(lonDeg, latDeg);
}

export const xyOf = (plane: Plane, { corners }: SketchRing): PointXY[] => corners.map(plane.toXY);

function closed(plane: Plane, ring: SketchRing, isOutline: boolean): [number, number][] {
  const positions = ring.corners.map(([lonDeg, latDeg]): [number, number] => [roundedDeg(lonDeg), roundedDeg(latDeg)]);
  if (isCounterClockwise(xyOf(plane, ring)) !== isOutline) positions.reverse();
  return [...positions, positions[0]!];
}
