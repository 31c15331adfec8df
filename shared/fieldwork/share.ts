import {
  type CycleDemand,
  type CycleTime,
  cycleBound,
  cycleTime,
  leastCycleS,
  type Share,
  wholeMinutes,
} from "./cycle.ts";

export interface TimedShare {
  readonly share: Share;
  readonly time: CycleTime;
  readonly minutes: number;
}

/**
 * The share of a block over loads that takes the fewest minutes, among those the fewest loads. A full tank is not always
 * best: a little less may save a change of battery, or let every aircraft fly as often as the others. An aircraft may stay
 * on the ground. So nothing more in the outfit makes a block take longer: what was possible still is.
 *
 * Tries every number of aircraft and of sorties per set, with the number of loads counted up from the fewest until a
 * bound shows that more of them save no minute. More than `loadsWorth` are taken only when tank or set ask for them.
 */
export function bestShare(demand: CycleDemand, aircraftMax: number, loadsMin: number, loadsWorth: number): TimedShare {
  /** The fewest loads of which so many fit into a set. */
  const loadsFor = (sortiesPerSet: number) => {
    const overSetS = demand.airMaxS - sortiesPerSet * demand.perSortieS;
    if (overSetS <= 0) return Number.POSITIVE_INFINITY;
    return Math.max(loadsMin, Math.ceil((sortiesPerSet * demand.overFieldS) / overSetS));
  };
  const loadsMost = Math.max(loadsWorth, loadsFor(1));
  let best: TimedShare | undefined;
  for (let aircraft = aircraftMax; aircraft >= 1; aircraft--) {
    // A set that lasts for every sortie of an aircraft is never changed: more sorties per set bring nothing.
    const sortiesMost = Math.ceil(loadsMost / aircraft);
    for (let sortiesPerSet = 1; sortiesPerSet <= sortiesMost; sortiesPerSet++) {
      for (let loads = loadsFor(sortiesPerSet); loads <= loadsMost; loads++) {
        const share = { aircraft, loads, sortiesPerSet };
        if (best !== undefined) {
          const leastMin = wholeMinutes(leastCycleS(demand, share));
          if (!mayBeat(leastMin, loads, best)) break;
          if (!mayBeat(wholeMinutes(cycleBound(demand, share).boundS), loads, best)) continue;
        }
        const time = cycleTime(demand, share);
        const minutes = wholeMinutes(time.totalS);
        if (best === undefined || isBetter(minutes, loads, time, best)) best = { share, time, minutes };
      }
    }
  }
  if (best === undefined) throw new RangeError("not even one sortie fits into a set");
  return best;
}

function mayBeat(leastMin: number, loads: number, best: TimedShare): boolean {
  return leastMin < best.minutes || (leastMin === best.minutes && loads < best.share.loads);
}

function isBetter(minutes: number, loads: number, time: CycleTime, best: TimedShare): boolean {
  if (minutes !== best.minutes) return minutes < best.minutes;
  if (loads !== best.share.loads) return loads < best.share.loads;
  return time.totalS < best.time.totalS;
}
