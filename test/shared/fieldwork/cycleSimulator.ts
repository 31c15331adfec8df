import type { CycleDemand, Share } from "../../../shared/fieldwork/cycle.ts";

/** Draws the time of one activity from its mean: the mean itself, or a random time. */
export type Draw = (meanS: number) => number;
export const fixedTimes: Draw = (meanS) => meanS;

/** Exponential times from a small seeded generator (mulberry32). */
export function exponentialTimes(seed: number): Draw {
  let state = seed;
  return (meanS) => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    const uniform = ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
    return -meanS * Math.log(1 - uniform);
  };
}

/**
 * Plays a block event by event, aircraft by aircraft, knowing nothing of bounds: whoever is ready first takes the next
 * load at the first free loading point, as soon as it is mixed; a set that has flown its sorties is put on the first
 * free bay, and the aircraft waits for a charged one. Returns the time of the last landing.
 */
export function simulateCycle(demand: CycleDemand, share: Share, loadingPoints: number, draw: Draw): number {
  const { loads, sortiesPerSet } = share;
  const airS = demand.perSortieS + demand.overFieldS / loads;
  const loadS = demand.perLoadS + demand.pumpS / loads;
  const mixS = demand.mixS / loads;
  const flying = Math.min(share.aircraft, loads);
  const battery = demand.battery;

  const readyS = Array<number>(flying).fill(0);
  const flownOnSet = Array<number>(flying).fill(0);
  const pointFreeS = Array<number>(loadingPoints).fill(0);
  const bayFreeS = Array<number>(battery?.bays ?? 0).fill(0);
  const spareReadyS = Array<number>((battery?.sets ?? flying) - flying).fill(0);
  let mixedS = 0;
  let lastLandingS = 0;

  for (let load = 0; load < loads; load++) {
    const craft = indexOfLeast(readyS);
    let atS = readyS[craft]!;
    if (flownOnSet[craft] === sortiesPerSet) {
      if (battery !== undefined) {
        const bay = indexOfLeast(bayFreeS);
        bayFreeS[bay] = Math.max(atS, bayFreeS[bay]!) + draw(battery.chargeS);
        spareReadyS.push(bayFreeS[bay]!);
        const spare = indexOfLeast(spareReadyS);
        atS = Math.max(atS, spareReadyS[spare]!);
        spareReadyS.splice(spare, 1);
      }
      atS += draw(demand.changeS);
      flownOnSet[craft] = 0;
    }
    const point = indexOfLeast(pointFreeS);
    mixedS += draw(mixS);
    const startS = Math.max(atS, pointFreeS[point]!, mixedS);
    pointFreeS[point] = startS + draw(loadS);
    readyS[craft] = pointFreeS[point]! + draw(airS);
    flownOnSet[craft]!++;
    lastLandingS = Math.max(lastLandingS, readyS[craft]!);
  }
  return lastLandingS;
}

function indexOfLeast(values: readonly number[]): number {
  return values.reduce((least, value, index) => (value < values[least]! ? index : least), 0);
}
