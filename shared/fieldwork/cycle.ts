import { secondsPerMinute } from "../units/units.ts";

/** What a block asks of an outfit before it is shared out over loads. Sums are over the whole block. */
export interface CycleDemand {
  /** Over the field: passes and turns. */
  readonly overFieldS: number;
  /** Of every sortie: there and back, taking off and landing. */
  readonly perSortieS: number;
  /** Of every load: coupling and checks. */
  readonly perLoadS: number;
  readonly pumpS: number;
  readonly mixS: number;
  /** Time in the air on one battery set or fuel filling, down to the reserve. */
  readonly airMaxS: number;
  /** To change a battery set, or to refuel. */
  readonly changeS: number;
  readonly battery: BatteryDemand | undefined;
}

export interface BatteryDemand {
  readonly sets: number;
  /** Bays that charge at once. */
  readonly bays: number;
  readonly chargeS: number;
}

/** How a block is shared out. */
export interface Share {
  readonly aircraft: number;
  readonly loads: number;
  /** Sorties flown on one battery set or fuel filling. */
  readonly sortiesPerSet: number;
}

export interface CycleTime {
  /** From the first fill to the last landing. */
  readonly totalS: number;
  /** Battery sets or fuel fillings taken out and replaced by another, over all aircraft. */
  readonly changes: number;
}

/**
 * Plays the block load by load. Aircraft take turns, so that load i goes to the aircraft that flew load i - m (m aircraft).
 * A load goes in when it is mixed, when the one loading point is free, and when its aircraft is back; after every
 * `sortiesPerSet` sorties it gets another set first. With S sets, use u of a set must wait for the set of use u - S to be
 * charged; with b bays, that charge must wait for the charge b before it. So sets are full at the start of the block, the
 * first S uses need no charge, and what came down empty may stay empty at the end.
 *
 * Every time is a greatest of sums of earlier times (an event graph in max-plus algebra: Baccelli et al., Synchronization
 * and Linearity, 1992, chapter 2), so no time grows when a duration shrinks or when sets or bays are added.
 * Changing a set takes the aircraft's time, not the loading point's.
 */
export function cycleTime(demand: CycleDemand, { aircraft, loads, sortiesPerSet }: Share): CycleTime {
  const { battery, changeS } = demand;
  const airS = demand.perSortieS + demand.overFieldS / loads;
  const loadS = demand.perLoadS + demand.pumpS / loads;
  const mixS = demand.mixS / loads;
  const landS: number[] = [];
  /** chargedS[u]: when the set of use u is full again. */
  const chargedS: number[] = [];
  const loadsPerSet = aircraft * sortiesPerSet;
  let changes = 0;
  let loadedS = 0;

  for (let load = 0; load < loads; load++) {
    let readyS = 0;
    if (load >= aircraft) {
      const backS = landS[load - aircraft]!;
      readyS = backS;
      if (load % loadsPerSet < aircraft) {
        const emptied = changes;
        changes++;
        if (battery !== undefined) {
          const { sets, bays, chargeS } = battery;
          const bayFreeS = emptied < bays ? 0 : chargedS[emptied - bays]!;
          chargedS.push(Math.max(backS, bayFreeS) + chargeS);
          const use = emptied + aircraft;
          if (use >= sets) readyS = Math.max(backS, chargedS[use - sets]!);
        }
        readyS += changeS;
      }
    }
    loadedS = Math.max(readyS, loadedS, (load + 1) * mixS) + loadS;
    landS.push(loadedS + airS);
  }
  return { totalS: landS[loads - 1]!, changes };
}

export type Bottleneck = "aircraft" | "loading" | "mixing" | "batteries" | "chargers";

export interface CycleBound {
  readonly boundS: number;
  readonly bottleneck: Bottleneck;
}

/**
 * As in any closed cycle, no share of the work runs faster than the station that it keeps busiest (Lazowska et al.,
 * Quantitative System Performance, 1984, chapter 5). The bound on the cycle time is the first fill and the greatest of
 *
 * - aircraft: the sorties of the busiest one, with its loads and changes between them, later by the loads of
 *   the others that fly as many sorties;
 * - loading: all loads but the first one after the other, then the last sortie;
 * - mixing: all loads but the first made up one after the other, then the last sortie;
 * - batteries: the sorties that fall to one set, and a charge whenever it is empty between them;
 * - chargers: the charges that are needed beyond the stock, `bays` at a time, after the first set came down empty
 *   and before the last one is flown.
 */
export function cycleBound(demand: CycleDemand, { aircraft, loads, sortiesPerSet }: Share): CycleBound {
  const airS = demand.perSortieS + demand.overFieldS / loads;
  const loadS = demand.perLoadS + demand.pumpS / loads;
  const mixS = demand.mixS / loads;
  const rounds = Math.ceil(loads / aircraft);
  /** Aircraft that fly in the last round too. */
  const busiest = loads - aircraft * (rounds - 1);
  const fillings = Math.ceil(rounds / sortiesPerSet);

  const cycleS = airS + loadS;
  const aircraftS = rounds * cycleS - loadS + (busiest - 1) * loadS + (fillings - 1) * demand.changeS;
  const loadingS = (loads - 1) * loadS + airS;
  const mixingS = (loads - 1) * mixS + airS;
  let batteriesS = 0;
  let chargersS = 0;
  if (demand.battery !== undefined) {
    const { sets, bays, chargeS } = demand.battery;
    const sortiesOfSet = Math.ceil(loads / sets);
    const chargesOfSet = Math.ceil(sortiesOfSet / sortiesPerSet) - 1;
    batteriesS = sortiesOfSet * cycleS - loadS + chargesOfSet * (chargeS + demand.changeS);
    const fillingsOfOthers = Math.ceil((rounds - 1) / sortiesPerSet);
    const uses = busiest * fillings + (aircraft - busiest) * fillingsOfOthers;
    if (uses > sets) {
      const chargingS = Math.ceil((uses - sets) / bays) * chargeS;
      chargersS = sortiesPerSet * cycleS - loadS + chargingS + demand.changeS + cycleS;
    }
  }

  const greatestS = Math.max(aircraftS, loadingS, mixingS, batteriesS, chargersS);
  return { boundS: mixS + loadS + greatestS, bottleneck: nameOfGreatest() };

  function nameOfGreatest(): Bottleneck {
    if (aircraftS === greatestS) return "aircraft";
    if (loadingS === greatestS) return "loading";
    if (mixingS === greatestS) return "mixing";
    return batteriesS === greatestS ? "batteries" : "chargers";
  }
}

/**
 * A time that no share with these aircraft, sorties per set and at least as many loads goes below: whole rounds and
 * stations other than the aircraft and the loading point left out. It only grows with the loads.
 */
export function leastCycleS(demand: CycleDemand, { aircraft, loads, sortiesPerSet }: Share): number {
  const aircraftS =
    (loads * (demand.perSortieS + demand.perLoadS) + demand.overFieldS + demand.pumpS) / aircraft +
    Math.max(0, loads / (aircraft * sortiesPerSet) - 1) * demand.changeS;
  const loadingS = loads * demand.perLoadS + demand.pumpS + demand.perSortieS;
  return Math.max(aircraftS, loadingS);
}

/** Our choice: rounding in the last digits does not cost a minute. */
const minuteSlack = 1e-6;
export function wholeMinutes(durationS: number): number {
  return Math.ceil(durationS / secondsPerMinute - minuteSlack);
}
