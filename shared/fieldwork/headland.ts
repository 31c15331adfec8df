import { areaM2 } from "../geo/area.ts";
import { difference, offset } from "../geo/clip.ts";
import { distanceM } from "../geo/distance.ts";
import type { AreaXY, PointXY, Ring } from "../geo/plane.ts";
import { radFromDeg } from "../units/units.ts";
import type { Leg } from "./path.ts";

/** Our choice: a corner sharper than this is flown as a turn, any other as a bend. */
const cornerRad = radFromDeg(30);
const threadM = 0.05;
/** Our choice: a piece that is narrower than a lap and smaller than so many squares of its width is the tip of a corner. */
const tipLaps = 2;

export interface Headland {
  /** Ground that the passes cover. */
  readonly inner: AreaXY;
  /** Laps along the outline and around obstacles, each as the edges that are flown. */
  readonly laps: readonly (readonly Leg[])[];
}

/**
 * The strip along the outline, flown in laps of at most a swath each, one polygon after the other. Our choice: a polygon that is no wider
 * than two headlands is flown in passes alone, and so is a lane that no lap fits into.
 */
export function headlandOf(area: AreaXY, headlandM: number, swathM: number): Headland {
  if (headlandM === 0) return { inner: area, laps: [] };
  const count = Math.ceil(headlandM / swathM);
  const lapM = headlandM / count;
  const inner: AreaXY[] = [];
  const laps: Leg[][] = [];
  for (const polygon of area) {
    const within = offset([polygon], -headlandM);
    if (within.length === 0) {
      inner.push([polygon]);
      continue;
    }
    inner.push(within, lanesOf(polygon, lapM));
    addLaps(laps, [polygon], lapM, count);
  }
  return { inner: inner.flat(), laps };
}

/** Ground that is narrower than a lap; the tips of corners are not meant. */
function lanesOf(polygon: AreaXY[number], lapM: number): AreaXY {
  // Round corners do not come back to the outline exactly; without a little more a thread along it would join lanes and count as ground.
  const reached = offset(offset([polygon], -lapM / 2), lapM / 2 + threadM);
  return difference([polygon], reached).filter((piece) => areaM2([piece]) > tipLaps * lapM * lapM);
}

/** Ring by ring, each lap after the first begun at the corner nearest to where the one before ended. */
function addLaps(laps: Leg[][], area: AreaXY, lapM: number, count: number): void {
  for (let lap = 0; lap < count; lap++) {
    for (const ring of offset(area, -(lap + 0.5) * lapM).flat()) {
      const last = laps[laps.length - 1]?.at(-1)?.to;
      laps.push(legsOf(begunAt(ring, last), laps.length));
    }
  }
}

/** The first lap of all begins with its longest edge, so that turning the field turns it with it. */
function begunAt(ring: Ring, near: PointXY | undefined): Ring {
  const cost = (index: number) => {
    const from = ring[index]!;
    return near === undefined ? -distanceM(from, ring[(index + 1) % ring.length]!) : distanceM(near, from);
  };
  let first = 0;
  for (let index = 1; index < ring.length; index++) if (cost(index) < cost(first) - 1e-6) first = index;
  return [...ring.slice(first), ...ring.slice(0, first)];
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
