import { secondsPerMinute } from "../units/units.ts";

/** Time in the air beside the passes: ferries, turns, taking off and landing. By the number of loads that a block is shared out over. */
export interface Beside {
  /** Of each sortie, in the order flown, seconds. */
  eachS(loads: number): Float64Array;
  /** Of all of them. */
  sumS(loads: number): number;
  /** No more than that; does not fall with the loads. */
  leastSumS(loads: number): number;
}

/** What a block asks of an outfit. Sums are over the whole block. */
export interface CycleDemand {
  readonly beside: Beside;
  /** On the passes; every sortie has an even share. */
  readonly sprayS: number;
  /** Of every load: coupling and checks. */
  readonly perLoadS: number;
  readonly pumpS: number;
  readonly mixS: number;
  /** Aircraft that are loaded at once. */
  readonly loadingPoints: number;
  /** Time in the air on one battery set or fuel filling, down to the reserve. */
  readonly airMaxS: number;
  /** To change a battery set, or to refuel. */
  readonly changeS: number;
  /** Whether every aircraft refuels before its first load. */
  readonly refuelsFirst: boolean;
  readonly battery: BatteryDemand | undefined;
}

export interface BatteryDemand {
  readonly sets: number;
  /** Of these, charged when the block begins; the others go on the bays then. */
  readonly full: number;
  /** What each of these others needs of a whole charge. */
  readonly neededFrac: number;
  /** Bays that charge at once. */
  readonly bays: number;
  /** From the reserve to full; a set that gave less takes less. */
  readonly chargeS: number;
}

/** How a block is shared out. */
export interface Share {
  readonly aircraft: number;
  readonly loads: number;
  /** Sorties flown on one battery set or fuel filling. */
  readonly sortiesPerSet: number;
}

/** What an aircraft on the ground waits for. */
export const waits = ["loading", "mixing", "batteries", "chargers"] as const;
export type Wait = (typeof waits)[number];
export const bottlenecks = ["aircraft", ...waits] as const;
export type Bottleneck = (typeof bottlenecks)[number];

export interface CycleTime {
  /** From the first fill to the last landing; without end when a set does not last for its sorties. */
  readonly totalS: number;
  /** Battery sets or fuel fillings taken out and replaced by another, over all aircraft. */
  readonly changes: number;
  /** By what is waited for, over all aircraft, from the first fill on. */
  readonly waitS: Readonly<Record<Wait, number>>;
  /** Charging that was done by the last landing, over all bays. */
  readonly chargingS: number;
  /** Charging that all sets together still need then; a set in an aircraft as much as it has flown. */
  readonly leftChargeS: number;
  /** Sets that are not full then. */
  readonly waitingSets: number;
  /** The longest time in the air of an aircraft since its last change, and so since its last filling. */
  readonly flownS: number;
}

const never: CycleTime = {
  totalS: Number.POSITIVE_INFINITY,
  changes: 0,
  waitS: { loading: 0, mixing: 0, batteries: 0, chargers: 0 },
  chargingS: 0,
  leftChargeS: 0,
  waitingSets: 0,
  flownS: 0,
};
/** Our choice: a set may be over by a millionth of a second, so that rounding does not ground it. */
const setSlackS = 1e-6;

/**
 * Plays the block load by load. Aircraft take turns, so that load i goes to the aircraft that flew load i - m (m aircraft).
 * A load goes in when it is mixed, when the load before it has begun to and one of the p loading points is free, and when its aircraft is back; after every
 * `sortiesPerSet` sorties it gets another set first: of those at the pad the one that is full soonest. Sets that are not full at the
 * start are charged then, all alike; sets that come down, in proportion to what they gave. A charge begins on the first free bay, not
 * before the one before it. What comes down empty may stay so at the end.
 *
 * Every time is made of earlier times by sums, greatest ones and least ones of those there are (an event graph, but for the choice of sets
 * and bays, in max-plus algebra: Baccelli et al., Synchronization and Linearity, 1992, chapter 2), so no time grows when a duration
 * shrinks or when sets, bays or loading points are added. Changing a set takes the aircraft's time, not the loading point's.
 */
