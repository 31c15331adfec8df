import { secondsPerMinute } from "../units/units.ts";
import { type BatteryDemand, PadBatteries } from "./padBatteries.ts";

/** Time in the air beside the passes: ferries, turns, taking off and landing. By the number of loads that a block is shared out over. */
export interface Beside {
  /** Of each sortie, in the order flown, seconds. */
  eachS(loads: number): ArrayLike<number>;
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
  /** From the first fill to the last landing; without end when a set does not last for its sorties, or when it is longer than was asked for. */
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
const none = { chargingS: 0, leftChargeS: 0, waitingSets: 0 };
/** Our choice: a set may be over by a millionth of a second, so that rounding does not ground it. */
const setSlackS = 1e-6;

/** Used for play after play. By aircraft: the last landing, and what has been flown since the last change; by loading point: when it is free again. */
let landS = new Float64Array(8);
let flownS = new Float64Array(8);
let pointFreeS = new Float64Array(8);
const padBatteries = new PadBatteries();

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
 * Given up where the last landing comes after `longestS`.
 */
export function cycleTime(
  demand: CycleDemand,
  { aircraft, loads, sortiesPerSet }: Share,
  longestS = Number.POSITIVE_INFINITY,
): CycleTime {
  const { battery, changeS, loadingPoints, airMaxS } = demand;
  const besideS = demand.beside.eachS(loads);
  const sprayS = demand.sprayS / loads;
  const loadS = demand.perLoadS + demand.pumpS / loads;
  const mixS = demand.mixS / loads;
  if (landS.length < aircraft) landS = new Float64Array(aircraft);
  if (flownS.length < aircraft) flownS = new Float64Array(aircraft);
  if (pointFreeS.length < loadingPoints) pointFreeS = new Float64Array(loadingPoints);
  landS.fill(0, 0, aircraft);
  flownS.fill(0, 0, aircraft);
  pointFreeS.fill(0, 0, loadingPoints);
  const loadsPerSet = aircraft * sortiesPerSet;
  const hasBatteries = battery !== undefined;
  if (hasBatteries) padBatteries.begin(battery, Math.ceil(loads / sortiesPerSet));
  let [loadingS, mixingS, batteriesS, chargersS] = [0, 0, 0, 0];
  let changes = 0;
  let lastStartS = 0;
  let lastS = 0;

  for (let load = 0; load < loads; load++) {
    const craft = load % aircraft;
    const isFirst = load < aircraft;
    const backS = isFirst && demand.refuelsFirst ? changeS : landS[craft]!;
    const isChange = !isFirst && load % loadsPerSet < aircraft;
    let readyS = backS;
    if (isChange) {
      changes++;
      if (hasBatteries) padBatteries.putOnBay(backS, givenFrac(flownS[craft]!, airMaxS));
      flownS[craft] = 0;
    }
    if (hasBatteries && (isFirst || isChange)) {
      const set = padBatteries.takeSet();
      readyS = Math.max(backS, padBatteries.fullS(set));
      if (padBatteries.hasQueued(set)) chargersS += readyS - backS;
      else batteriesS += readyS - backS;
    }
    if (isChange) readyS += changeS;
    const mixedS = (load + 1) * mixS;
    const point = load % loadingPoints;
    const pointS = Math.max(lastStartS, pointFreeS[point]!);
    const startS = Math.max(readyS, pointS, mixedS);
    lastStartS = startS;
    if (mixedS > pointS) mixingS += startS - readyS;
    else loadingS += startS - readyS;
    const loadedS = startS + loadS;
    pointFreeS[point] = loadedS;
    const airS = besideS[load]! + sprayS;
    const landedS = loadedS + airS;
    landS[craft] = landedS;
    const sinceChangeS = flownS[craft]! + airS;
    flownS[craft] = sinceChangeS;
    if (sinceChangeS > airMaxS + setSlackS) return never;
    if (landedS > lastS) lastS = landedS;
    if (lastS > longestS) return never;
  }
  let { chargingS, leftChargeS, waitingSets } = hasBatteries ? padBatteries.at(lastS) : none;
  if (hasBatteries) waitingSets += Math.min(aircraft, loads);
  let longestFlownS = 0;
  for (let craft = 0; craft < aircraft; craft++) {
    if (hasBatteries) leftChargeS += battery.chargeS * givenFrac(flownS[craft]!, airMaxS);
    longestFlownS = Math.max(longestFlownS, flownS[craft]!);
  }
  const waitS = { loading: loadingS, mixing: mixingS, batteries: batteriesS, chargers: chargersS };
  return { totalS: lastS, changes, waitS, chargingS, leftChargeS, waitingSets, flownS: longestFlownS };
}

/** What a set has given of its charge. */
function givenFrac(flownS: number, airMaxS: number): number {
  return Math.min(1, flownS / airMaxS);
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

/** How many sorties a set lasts for at most, one with another, if it is flown down to its reserve; parts of a sortie count. */
export function mostPerSet({ sprayS, airMaxS }: CycleDemand, loads: number, besideSumS: number): number {
  return (loads * (airMaxS + setSlackS)) / (sprayS + besideSumS);
}

/** Our choice: rounding in the last digits does not cost a minute. */
const minuteSlack = 1e-6;
export function wholeMinutes(durationS: number): number {
  return Math.ceil(durationS / secondsPerMinute - minuteSlack);
}

/** No duration of so many whole minutes is longer. */
export function mostSecondsOf(minutes: number): number {
  return (minutes + 2 * minuteSlack) * secondsPerMinute;
}
