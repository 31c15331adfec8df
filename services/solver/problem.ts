import type { WorkOutcome } from "../../shared/fieldwork/workTime.ts";
import type { AreaXY, Plane } from "../../shared/geo/plane.ts";
import type { Calendar } from "../../shared/model/calendar.ts";
import type { AircraftType, Charger, Crew, Tender } from "../../shared/model/fleet.ts";
import type { Operation } from "../../shared/model/operation.ts";
import type { Order } from "../../shared/model/order.ts";
import type { BlockId } from "../../shared/model/quantities.ts";
import type { Block } from "../../shared/plan/plan.ts";
import type { Begun } from "./begun.ts";
import type { Burn, Charge, ReadySets } from "./charging.ts";
import type { Locks } from "./locks.ts";
import type { Published } from "./published.ts";
import type { Risk } from "./risk.ts";
import type { Outfit, RouteProblem } from "./routes.ts";

/** Aircraft of one type, so many at once: what a crew may fly, before particular aircraft are named. */
export interface KitOption {
  readonly type: number;
  readonly count: number;
}

/** Aircraft of one type with their battery sets. */
export interface KindTaken {
  readonly option: KitOption;
  readonly sets: number;
}

/** The particular things that a crew takes out: aircraft, batteries, chargers, tender. All are indices. */
export interface Things extends KindTaken {
  readonly aircraft: readonly number[];
  readonly chargers: readonly number[];
  readonly tender: number;
}

/** Things with aircraft of one or several types, in the order of the operation's types. */
export interface Taken extends Pick<Things, "aircraft" | "chargers" | "tender"> {
  readonly kinds: readonly KindTaken[];
}

/** Aircraft of one type in a kit and how they work. */
export interface Kind extends KindTaken {
  /** Index of `option` in the crew's options. */
  readonly optionIndex: number;
  /** Index of the outfit signature: kinds with the same one take the same minutes on every block. */
  readonly signature: number;
}

/** Things and how they work; by itself it is its first kind. Each block is worked by one kind, while the others stand by. */
export interface Kit extends Things, Kind, Outfit {
  /** Kinds beside the first, whose aircraft and chargers are among the kit's; left out when there is one. */
  readonly also?: readonly Kind[];
}

/** Least whole days (a product in common) and least minutes (a waiting time) between this order's work and another's, whichever comes first. */
export interface Apart {
  readonly order: number;
  readonly days: number;
  readonly minutes: number;
}

export interface ProblemOrder {
  readonly order: Order;
  readonly field: number;
  readonly plane: Plane;
  readonly liquid: boolean;
  /** Spray volume in L/ha or granules in kg/ha. */
  readonly ratePerHa: number;
  /** Of the mix; of granules in bulk. */
  readonly densityKgPerL: number;
  readonly valueCentsPerHa: number;
  /** Day index of the preferred date; later days cost. */
  readonly preferredDay: number;
  /** Compatibility group; 0 goes with everything. */
  readonly group: number;
  readonly cleanOutMin: number;
  readonly cleanOutL: number;
  /** Index of its set of licence classes. */
  readonly licence: number;
  /** Orders on the same field from which it must stay apart. */
  readonly apart: readonly Apart[];
  /** Seasonal limits of one product on its field that the orders of this plan could break together. */
  readonly seasons: readonly number[];
}

/** An order's treated area, or one of the two parts that a downwind buffer makes of it. */
export interface OrderGround {
  readonly order: number;
  readonly area: AreaXY;
  readonly areaHa: number;
  /** The part that the downwind buffers leave alone. */
  readonly isRest: boolean;
  /** The one block on it, where that has windows of its own because a lock says when its work begins. */
  readonly lockedBlock?: BlockId;
}

export interface ProblemBlock {
  readonly block: Block;
  readonly area: AreaXY;
  readonly order: number;
  /** Index of its ground, which has windows of its own. */
  readonly ground: number;
  readonly field: number;
  readonly areaHa: number;
  readonly waterL: number;
  readonly valueCents: number;
}

export interface SeasonLimit {
  readonly orders: readonly number[];
  readonly amounts: readonly number[];
  readonly maxCount: number;
  readonly maxAmount: number;
}

/** One crew on one day on which it has a shift. */
export interface CrewDaySlot {
  readonly crew: number;
  readonly day: number;
  readonly shiftFromMin: number;
  readonly shiftToMin: number;
  /** Days on which its outfit is out of the pool. */
  readonly days: readonly number[];
}

/**
 * The operation as dense indices. `windows[(ground * types + type) * 2 + night]` holds starts and ends in turn, or null where the type may never
 * work the order.
 */
