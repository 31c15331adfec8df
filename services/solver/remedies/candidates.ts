import { remedyFaults } from "../../../shared/cases/remedyGuard.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import type { Conflict, ConflictKind, ObstacleName, Plan } from "../../../shared/plan/plan.ts";
import type { Candidate, Wanting } from "./candidate.ts";
import { extraHours } from "./extraHours.ts";
import type { ConflictGroup } from "./groups.ts";
import { otherDates } from "./otherDates.ts";
import { hiredThings, movedThings } from "./otherThings.ts";
import { otherPads, otherProducts, splitOrders } from "./otherWays.ts";

interface Maker {
  readonly make: (wanting: Wanting) => Candidate[];
  /** What it may move of what keeps a block out of an empty week; left out: it is worth a try whatever that is. */
  readonly moves?: readonly ObstacleName[];
}

const aircraftLimits = ["method", "releaseHeight", "droplet", "slope", "rate", "range", "aircraft"] as const;
const thingLimits = [
  "tender",
  "water",
  "sets",
  "chargers",
  "outOfService",
  "rating",
  "licence",
  "shift",
  "duty",
] as const;
const labelLimits = [
  "label",
  "seasonMax",
  "ground",
  "buffers",
  "method",
  "releaseHeight",
  "droplet",
  "rate",
  "licence",
] as const;
const intervalLimits = [
  "phi",
  "rei",
  "entry",
  "retreatment",
  "apart",
  "rainfast",
  "wet",
  "bloom",
  "inversion",
] as const;
const airLimits = [
  "rain",
  "wind",
  "windLow",
  "gust",
  "deltaT",
  "temperature",
  "humidity",
  "drift",
  "driftNear",
] as const;

const products: Maker = { make: otherProducts, moves: [...labelLimits, ...intervalLimits, ...airLimits, "water"] };
const dates: Maker = { make: otherDates, moves: ["phi", "dates", "apart"] };
const hire: Maker = { make: hiredThings, moves: [...aircraftLimits, ...thingLimits] };
const move: Maker = { make: movedThings, moves: [...aircraftLimits, ...thingLimits] };
const hours: Maker = { make: extraHours, moves: ["shift"] };
const pads: Maker = { make: otherPads, moves: ["range"] };
const split: Maker = { make: splitOrders };
/** Work that takes less time may fit where it did not. */
const quicker = ({ make }: Maker): Maker => ({ make });

/** What may help against each kind of conflict, what is most likely to first. Against a label, a licence or a buffer only other products do. */
const makersOf: Readonly<Record<ConflictKind, readonly Maker[]>> = {
  noCapableAircraft: [products, hire, pads],
  noQualifiedCrew: [products, move, hire],
  labelForbids: [products],
  bufferLeavesNothing: [products],
  seasonMaximum: [products],
  retreatment: [products, dates],
  harvestTooSoon: [products, dates],
  entryTooSoon: [products, dates],
  fieldClosed: [dates, products],
  contradiction: [dates, products],
  noWindow: [dates, products],
  windowTooShort: [dates, split, quicker(products), hours, quicker(hire), quicker(move), quicker(pads)],
  equipmentShort: [split, products, hire, move],
  notEnoughHours: [hours, hire, dates, products, split, move, pads],
  // Whoever took it out knows how to put it back.
  byHand: [],
};

/** Changes that may help a group, each one that the guard lets pass. Of every set of things that keeps a block out something has to give way. */
export function candidatesFor(operation: Operation, plan: Plan, group: ConflictGroup): Candidate[] {
  const orders = operation.orders.filter(({ id }) => group.orderIds.includes(id));
  const wanting = { operation, plan, group, orders };
  const made = makersOf[group.kind]
    .filter(({ moves }) => moves === undefined || group.conflicts.some((conflict) => mayMove(conflict, moves)))
    .map(({ make }) => make(wanting).filter(({ change }) => remedyFaults(operation, [change]).length === 0));
  return inTurn(made);
}

/** The first of each list, then the second of each: where not all can be tried, some of every kind are. */
function inTurn<Item>(lists: readonly (readonly Item[])[]): Item[] {
  const longest = Math.max(0, ...lists.map(({ length }) => length));
  return Array.from({ length: longest }, (_, at) => lists.flatMap((list) => list.slice(at, at + 1))).flat();
}

function mayMove({ because }: Conflict, moves: readonly ObstacleName[]): boolean {
  return because === undefined || because.sets.every((set) => set.some(({ limit }) => moves.includes(limit)));
}
