import type { Published } from "./published.ts";
import type { Random } from "./random.ts";

/** What a crew takes out on a day, as the search sees it. */
export interface Outfit {
  /** Index of its profile: outfits with the same one work every block alike. */
  readonly profile: number;
}

/** How an outfit works, by block. */
export interface Profile {
  /** At its quickest, all batteries full; 0: it cannot, -1: not yet asked for. */
  readonly minutes: Float64Array;
  readonly place: Int32Array;
  /** variant[block]: index of its windows. */
  readonly variant: Int32Array;
  /** On arriving from another place and before leaving for one. */
  readonly setupMin: number;
  readonly packupMin: number;
  readonly centsPerKm: number;
  readonly centsPerWorkMin: number;
  /** The same by block that has been asked for, where blocks differ. */
  readonly ownCentsPerWorkMin?: Float64Array;
  /** For going out at all. */
  readonly fixedCents: number;
  /** Most load of a day, where nothing can be loaded on the way. */
  readonly capacity: number;
}

export type Matrix = Float64Array | Int32Array;

export interface Claim {
  readonly thing: number;
  readonly amount: number;
  readonly limit: number;
}

/** Two days of a crew in a row between which it may sleep at other places than its own. */
export interface Night {
  readonly evening: number;
  readonly morning: number;
  /** Where else it may sleep. */
  readonly places: readonly number[];
}

/** Outfits from pools that crews share. */
export interface OutfitPool {
  /** Something that a slot without one could take out; null when nothing is left. */
  propose(slot: number, random: Random): Outfit | null;
  /** Things of the same kind, but with what the other outfit carries them on; null when they do not go together or are out. */
  remake(slot: number, outfit: Outfit, other: Outfit): Outfit | null;
  /** The same things, taken out by another slot; null when it may not or when they are out. */
  transfer(slot: number, outfit: Outfit): Outfit | null;
  /** What a slot takes out of the pools with an outfit: a number for every thing and day, how much of it, how much there is. */
  claims(slot: number, outfit: Outfit): readonly Claim[];
  /** Whether two outfits are the very same things. */
  isSame(one: Outfit, other: Outfit): boolean;
  book(slot: number, outfit: Outfit, used: 0 | 1): void;
  /** Cost of what crews change from one day to the next. */
  changeCents(): number;
}

/** All rules of a day, for operations in which a stop is more than minutes in a window. */
export interface DayRules {
  /**
   * Run a slot's stops through the day with its outfit, with `block` put in before place `at` unless it is -1. False when a rule breaks; else `run`
   * has times and cost.
   */
  run(slot: number, block: number, at: number, run: DayRun): boolean;
  /** Where the rules themselves know what a block adds at the place where that is least: left in `promised` at that place, which is given; or -1. */
  promise?(slot: number, block: number, promised: Float64Array): number;
}

/**
 * What the search works on: blocks with a value each, slots (a crew on a day, or a vehicle), and for every outfit the minutes, places and windows of the blocks.
 * Arrays are by block or by slot. Times are minutes and costs cents in an operation; in a research instance they are the instance's own units.
 */
export interface RouteProblem {
  readonly blockCount: number;
  readonly slotCount: number;
  /** Most stops of one slot: arrays of stops have this stride. */
  readonly stride: number;
  readonly valueCents: Float64Array;
  /** What of a block's value is there to keep a locked one in the plan; left out where nothing is locked. */
  readonly lockedCents?: Float64Array;
  readonly areaHa: Float64Array;
  readonly load: Float64Array;
  /** What makes a block hard to place: in an operation its value, in an instance its load. */
  readonly size: Float64Array;
  /** From the nearest base. */
  readonly farKm: Float64Array;
  /** Minutes of the horizon in which a block may be worked. */
  readonly openMin: Float64Array;
  /** First minute at which a block may be worked, and last. */
  readonly firstMin: Float64Array;
  readonly lastMin: Float64Array;
  readonly preferredDay: Int32Array;
  readonly lateCentsPerDay: Float64Array;
  /** Where blocks were published, where something was; leaving them out is in their values. */
  readonly published?: Published | null;
  /** Blocks that some slot could do. */
  readonly open: readonly number[];
  readonly slotsOfBlock: readonly (readonly number[])[];
  /** could[block * slotCount + slot] */
  readonly could: Uint8Array;
  /** The nearest other blocks, nearest first. */
  readonly neighbours: readonly Int32Array[];
  readonly placeCount: number;
  /** travelMin[from * placeCount + to] */
  readonly travelMin: Matrix;
  readonly travelKm: Matrix;
  /** The same by place of arrival, [to * placeCount + from]: what a block is held against then lies side by side. */
  readonly comingMin: Matrix;
  readonly comingKm: Matrix;
  readonly dayOfSlot: Int32Array;
  readonly crewOfSlot: Int32Array;
  readonly fromMin: Float64Array;
  readonly toMin: Float64Array;
  /** Where a slot's day begins and ends unless its crew sleeps elsewhere: the state has where it does. */
  readonly startPlace: Int32Array;
  readonly endPlace: Int32Array;
  /** Only where there are rules of the day. */
  readonly nights: readonly Night[];
  readonly dutyMaxMin: Float64Array;
  /** Between two days of a crew, and most duty in seven days. */
  readonly restMin: Float64Array;
  readonly weekMaxMin: Float64Array;
  readonly wageCentsPerMin: Float64Array;
  readonly standardMin: Float64Array;
  readonly overtimeCentsPerMin: Float64Array;
  /** True where duty costs or is limited somewhere. */
  readonly hoursCount: boolean;
  /** Slots that are just alike form a class: class of a slot, slots of a class. */
  readonly twin: Int32Array;
  readonly twins: readonly (readonly number[])[];
  readonly days: number;
  /** Windows of a variant that concern a day: pairs of `windowTimes` from windowFirst[variant * days + day] up to windowLast[...]. */
  readonly windowTimes: Float64Array;
  /** windowUntil[w]: for the window at `windowTimes[w]` the latest end of work begun in it, pauses between windows left out of account. */
  readonly windowUntil: Float64Array;
  /** Least stretch of work before a pause; infinite where work never pauses. */
  readonly stretchMin: number;
  readonly windowFirst: Int32Array;
  readonly windowLast: Int32Array;
  readonly profiles: readonly Profile[];
  /** Work out minutes and place of a block for a profile; gives the minutes. */
  readonly ask: (profile: number, block: number) => number;
  readonly createPool: (state: State) => OutfitPool;
  /** Null when the chains of `chains.ts` are exact: no rules beside them, and one window a day for each block where hours count. */
  readonly createRules: ((state: State) => DayRules) | null;
}