export interface Problem {
  readonly operation: Operation;
  readonly calendar: Calendar;
  readonly orders: readonly ProblemOrder[];
  readonly grounds: readonly OrderGround[];
  readonly blocks: readonly ProblemBlock[];
  readonly blocksOfField: readonly (readonly number[])[];
  readonly blocksOfOrder: readonly (readonly number[])[];
  /** Blocks that some crew could do on some day: those that the search moves. */
  readonly open: readonly number[];
  readonly seasonLimits: readonly SeasonLimit[];
  /** Names of the compatibility groups; 0 is "any". */
  readonly groups: readonly string[];
  readonly types: readonly AircraftType[];
  readonly crews: readonly Crew[];
  readonly baseOfCrew: readonly number[];
  readonly options: readonly (readonly KitOption[])[];
  /** What each crew may take out: one of its options, or several of different types. All are indices of options, ascending. */
  readonly choices: readonly (readonly (readonly number[])[])[];
  /** qualified[crew][option * licences + licence] */
  readonly qualified: readonly Uint8Array[];
  readonly licences: number;
  readonly licenceSets: readonly (readonly string[])[];
  readonly slots: readonly CrewDaySlot[];
  readonly slotsOfCrew: readonly (readonly number[])[];
  readonly windows: readonly (Int32Array | null)[];
  /** firstWindow[variant * days + day]: offset of the first window that ends after that day begins. */
  readonly firstWindow: Int32Array;
  readonly places: readonly string[];
  readonly travelMin: Int32Array;
  readonly travelKm: Float64Array;
  /** Places at which a tender can be filled: L/min by place, 0 elsewhere. */
  readonly fillLPerMin: Float64Array;
  readonly waterPlaces: readonly number[];
  readonly placeOfBase: readonly number[];
  readonly equipment: Equipment;
  /** Slots whose crew and day could do the block with some kit. */
  readonly slotsOfBlock: readonly (readonly number[])[];
  /** Minutes of the horizon in which some type may work the block. */
  readonly openMin: Float64Array;
  /** neighbours[block]: the nearest other blocks, nearest first. */
  readonly neighbours: readonly Int32Array[];
  readonly work: WorkTable;
  readonly signatures: Signatures;
  /** Null where nothing has been published. */
  readonly published: Published | null;
  readonly risk: Risk | null;
  readonly locks: Locks;
  readonly begun: Begun;
  /** dutyBeforeMin[crew][days]: minutes of duty so many days before the first. */
  readonly dutyBeforeMin: readonly Float64Array[];
  /** The same for the search. */
  readonly routes: RouteProblem;
  /** Index in `routes.profiles` of the way in which a crew with a kit works; with several kinds that is another in each slot. */
  readonly profileOf: (crew: number, kit: Omit<Kit, "profile">, slot?: number) => number;
  /** Which kind of a kit with the profile works a block: 0 for the first, then those of `also`. */
  readonly kindOf: (profile: number, block: number) => number;
}

export interface Equipment {
  readonly aircraftType: Int32Array;
  readonly aircraftBase: Int32Array;
  /** aircraftOut[day * aircraft + a] = 1 when it is out of service. */
  readonly aircraftOut: Uint8Array;
  readonly tenderBase: Int32Array;
  readonly tenderSlots: Int32Array;
  readonly tenderWaterL: Float64Array;
  readonly chargerBase: Int32Array;
  /** stock[base * types + type] in battery sets. */
  readonly stock: Int32Array;
  /** setsPerAircraft[base * types + type]: a fair share of the stock. */
  readonly setsPerAircraft: Int32Array;
}

/** All that the minutes of a block depend on, whichever crew has it. */
export interface Signature {
  readonly option: KitOption;
  /** The first signature that takes the same minutes on every block: of a tender and chargers that do as much. */
  readonly alike: number;
  readonly type: AircraftType;
  readonly sets: number;
  readonly chargers: readonly Charger[];
  readonly tender: Tender;
  /** Bays that work at once at the field, and minutes for a set; null for fuel. */
  readonly charge: Charge | null;
}

/** Outfit signatures under numbers. */
export interface Signatures {
  /** With `bays` so many of each charger's, where others of the outfit charge at the rest; left out: all. */
  of(things: Omit<Things, "aircraft"> & Partial<Things>, bays?: readonly number[]): number;
  at(signature: number): Signature;
}

/** A block's work, with what it takes of charging and what it leaves of it, in minutes of one bay. */
export interface BlockWork extends Burn {
  readonly minutes: number;
  readonly takenMin: number;
  readonly leftMin: number;
  readonly waitingSets: number;
}

/** Minutes and pad of a block for an outfit signature, worked out when first asked for. */
export interface WorkTable {
  /** With all battery sets full at the start; 0 when the outfit cannot do the block. */
  minutes(block: number, signature: number): number;
  /** Of a block with minutes. */
  place(block: number, signature: number): number;
  /**
   * Of a block with minutes, from its place, when only so many sets are full at the start and the others need so many quarters of a
   * charge; for aircraft on fuel 1: they need not fill up, 0: they fill up first.
   */
  workWith(block: number, signature: number, ready: ReadySets): BlockWork;
  /** The facts of the work, for the plan; `ready` left out: all sets full, or tanks. */
  outcome(block: number, signature: number, ready?: ReadySets): WorkOutcome;
}
