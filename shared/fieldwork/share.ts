import { type CycleDemand, type CycleTime, cycleTime, leastCycleS, type Share, wholeMinutes } from "./cycle.ts";

export interface TimedShare {
  readonly share: Share;
  readonly time: CycleTime;
  readonly minutes: number;
}

/** Our choice: blocks of at most so many loads are tried with every number that is worth flying; of larger ones only some. */
const loadsAllTried = 60;
/** Our choice for these: how often loads are made so much smaller that a set lasts for another sortie. */
const smallerTimes = 2;

/**
 * The share of a block over loads that takes the fewest minutes, among those the fewest loads; undefined when a set lasts
 * for no sortie, in as many as `loadsWorth` loads. A full tank is not always best: a little less may save a change of battery, or
 * let every aircraft fly as often as the others. An aircraft may stay on the ground. So nothing more in the outfit makes a
 * block take longer: what was possible still is.
 *
 * Tries every number of aircraft and of sorties per set, with the number of loads counted up from the fewest that tank and set ask
 * for until a bound shows that more of them save no minute, or a sortie is too short to be worth it.
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
    if (loadsLasting >= Math.max(loadsMin, loadsWorth)) return undefined;
    loadsLasting++;
  }
  let best: TimedShare | undefined;
  for (let aircraft = aircraftMax; aircraft >= 1; aircraft--) {
    for (const loads of loadsTried(demand, aircraft, loadsLasting, Math.max(loadsLasting, loadsWorth))) {
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

/** Numbers of loads that are worth a try, rising. */
function* loadsTried(demand: CycleDemand, aircraft: number, loadsMin: number, loadsMost: number): Generator<number> {
  if (loadsMin <= loadsAllTried) {
    for (let loads = loadsMin; loads <= Math.max(loadsMost, loadsMin + 2 * aircraft); loads++) yield loads;
    return;
  }
  // Some more than the fewest, so that every aircraft may fly as often as the others; likewise of every smaller size.
  const sortiesOf = (loads: number) => sortiesOnSet(demand, loads, aircraft, Math.ceil(loads / aircraft));
  let from = loadsMin;
  for (let smaller = 0; smaller <= smallerTimes; smaller++) {
    const to = from + 2 * aircraft;
    for (let loads = from; loads <= to; loads++) yield loads;
    // More sorties fit into a set only when they are shorter, so the loads for one more are found by halving.
    const sorties = sortiesOf(to);
    let low = to;
    let high = to;
    while (high < loadsMost && sortiesOf(high) <= sorties) {
      low = high;
      high = Math.min(loadsMost, 2 * high);
    }
    if (sortiesOf(high) <= sorties) return;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (sortiesOf(middle) > sorties) high = middle;
      else low = middle;
    }
    from = Math.max(high, to + 1);
  }
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
