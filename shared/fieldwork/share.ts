import { type CycleDemand, type CycleTime, cycleTime, leastCycleS, type Share, wholeMinutes } from "./cycle.ts";

export interface TimedShare {
  readonly share: Share;
  readonly time: CycleTime;
  readonly minutes: number;
}

/** Our choice: beyond so many times the fewest loads, and as many more for each aircraft, none were ever the best; so it stays fast. */
const loadsMostTimes = 2;

/**
 * The share of a block over loads that takes the fewest minutes, among those the fewest loads; undefined when a set lasts
 * for no sortie, in as many as `loadsWorth` loads. A full tank is not always best: a little less may save a change of battery, or
 * let every aircraft fly as often as the others. An aircraft may stay on the ground. So nothing more in the outfit makes a
 * block take longer: what was possible still is.
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
  const isFuel = demand.battery === undefined;
  let loadsLasting = loadsMin;
  while (sortiesOnSet(demand.airS(loadsLasting), 1, 1, demand.airMaxS) === 0) {
    if (loadsLasting >= Math.max(loadsMin, loadsWorth)) return undefined;
    loadsLasting++;
  }
  const loadsMost = loadsMostTimes * (loadsLasting + aircraftMax);
  let best: TimedShare | undefined;
  for (let aircraft = aircraftMax; aircraft >= 1; aircraft--) {
    for (let loads = loadsLasting; loads <= loadsMost; loads++) {
      const unchanged = { aircraft, loads, sortiesPerSet: loads };
      const mayBeatWith = (share: Share, airSumS: number) =>
        best === undefined || mayBeat(wholeMinutes(leastCycleS(demand, share, airSumS)), loads, best);
      if (!mayBeatWith(unchanged, demand.leastAirSumS(loads))) break;
      const airSumS = demand.airSumS(loads);
      if (!mayBeatWith(unchanged, airSumS)) continue;
      const most = sortiesOnSet(demand.airS(loads), aircraft, Math.ceil(loads / aircraft), demand.airMaxS);
      for (let sortiesPerSet = isFuel ? Math.max(1, most) : 1; sortiesPerSet <= most; sortiesPerSet++) {
        const share = { aircraft, loads, sortiesPerSet };
        if (!mayBeatWith(share, airSumS)) continue;
        const time = cycleTime(demand, share);
        const minutes = wholeMinutes(time.totalS);
        if (best === undefined || isBetter(minutes, loads, time, best)) best = { share, time, minutes };
      }
    }
  }
  return best;
}

/** For how many sorties, up to a most, a set lasts in each of an aircraft's turns; 0 when it does not last for each one. */
function sortiesOnSet(airS: Float64Array, aircraft: number, atMost: number, airMaxS: number): number {
  let most = 0;
  while (most < atMost && lastsFor(airS, aircraft, most + 1, airMaxS)) most++;
  return most;
}

function lastsFor(airS: Float64Array, aircraft: number, sorties: number, airMaxS: number): boolean {
  for (let round = 0; round < airS.length; round += aircraft * sorties) {
    for (let first = round; first < Math.min(airS.length, round + aircraft); first++) {
      let flownS = 0;
      for (let k = 0; k < sorties; k++) flownS += airS[first + k * aircraft] ?? 0;
      if (flownS > airMaxS) return false;
    }
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
