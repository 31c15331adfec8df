import { offset } from "../geo/clip.ts";
import { distanceM } from "../geo/distance.ts";
import type { AreaXY, PointXY, Ring } from "../geo/plane.ts";
import { radFromDeg } from "../units/units.ts";
import type { Leg } from "./path.ts";

/** Our choice: a corner sharper than this is flown as a turn, any other as a bend. */
const cornerRad = radFromDeg(30);

export interface Headland {
  /** Ground that the passes cover. */
  readonly inner: AreaXY;
  /** Laps along the outline and around obstacles, each as the edges that are flown. */
  readonly laps: readonly (readonly Leg[])[];
}

/**
 * The strip along the outline, flown in laps of at most a swath each. Our choice: a field that is no wider than its headland is
 * flown in passes alone.
 */
export function headlandOf(area: AreaXY, headlandM: number, swathM: number): Headland {
  const inner = headlandM > 0 ? offset(area, -headlandM) : area;
  if (headlandM === 0 || inner.length === 0) return { inner: area, laps: [] };
  const count = Math.ceil(headlandM / swathM);
  const laps: Leg[][] = [];
  for (let lap = 0; lap < count; lap++) {
    for (const ring of offset(area, (-(lap + 0.5) * headlandM) / count).flat()) laps.push(legsOf(ring, laps.length));
  }
  return { inner, laps };
}

/** Laps are numbered before the passes, from -1 downwards. */
function legsOf(ring: Ring, lap: number): Leg[] {
  return ring.map((from, index): Leg => {
    const to = ring[(index + 1) % ring.length]!;
    const before = ring[(index + ring.length - 1) % ring.length]!;
    const turns = index === 0 || bendRad(before, from, to) > cornerRad ? 1 : 0;
    return { pass: -1 - lap, from, to, lengthM: distanceM(from, to), turns, hopM: 0 };
  });
}

function bendRad(before: PointXY, at: PointXY, after: PointXY): number {
  const [inX, inY] = [at[0] - before[0], at[1] - before[1]];
  const [outX, outY] = [after[0] - at[0], after[1] - at[1]];
  return Math.abs(Math.atan2(inX * outY - inY * outX, inX * outX + inY * outY));
}
