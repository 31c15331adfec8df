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

export type Bottleneck = "aircraft" | "loading" | "mixing" | "batteries" | "chargers";

export interface CycleTime {
  readonly totalS: number;
  readonly bottleneck: Bottleneck;
  /** Battery sets or fuel fillings taken out and replaced by another, over all aircraft. */
  readonly changes: number;
}

/**
 * Time from the first fill to the last landing, loads being of one size. As in any closed cycle, no share of the work can
 * run faster than the station that it keeps busiest (Lazowska et al., Quantitative System Performance, 1984, chapter 5),
 * so the time is the first fill and the greatest of
 *
 * - aircraft: the sorties of the busiest one, with its loads and changes between them, later by the loads of
 *   the others that fly as many sorties;
 * - loading: all loads but the first one after the other at one loading point, then the last sortie;
 * - mixing: all loads but the first made up one after the other, then the last sortie;
 * - batteries: the sorties that fall to one set, and a charge whenever it is empty between them;
 * - chargers: sets are full at the start and may be empty at the end. Of the sets used up, those beyond the stock
 *   are charged again, `bays` at a time, after the first set came down empty and before the last is flown.
 *
 * Changing a set takes the aircraft's time, not the loading point's.
 */
export function cycleTime(demand: CycleDemand, { aircraft, loads, sortiesPerSet }: Share): CycleTime {
  const airS = demand.perSortieS + demand.overFieldS / loads;
  const loadS = demand.perLoadS + demand.pumpS / loads;
  const mixS = demand.mixS / loads;
  const rounds = Math.ceil(loads / aircraft);
  /** Aircraft that fly in the last round too. */
  const busiest = loads - aircraft * (rounds - 1);
  const fillings = Math.ceil(rounds / sortiesPerSet);
  const fillingsOfOthers = Math.ceil((rounds - 1) / sortiesPerSet);
  const flying = Math.min(aircraft, loads);
  const used = busiest * fillings + (flying - busiest) * fillingsOfOthers;

  const inTurnS = (sorties: number) => sorties * airS + (sorties - 1) * loadS;
  let greatestS = (busiest - 1) * loadS + inTurnS(rounds) + (fillings - 1) * demand.changeS;
  let bottleneck: Bottleneck = "aircraft";
  const consider = (name: Bottleneck, boundS: number) => {
    if (boundS > greatestS) {
      greatestS = boundS;
      bottleneck = name;
    }
  };

  consider("loading", (loads - 1) * loadS + airS);
  consider("mixing", (loads - 1) * mixS + airS);
  if (demand.battery !== undefined) {
    const { sets, bays, chargeS } = demand.battery;
    const sortiesOfSet = Math.ceil(loads / sets);
    const chargesOfSet = Math.ceil(sortiesOfSet / sortiesPerSet) - 1;
    consider("batteries", inTurnS(sortiesOfSet) + chargesOfSet * (chargeS + demand.changeS));
    const charges = used - sets;
    if (charges > 0) {
      const lastSorties = rounds - (fillings - 1) * sortiesPerSet;
      const chargingS = Math.ceil(charges / bays) * chargeS;
      consider(
        "chargers",
        inTurnS(Math.min(sortiesPerSet, rounds)) + chargingS + demand.changeS + inTurnS(lastSorties),
      );
    }
  }
  return { totalS: mixS + loadS + greatestS, bottleneck, changes: used - flying };
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
