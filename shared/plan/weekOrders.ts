import type { Order } from "../model/order.ts";
import { type LocalTime, localTimeOf } from "./localTime.ts";
import { aircraftWords } from "./outfitWords.ts";
import type { PauseView } from "./pauseView.ts";
import type { Because, Conflict, ConflictKind, Plan } from "./plan.ts";
import type { PlanIndex } from "./planIndex.ts";
import { methodOf } from "./siteLimits.ts";
import { groupBy, type Stop, sumOf } from "./totals.ts";
import { conflictWords } from "./words.ts";

export interface StopView {
  readonly blockId: string;
  readonly orderId: string;
  readonly fieldId: string;
  readonly fieldName: string;
  readonly grower: string;
  readonly method: "liquid" | "granular";
  readonly products: readonly string[];
  readonly part: number;
  readonly parts: number;
  /** Which aircraft of the outfit, in words; nothing where all of it works. */
  readonly aircraft: string;
  readonly areaHa: number;
  readonly start: LocalTime;
  readonly end: LocalTime;
  readonly pauses: readonly PauseView[];
}

export interface OrderView {
  readonly id: string;
  readonly fieldId: string;
  readonly fieldName: string;
  readonly grower: string;
  readonly crop: string;
  readonly products: readonly string[];
  readonly priority: Order["priority"];
  readonly latest: string;
  /** After this day it is late; null: no day is asked for. */
  readonly preferredDate: string | null;
  readonly status: "planned" | "partly" | "notPlanned";
  /** Treated area of all its blocks and of those that are planned; both 0 for an order without blocks. */
  readonly areaHa: number;
  readonly plannedHa: number;
  readonly work: readonly (Pick<StopView, "blockId" | "areaHa" | "start" | "end"> & {
    readonly crewId: string;
    readonly crewName: string;
    /** Date of the crew-day, whose sheet it is on. */
    readonly date: string;
  })[];
  readonly conflicts: readonly ConflictView[];
}

export interface ConflictView {
  readonly orderId: string;
  /** What is left out of the order, as a move by hand may put it in; none where it has no ground to work. */
  readonly blocks: readonly Pick<StopView, "blockId" | "part" | "parts" | "areaHa">[];
  readonly fieldName: string;
  readonly grower: string;
  readonly priority: Order["priority"];
  readonly kind: ConflictKind;
  readonly kindWords: string;
  readonly areaHa: number;
  readonly sentence: string;
  /** What keeps it out of an empty week; null where nothing does. */
  readonly because: Because | null;
  readonly evidence: Readonly<Record<string, unknown>>;
}

export function stopView(index: PlanIndex, { block, work }: Stop, pauses: readonly PauseView[]): StopView {
  const order = index.order(block.orderId);
  const { id, name, grower } = index.field(order.fieldId).properties;
  const products = index.productsOf(order);
  return {
    blockId: block.id,
    orderId: order.id,
    fieldId: id,
    fieldName: name,
    grower,
    method: methodOf(products),
    products: products.map((product) => product.name),
    part: block.part,
    parts: block.parts,
    aircraft: aircraftWords(index, work),
    areaHa: block.areaHa,
    start: localTimeOf(index.calendar, work.startMin),
    end: localTimeOf(index.calendar, work.endMin),
    pauses,
  };
}

export function conflictView(index: PlanIndex, conflict: Conflict): ConflictView {
  const order = index.order(conflict.orderId);
  const { name, grower } = index.field(order.fieldId).properties;
  return {
    orderId: conflict.orderId,
    blocks: conflict.blockIds.map((blockId) => {
      const { part, parts, areaHa } = index.blocks.get(blockId)!;
      return { blockId, part, parts, areaHa };
    }),
    fieldName: name,
    grower,
    priority: order.priority,
    kind: conflict.kind,
    kindWords: conflictWords[conflict.kind],
    areaHa: conflict.areaHa,
    sentence: conflict.sentence,
    because: conflict.because ?? null,
    evidence: conflict.evidence,
  };
}

export function orderViews(index: PlanIndex, plan: Plan, conflicts: readonly ConflictView[]): OrderView[] {
  const blocksOf = groupBy(plan.blocks, (block) => block.orderId);
  const stopsOf = groupBy(index.stops, (stop) => stop.block.orderId);
  const conflictsOf = groupBy(conflicts, (conflict) => conflict.orderId);
  return index.operation.orders.map((order) => {
    const field = index.field(order.fieldId).properties;
    const blocks = blocksOf.get(order.id) ?? [];
    const stops = [...(stopsOf.get(order.id) ?? [])].sort((a, b) => a.work.startMin - b.work.startMin);
    return {
      id: order.id,
      fieldId: order.fieldId,
      fieldName: field.name,
      grower: field.grower,
      crop: field.crop,
      products: index.productsOf(order).map((product) => product.name),
      priority: order.priority,
      latest: order.latest,
      preferredDate: order.preferredDate ?? null,
      status: stops.length === 0 ? "notPlanned" : stops.length < blocks.length ? "partly" : "planned",
      areaHa: sumOf(blocks, (block) => block.areaHa),
      plannedHa: sumOf(stops, (stop) => stop.block.areaHa),
      work: stops.map(({ crewDay, block, work }) => ({
        blockId: block.id,
        crewId: crewDay.crewId,
        crewName: index.crew(crewDay.crewId).name,
        date: crewDay.date,
        areaHa: block.areaHa,
        start: localTimeOf(index.calendar, work.startMin),
        end: localTimeOf(index.calendar, work.endMin),
      })),
      conflicts: conflictsOf.get(order.id) ?? [],
    };
  });
}
