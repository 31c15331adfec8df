import { type CycleDemand, type CycleTime, cycleTime, leastCycleS, type Share, wholeMinutes } from "./cycle.ts";

export interface TimedShare {
  readonly share: Share;
  readonly time: CycleTime;
  readonly minutes: number;
}

/** Our choice: if a block can't be flown in so many times the loads that tank and time over the field ask for, sets are too small for it. */
const loadsMostTimes = 3;

/**
 * The share of a block over loads that takes the fewest minutes, among those the fewest loads; undefined when a set lasts
 * for none. A full tank is not always best: a little less may save a change of battery, or let every aircraft fly as often as
 * the others. An aircraft may stay on the ground. So nothing more in the outfit makes a block take longer: what was
 * possible still is.
 *
 * Tries every number of aircraft and of sorties per set, with the number of loads counted up from the fewest until a
 * bound shows that more of them save no minute. With fuel, a filling is flown as long as it lasts: a later stop for
 * fuel delays nobody; a battery changed early may charge while others fly.
 */
export function bestShare(
  demand: CycleDemand,
  aircraftMax: number,
  loadsMin: number,
  loadsWorth: number,
): TimedShare | undefined {
  const loadsMost = loadsMostTimes * Math.max(loadsMin, loadsWorth);
  let best: TimedShare | undefined;
  for (let aircraft = aircraftMax; aircraft >= 1; aircraft--) {
    for (let loads = loadsMin; best !== undefined || loads <= loadsMost; loads++) {
      const unchanged = { aircraft, loads, sortiesPerSet: loads };
      if (best !== undefined) {
        const leastMin = wholeMinutes(leastCycleS(demand, unchanged, demand.leastAirSumS(loads)));
        if (!mayBeat(leastMin, loads, best)) break;
      }
      const airS = demand.airS(loads);
      const most = sortiesOnSet(airS, aircraft, demand.airMaxS);
      let airSumS = 0;
      for (const each of airS) airSumS += each;
      for (
        let sortiesPerSet = demand.battery === undefined ? Math.max(1, most) : 1;
        sortiesPerSet <= most;
        sortiesPerSet++
      ) {
        const share = { aircraft, loads, sortiesPerSet };
        if (best !== undefined && !mayBeat(wholeMinutes(leastCycleS(demand, share, airSumS)), loads, best)) continue;
        const time = cycleTime(demand, share);
        const minutes = wholeMinutes(time.totalS);
        if (best === undefined || isBetter(minutes, loads, time, best)) best = { share, time, minutes };
      }
    }
  }
  return best;
}

/** The most sorties for which a set lasts in each of an aircraft's turns; 0 when it does not last for each one. */
function sortiesOnSet(airS: Float64Array, aircraft: number, airMaxS: number): number {
  const turnsMost = Math.ceil(airS.length / aircraft);
  let most = 0;
  while (most < turnsMost && lastsFor(airS, aircraft, most + 1, airMaxS)) most++;
  return most;
}

function lastsFor(airS: Float64Array, aircraft: number, sorties: number, airMaxS: number): boolean {
  for (let first = 0; first < airS.length; first++) {
    if (Math.floor(first / aircraft) % sorties !== 0) continue;
    let flownS = 0;
    for (let k = 0; k < sorties; k++) flownS += airS[first + k * aircraft] ?? 0;
    if (flownS > airMaxS) return false;
  }
  return true;
}

function mayBeat(leastMin: number, loads: number, best: TimedShare): boolean {
  return leastMin < best.minutes || (leastMin === best.minutes && loads < best.share.loads);
}

function isBetter(minutes: number, loads: number, time: CycleTime, best: TimedShare): boolean {
  if (minutes !== best.minutes) return minutes < best.minutes;
  if (loads !== best.share.loads) return loads < best.share.loads;
  return time.totalS < best.time.totalS;
}