export function cycleTime(demand: CycleDemand, { aircraft, loads, sortiesPerSet }: Share): CycleTime {
  const { battery, changeS, loadingPoints, airMaxS } = demand;
  const besideS = demand.beside.eachS(loads);
  const sprayS = demand.sprayS / loads;
  const loadS = demand.perLoadS + demand.pumpS / loads;
  const mixS = demand.mixS / loads;
  const landS = new Float64Array(loads);
  const loadedS = new Float64Array(loads);
  /** Since its last change, by aircraft. */
  const flownS = new Float64Array(aircraft);
  /** When charge j begins, when it is done, and when the bay it is on was free. */
  const chargeStartS: number[] = [];
  const chargedS: number[] = [];
  const freeS: number[] = [];
  /** Charges of the sets at the pad; those that are full and need none are only counted. */
  const atPad: number[] = [];
  let fullAtPad = battery?.full ?? 0;
  const bayFreeS = new Float64Array(battery?.bays ?? 0);
  if (battery !== undefined) {
    for (let waiting = 0; waiting < battery.sets - battery.full; waiting++) {
      putOnBay(0, battery.neededFrac * battery.chargeS);
    }
  }
  const loadsPerSet = aircraft * sortiesPerSet;
  const waitS = { loading: 0, mixing: 0, batteries: 0, chargers: 0 };
  let changes = 0;
  let lastStartS = 0;
  let lastS = 0;

  for (let load = 0; load < loads; load++) {
    const craft = load % aircraft;
    let readyS = demand.refuelsFirst && load < aircraft ? changeS : 0;
    if (load < aircraft) {
      if (battery !== undefined) readyS = takeSet(readyS);
    } else {
      const backS = landS[load - aircraft]!;
      readyS = backS;
      if (load % loadsPerSet < aircraft) {
        changes++;
        if (battery !== undefined) {
          putOnBay(backS, battery.chargeS * Math.min(1, flownS[craft]! / airMaxS));
          readyS = takeSet(backS);
        }
        flownS[craft] = 0;
        readyS += changeS;
      }
    }
    const mixedS = (load + 1) * mixS;
    const pointS = Math.max(lastStartS, load >= loadingPoints ? loadedS[load - loadingPoints]! : 0);
    const startS = Math.max(readyS, pointS, mixedS);
    lastStartS = startS;
    waitS[mixedS > pointS ? "mixing" : "loading"] += startS - readyS;
    loadedS[load] = startS + loadS;
    const airS = besideS[load]! + sprayS;
    landS[load] = startS + loadS + airS;
    flownS[craft]! += airS;
    if (flownS[craft]! > airMaxS + setSlackS) return never;
    lastS = Math.max(lastS, landS[load]!);
  }
  let chargingS = 0;
  let leftChargeS = 0;
  let waitingSets = 0;
  if (battery !== undefined) {
    chargedS.forEach((fullS, charge) => {
      const wholeS = fullS - chargeStartS[charge]!;
      const leftS = Math.min(wholeS, Math.max(0, fullS - lastS));
      leftChargeS += leftS;
      chargingS += wholeS - leftS;
      if (leftS > 0) waitingSets++;
    });
    waitingSets += Math.min(aircraft, loads);
    for (const each of flownS) leftChargeS += battery.chargeS * Math.min(1, each / airMaxS);
  }
  return { totalS: lastS, changes, waitS, chargingS, leftChargeS, waitingSets, flownS: Math.max(...flownS) };

  function putOnBay(backS: number, chargeS: number): void {
    let bay = 0;
    for (let other = 1; other < bayFreeS.length; other++) if (bayFreeS[other]! < bayFreeS[bay]!) bay = other;
    const startS = Math.max(backS, bayFreeS[bay]!, chargeStartS[chargeStartS.length - 1] ?? 0);
    atPad.push(chargedS.length);
    freeS.push(bayFreeS[bay]!);
    chargeStartS.push(startS);
    chargedS.push(startS + chargeS);
    bayFreeS[bay] = startS + chargeS;
  }

  function takeSet(backS: number): number {
    if (fullAtPad > 0) {
      fullAtPad--;
      return backS;
    }
    let soonest = 0;
    for (let at = 1; at < atPad.length; at++) if (chargedS[atPad[at]!]! < chargedS[atPad[soonest]!]!) soonest = at;
    const charge = atPad[soonest]!;
    atPad.splice(soonest, 1);
    const readyS = Math.max(backS, chargedS[charge]!);
    // The set waited for its bay, not only for its charge.
    const hasQueued = freeS[charge]! > 0 && freeS[charge]! >= chargeStartS[charge]! - setSlackS;
    waitS[hasQueued ? "chargers" : "batteries"] += readyS - backS;
    return readyS;
  }
}

/** Our choice: aircraft that wait for less than this share of their time are the bottleneck themselves. */
const waitShare = 0.05;

/** What the aircraft wait for most; when they hardly wait, they are it themselves. */
export function bottleneckOf({ waitS, totalS }: CycleTime, { aircraft }: Pick<Share, "aircraft">): Bottleneck {
  const most = waits.reduce((a, b) => (waitS[b] > waitS[a] ? b : a));
  const sumS = waits.reduce((sum, wait) => sum + waitS[wait], 0);
  return sumS > waitShare * aircraft * totalS ? most : "aircraft";
}

/**
 * A time in closed form that the play never beats, `besideSumS` being what the sorties take beside the passes: no share of the
 * work runs faster than the station that it keeps busiest (asymptotic bounds of a closed system: Lazowska et al.,
 * Quantitative System Performance, 1984, chapter 5). With the least of such sums it does not fall with the loads.
 */
export function leastCycleS(
  { sprayS, perLoadS, pumpS, mixS, loadingPoints, airMaxS, changeS, battery }: CycleDemand,
  { aircraft, loads, sortiesPerSet }: Share,
  besideSumS: number,
): number {
  const loadingS = loads * perLoadS + pumpS;
  const workS = sprayS + besideSumS + loadingS;
  const changesLeast = Math.max(0, loads / sortiesPerSet - aircraft);
  const aircraftS = (workS + changesLeast * changeS) / aircraft;
  let batteriesS = 0;
  let chargersS = 0;
  if (battery !== undefined) {
    const { sets, full, neededFrac, bays, chargeS } = battery;
    // What is flown beyond the full sets has been charged meanwhile.
    const heldSets = full + (sets - full) * (1 - neededFrac);
    const chargingS = Math.max(0, (sprayS + besideSumS) / airMaxS - heldSets) * chargeS;
    batteriesS = (workS + chargingS + Math.max(0, loads / sortiesPerSet - sets) * changeS) / sets;
    chargersS = chargingS / bays;
  }
  return Math.max(aircraftS, loadingS / loadingPoints, mixS, batteriesS, chargersS);
}

/** Our choice: rounding in the last digits does not cost a minute. */
const minuteSlack = 1e-6;
export function wholeMinutes(durationS: number): number {
  return Math.ceil(durationS / secondsPerMinute - minuteSlack);
}
