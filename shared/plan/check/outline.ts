import { bearingDeg, distanceM, nearestOnShape } from "../../geo/distance.ts";
import type { AreaXY, PointXY, Ring } from "../../geo/plane.ts";
import type { ShapeXY } from "../../geo/shape.ts";

/** An edge of the field is looked at in equal pieces no longer than this, DEVELOPERS.md, `drift`. */
const pieceMaxM = 5;

/** Directions, degrees from north, from all points of the field's outline that are nearer to the shape than the distance. */
export function directionsFromOutline(field: AreaXY, shape: ShapeXY, nearerThanM: number): number[] {
  return field.flat().flatMap((ring) =>
    outlinePoints(ring).flatMap((point) => {
      const nearest = nearestOnShape(point, shape);
      return nearest.distanceM < nearerThanM ? [bearingDeg(point, nearest.point)] : [];
    }),
  );
}

/** Corners, and the points that cut each edge into pieces. */
function outlinePoints(ring: Ring): PointXY[] {
  return ring.flatMap((from, index) => {
    const to = ring[(index + 1) % ring.length]!;
    const pieces = Math.ceil(distanceM(from, to) / pieceMaxM);
    return Array.from({ length: pieces }, (_, piece): PointXY => {
      const share = piece / pieces;
      return [from[0] + (to[0] - from[0]) * share, from[1] + (to[1] - from[1]) * share];
    });
  });
}
