import { type CycleDemand, type CycleTime, cycleTime, leastCycleS, type Share, wholeMinutes } from "./cycle.ts";

export interface TimedShare {
  readonly share: Share;
  readonly time: CycleTime;
  readonly minutes: number;
}

/** Our choice: so many more loads than are needed are tried, and up to so many in any case that are worth flying; the bound nearly always ends it before. */
const loadsMore = 40;
/** Our choice: sorties are made shorter than they are worth, up to so many times, before a block counts as out of reach. */
const lastingTimes = 4;
const worthMost = 80;

/**
 * The share of a block over loads that takes the fewest minutes, among those the fewest loads; undefined when a set lasts
 * for no sortie, in however many loads are worth flying and some times as many. A full tank is not always best: a little less may save a change of battery, or
 * let every aircraft fly as often as the others. An aircraft may stay on the ground. So nothing more in the outfit makes a
 * block take longer: what was possible still is.
 *
 * Tries every number of aircraft and of sorties per set, with the number of loads counted up from the fewest that tank and set ask
 * for until a bound shows that more of them save no minute.
 */
export function bestShare(
  demand: CycleDemand,
  aircraftMax: number,
  loadsMin: number,
  loadsWorth: number,
): TimedShare | undefined {
  const { beside } = demand;
  let loadsLasting = loadsMin;
  while (sortiesOnSet(demand, loadsLasting, 1, 1) === 0) {
    if (loadsLasting >= lastingTimes * Math.max(loadsMin, loadsWorth)) return undefined;
    loadsLasting++;
  }
  const loadsMost = Math.max(loadsLasting + loadsMore, Math.min(loadsWorth, worthMost));
  let best: TimedShare | undefined;
  for (let aircraft = aircraftMax; aircraft >= 1; aircraft--) {
    for (let loads = loadsLasting; loads <= loadsMost; loads++) {
      const unchanged = { aircraft, loads, sortiesPerSet: loads };
      if (best !== undefined && !mayBeat(demand, unchanged, beside.leastSumS(loads), best)) break;
      const besideS = beside.sumS(loads);
      if (best !== undefined && !mayBeat(demand, unchanged, besideS, best)) continue;
      const most = sortiesOnSet(demand, loads, aircraft, Math.ceil(loads / aircraft));
      for (let sortiesPerSet = 1; sortiesPerSet <= most; sortiesPerSet++) {
        const share = { aircraft, loads, sortiesPerSet };
        if (best !== undefined && !mayBeat(demand, share, besideS, best)) continue;
        const time = cycleTime(demand, share);
        const minutes = wholeMinutes(time.totalS);
        if (best === undefined || isBetter(minutes, loads, time, best)) best = { share, time, minutes };
      }
    }
  }
  return best;
}

/** For how many sorties, up to a most, a set lasts in each of an aircraft's turns; 0 when it does not last for each one. */
function sortiesOnSet(demand: CycleDemand, loads: number, aircraft: number, atMost: number): number {
  const besideS = demand.beside.eachS(loads);
  const sprayS = demand.sprayS / loads;
  let most = 0;
  while (most < atMost && lastsFor(most + 1)) most++;
  return most;

  function lastsFor(sorties: number): boolean {
    for (let round = 0; round < loads; round += aircraft * sorties) {
      const last = Math.min(loads, round + aircraft);
      for (let first = round; first < last; first++) {
        let flownS = 0;
        for (let load = first; load < loads && load < round + aircraft * sorties; load += aircraft) {
          flownS += besideS[load]! + sprayS;
        }
        if (flownS > demand.airMaxS) return false;
      }
    }
    return true;
  }
}

function mayBeat(demand: CycleDemand, share: Share, besideS: number, best: TimedShare): boolean {
  const leastMin = wholeMinutes(leastCycleS(demand, share, besideS));
  return leastMin < best.minutes || (leastMin === best.minutes && share.loads < best.share.loads);
}

function isBetter(minutes: number, loads: number, time: CycleTime, best: TimedShare): boolean {
  if (minutes !== best.minutes) return minutes < best.minutes;
  if (loads !== best.share.loads) return loads < best.share.loads;
  return time.totalS < best.time.totalS;
}
