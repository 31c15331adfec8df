import { bearingDeg, distanceM, nearestOnShape } from "../geo/distance.ts";
import type { AreaXY, PointXY } from "../geo/plane.ts";
import type { Place } from "./places.ts";

/** In which directions wind carries spray from a field's ground to a place: all, or those from points of its outline, in rising order. */
export type Downwind = "every" | readonly number[];

const outlineStepM = 5;
/**
 * Our choice: positions are written to 7 decimals, which are 11 mm, so ground as near as this touches the place; no direction
 * leads from one to the other, and every wind counts.
 */
const touchM = 0.01;
/** Our choice: this much stricter than the rule, in metres and degrees, so that another order of rounding finds nothing that was let through. */
const rounding = 1e-6;

/** Directions from the points of the outline that are nearer to the place than the distance; the field is `awayM` from it. */
export function downwindOf(
  area: AreaXY,
  place: Pick<Place, "shape" | "radiusM">,
  awayM: number,
  withinM: number,
): Downwind {
  if (awayM <= touchM) return "every";
  const bearings = new Set<number>();
  for (const ring of area.flat()) {
    ring.forEach((from, index) => {
      const to = ring[(index + 1) % ring.length]!;
      const lengthM = distanceM(from, to);
      const fromM = nearestOnShape(from, place.shape).distanceM - place.radiusM;
      if (fromM - lengthM >= withinM + rounding) return;
      for (const point of equalPieces(from, to, Math.ceil(lengthM / outlineStepM))) {
        const nearest = nearestOnShape(point, place.shape);
        if (nearest.distanceM - place.radiusM < withinM + rounding) bearings.add(bearingDeg(point, nearest.point));
      }
    });
  }
  return [...bearings].sort((a, b) => a - b);
}

/** The beginning of each piece; the end of the last one is the beginning of the next edge. */
function equalPieces([axM, ayM]: PointXY, [bxM, byM]: PointXY, pieces: number): PointXY[] {
  return Array.from({ length: pieces }, (_, piece): PointXY => {
    const share = piece / pieces;
    return [axM + share * (bxM - axM), ayM + share * (byM - ayM)];
  });
}

/** Whether wind that blows to this direction carries spray to the place: one of the directions lies within the angle. */
export function isDownwind(downwind: Downwind, windToDeg: number, angleDeg: number): boolean {
  if (downwind === "every") return true;
  let low = 0;
  let high = downwind.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (downwind[middle]! < windToDeg) low = middle + 1;
    else high = middle;
  }
  // North parts the list: the first direction follows the last.
  return [downwind[low] ?? downwind[0], downwind[low - 1] ?? downwind.at(-1)].some(
    (bearing) => bearing !== undefined && angleBetweenDeg(bearing, windToDeg) <= angleDeg + rounding,
  );
}

function angleBetweenDeg(aDeg: number, bDeg: number): number {
  const turnDeg = Math.abs(aDeg - bDeg) % 360;
  return Math.min(turnDeg, 360 - turnDeg);
}
