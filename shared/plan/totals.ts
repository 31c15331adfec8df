import { minutesPerHour } from "../model/days.ts";
import type { Operation } from "../model/operation.ts";
import type { Order } from "../model/order.ts";
import type { BlockId } from "../model/quantities.ts";
import type { Activity, Block, CrewDay, Plan } from "./plan.ts";

export type Work = Extract<Activity, { kind: "work" }>;

export interface CrewDayTotals {
  readonly startMin: number;
  readonly endMin: number;
  readonly dutyMin: number;
  readonly workMin: number;
  readonly roadKm: number;
  readonly areaHa: number;
  readonly stops: number;
}

/** Index by a key that every item has once. */
export function indexBy<Item, Key>(items: readonly Item[], keyOf: (item: Item) => Key): ReadonlyMap<Key, Item> {
  return new Map(items.map((item) => [keyOf(item), item]));
}

/** Items by a key that several may share, each group in the order given. */
export function groupBy<Item, Key>(items: readonly Item[], keyOf: (item: Item) => Key): ReadonlyMap<Key, Item[]> {
  const groups = new Map<Key, Item[]>();
  for (const item of items) {
    const group = groups.get(keyOf(item));
    if (group === undefined) groups.set(keyOf(item), [item]);
    else group.push(item);
  }
  return groups;
}

/** What the map has for the key. A plan that names something unknown has not been checked: a bug. */
export function found<Key, Item>(map: ReadonlyMap<Key, Item>, key: Key): Item {
  const item = map.get(key);
  if (item === undefined) throw new Error(`the plan names ${String(key)}, which the operation does not have`);
  return item;
}

export function worksOf(crewDay: CrewDay): Work[] {
  return crewDay.activities.filter((activity): activity is Work => activity.kind === "work");
}

/** A half-open span of minutes. */
export interface Minutes {
  readonly startMin: number;
  readonly endMin: number;
}

/** A work without its pauses, in order of time. */
export function stretchesOf({ startMin, endMin, pauses = [] }: Work): Minutes[] {
  const starts = [startMin, ...pauses.map((pause) => pause.endMin)];
  const ends = [...pauses.map((pause) => pause.startMin), endMin];
  return starts.map((start, index) => ({ startMin: start, endMin: ends[index]! }));
}

/** Minutes of a work without its pauses. */
export function workedMin(work: Work): number {
  return sumOf(stretchesOf(work), (stretch) => stretch.endMin - stretch.startMin);
}

export function sumOf<Item>(items: readonly Item[], measure: (item: Item) => number): number {
  return items.reduce((sum, item) => sum + measure(item), 0);
}

export function hoursOf(minutes: number): number {
  return minutes / minutesPerHour;
}

export function crewDayTotals(crewDay: CrewDay, blocks: ReadonlyMap<BlockId, Block>): CrewDayTotals {
  const startMin = crewDay.activities[0]!.startMin;
  const endMin = crewDay.activities.at(-1)!.endMin;
  const works = worksOf(crewDay);
  return {
    startMin,
    endMin,
    dutyMin: endMin - startMin,
    workMin: sumOf(works, workedMin),
    roadKm: sumOf(crewDay.activities, (activity) => (activity.kind === "drive" ? activity.distanceKm : 0)),
    areaHa: sumOf(works, (work) => found(blocks, work.blockId).areaHa),
    stops: works.length,
  };
}

/** A stop as it stands in the plan: which crew-day works the block, and when. */
export interface Stop {
  readonly crewDay: CrewDay;
  readonly work: Work;
  readonly block: Block;
}

/** Those of the outfit that the work names, or all of it. */
export function aircraftAtWork({ crewDay, work }: Pick<Stop, "crewDay" | "work">): CrewDay["outfit"]["aircraftIds"] {
  return work.aircraftIds ?? crewDay.outfit.aircraftIds;
}

export function stopsOf(plan: Pick<Plan, "blocks" | "crewDays">): Stop[] {
  const blocks = indexBy(plan.blocks, (block) => block.id);
  return plan.crewDays.flatMap((crewDay) =>
    worksOf(crewDay).map((work) => ({ crewDay, work, block: found(blocks, work.blockId) })),
  );
}

/** What leaving a hectare of an order out costs. A mandatory order is worth more than any other, whatever it pays itself. */
export function valuesPerHa(operation: Operation): (order: Order) => number {
  const { mandatoryFactor, highFactor, lowFactor } = operation.settings.planning;
  const highestCentsPerHa = Math.max(0, ...operation.orders.map(({ priceCentsPerHa }) => priceCentsPerHa));
  const factors = { high: highFactor, normal: 1, low: lowFactor };
  return ({ priority, priceCentsPerHa }) =>
    priority === "mandatory" ? highestCentsPerHa * mandatoryFactor : priceCentsPerHa * factors[priority];
}