/** What running a slot's day through gives; starts and ends are by place in the sequence. */
export interface DayRun {
  cents: number;
  leaveMin: number;
  backMin: number;
  readonly stops: Int32Array;
  readonly starts: Float64Array;
  readonly ends: Float64Array;
  /** When the crew is ready for each stop, before it waits. */
  readonly ready: Float64Array;
  /** Ends when the crew leaves as early as it may; times that are kept may be later, for a shorter day. */
  readonly earliest: Float64Array;
  count: number;
}

/**
 * A problem in which every slot works every block alike, with one window, on roads that are as far as they are long and the same both ways, and in which time costs
 * nothing. Then a way is read once for cost and time, back and forth, and a place is only looked at closer where it would cost less than the best so far.
 */
export interface Plain {
  /** way[from * placeCount + to], both minutes and kilometres */
  readonly way: Matrix;
  readonly place: Int32Array;
  readonly minutes: Float64Array;
  /** First and last minute at which work may start. */
  readonly fromMin: Float64Array;
  readonly untilMin: Float64Array;
}

/**
 * Where the search stands. Stops of slot k are sequence[k * stride ...], their number count[k]; arrays of stops lie alike, those with one more element than
 * stops tell of the way home in it. A slot's version changes whenever its stops, times or outfit do, and comes back when they are put back, so that what was
 * worked out for a version stays true.
 */
export interface State {
  readonly routes: RouteProblem;
  readonly pool: OutfitPool;
  readonly rules: DayRules | null;
  /** Tables of a plain problem; null where it is not. */
  readonly plain: Plain | null;
  readonly sequence: Int32Array;
  readonly count: Int32Array;
  readonly outfit: (Outfit | null)[];
  /** Where each slot's day begins and ends. */
  readonly startPlace: Int32Array;
  readonly endPlace: Int32Array;
  readonly version: Int32Array;
  readonly leaveMin: Float64Array;
  readonly backMin: Float64Array;
  /** Cost of the slot's driving, labour, overtime, running and lateness, cents. */
  readonly slotCents: Float64Array;
  readonly slotLoad: Float64Array;
  /** slotOf[block] is -1 while the block is not planned. */
  readonly slotOf: Int32Array;
  readonly startMin: Float64Array;
  readonly endMin: Float64Array;
  /** Place of each stop. */
  readonly placeAt: Int32Array;
  /** Road to each stop from the one before; one more for the way home. */
  readonly wayKm: Float64Array;
  /** Earliest end of each stop. */
  readonly endAt: Float64Array;
  /** Latest minute at which the crew may be ready for a stop; one more for being back. */
  readonly latestAt: Float64Array;
  /** Minutes at work and on the road until ready for a stop, waits left out; one more for being back. */
  readonly busyAt: Float64Array;
  /** Latest leaving that the stops up to this one allow without being late for their windows. */
  readonly leaveBy: Float64Array;
  /** Earliest minute back that windows from this stop on allow. */
  readonly backFrom: Float64Array;
  /** Sum of the values of unplanned blocks, and of the slots' cost. */
  unservedCents: number;
  slotsCents: number;
  planned: number;
  busy: number;
  nextVersion: number;
}
