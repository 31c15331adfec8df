import {
  type CycleDemand,
  type CycleTime,
  cycleTime,
  leastCycleS,
  mostPerSet,
  mostSecondsOf,
  type Share,
  wholeMinutes,
} from "./cycle.ts";

export interface TimedShare {
  readonly share: Share;
  readonly time: CycleTime;
  readonly minutes: number;
}

/**
 * Our choice: so many more loads than are needed are tried, and so many in any case, whatever tank and speed ask for; the bound nearly always
 * ends it before. So what a smaller tank could do a larger one can, too.
 */
const loadsMore = 40;
const loadsAnyway = 80;
/** Our choice: sorties are made shorter than they are worth, up to so many times, before a block counts as out of reach. */
const lastingTimes = 4;
/** A sum of sorties may differ so much by rounding. */
const sumSlack = 1e-9;

/**
 * The share of a block over loads that takes the fewest minutes, among those the fewest loads; undefined when a set lasts
 * for no sortie, in however many loads are worth flying and some times as many. A full tank is not always best: a little less may save a change of battery, or
 * let every aircraft fly as often as the others. An aircraft may stay on the ground. So nothing more in the outfit makes a
 * block take longer: what was possible still is.
 *
 * Tries every number of aircraft and of sorties per set, with the number of loads counted up from the fewest that tank and set ask
 * for until a bound shows that more of them save no minute. Undefined, too, when none takes fewer minutes than `fewerThanMin`.
 */
export function bestShare(
  demand: CycleDemand,
  aircraftMax: number,
  loadsMin: number,
  loadsWorth: number,
  fewerThanMin = Number.POSITIVE_INFINITY,
): TimedShare | undefined {
  const { beside } = demand;
  let loadsLasting = loadsMin;
  while (sortiesOnSet(demand, loadsLasting, 1, 1) === 0) {
    if (loadsLasting >= lastingTimes * Math.max(loadsMin, loadsWorth)) return undefined;
    loadsLasting++;
  }
  const loadsMost = Math.max(loadsLasting + loadsMore, loadsAnyway);
  let best: TimedShare | undefined;
  /** A share must take fewer minutes, or as many in fewer loads. */
  let beatMin = fewerThanMin;
  let beatLoads = 0;
  for (let aircraft = aircraftMax; aircraft >= 1; aircraft--) {
    for (let loads = loadsLasting; loads <= loadsMost; loads++) {
      const leastS = beside.leastSumS(loads);
      const unchanged = { aircraft, loads, sortiesPerSet: loads };
      if (isBeaten(demand, unchanged, leastS, beatMin, beatLoads)) break;
      if (!mayBeat(demand, unchanged, leastS, beatMin, beatLoads)) break;
      const besideS = beside.sumS(loads);
      if (isBeaten(demand, unchanged, besideS, beatMin, beatLoads)) continue;
      if (!mayBeat(demand, unchanged, besideS, beatMin, beatLoads)) continue;
      const most = sortiesOnSet(demand, loads, aircraft, Math.ceil(loads / aircraft));
      for (let sortiesPerSet = 1; sortiesPerSet <= most; sortiesPerSet++) {
        const share = { aircraft, loads, sortiesPerSet };
        if (!mayBeat(demand, share, besideS, beatMin, beatLoads)) continue;
        const time = cycleTime(demand, share, longestS(loads, beatMin, best));
        const minutes = wholeMinutes(time.totalS);
        if (minutes >= fewerThanMin || (best !== undefined && !isBetter(minutes, loads, time, best))) continue;
        best = { share, time, minutes };
        beatMin = minutes;
        beatLoads = loads;
      }
    }
  }
  return best;
}

/** For how many sorties, up to a most, a set lasts in each of an aircraft's turns; 0 when it does not last for each one. */
function sortiesOnSet(
  { beside, sprayS, airMaxS }: CycleDemand,
  loads: number,
  aircraft: number,
  atMost: number,
): number {
  const besideS = beside.eachS(loads);
  const overFieldS = sprayS / loads;
  let [shortestS, longestS] = [Number.POSITIVE_INFINITY, 0];
  for (let load = 0; load < loads; load++) {
    const airS = besideS[load]! + overFieldS;
    if (airS < shortestS) shortestS = airS;
    if (airS > longestS) longestS = airS;
  }
  let most = 0;
  while (most < atMost) {
    const sorties = most + 1;
    // Some aircraft flies so many sorties on a set. What is near to the limit is summed as it is flown.
    if (sorties * shortestS > airMaxS * (1 + sumSlack)) break;
    if (sorties * longestS > airMaxS * (1 - sumSlack) && !lastsFor(sorties, besideS, overFieldS, airMaxS, aircraft))
      break;
    most++;
  }
  return most;
}

function lastsFor(
  sorties: number,
  besideS: ArrayLike<number>,
  overFieldS: number,
  airMaxS: number,
  aircraft: number,
): boolean {
  const loads = besideS.length;
  const perSet = aircraft * sorties;
  for (let round = 0; round < loads; round += perSet) {
    const last = Math.min(loads, round + aircraft);
    const end = Math.min(loads, round + perSet);
    for (let first = round; first < last; first++) {
      let flownS = 0;
      for (let load = first; load < end; load += aircraft) flownS += besideS[load]! + overFieldS;
      if (flownS > airMaxS) return false;
    }
  }
  return true;
}

function mayBeat(demand: CycleDemand, share: Share, besideS: number, beatMin: number, beatLoads: number): boolean {
  const leastMin = wholeMinutes(leastCycleS(demand, share, besideS));
  return leastMin < beatMin || (leastMin === beatMin && share.loads < beatLoads);
}

/**
 * Whether no share in so many loads can be better, changes of sets or fillings counted that what is flown takes at least. Of shares in as many loads as the best nothing is said:
 * which of those that take as many minutes is played last decides how the block is shared out.
 */
function isBeaten(demand: CycleDemand, share: Share, besideS: number, beatMin: number, beatLoads: number): boolean {
  const { aircraft, loads } = share;
  const onSets = { aircraft, loads, sortiesPerSet: mostPerSet(demand, loads, besideS) };
  const leastMin = wholeMinutes(leastCycleS(demand, onSets, besideS));
  return leastMin > beatMin || (leastMin === beatMin && loads > beatLoads);
}

/** A play that takes longer is not better, whatever comes after. */
function longestS(loads: number, beatMin: number, best: TimedShare | undefined): number {
  if (best?.share.loads === loads) return best.time.totalS;
  return mostSecondsOf(best !== undefined && loads < best.share.loads ? beatMin : beatMin - 1);
}

function isBetter(minutes: number, loads: number, time: CycleTime, best: TimedShare): boolean {
  if (minutes !== best.minutes) return minutes < best.minutes;
  if (loads !== best.share.loads) return loads < best.share.loads;
  return time.totalS < best.time.totalS;
}
