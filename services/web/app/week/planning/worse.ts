import type { DifferenceAnswer } from "../../../../../shared/contracts/replans.ts";
import type { StopProgress } from "../../../../../shared/plan/stopProgress.ts";
import type { OrderView } from "../../../../../shared/plan/weekOrders.ts";
import { differenceGroups } from "./differenceGroups.ts";

export interface LeftOutOrder {
  readonly orderId: string;
  readonly fieldName: string;
  readonly areaHa: number;
}

/** What somebody answers for who publishes a plan: what was promised and is not held, and who is called back at work. */
export interface Worse {
  readonly mandatory: readonly LeftOutOrder[];
  readonly high: readonly LeftOutOrder[];
  readonly otherLeftOut: readonly LeftOutOrder[];
  /** Orders that now end after the day asked for, and were in time before. */
  readonly late: readonly { readonly orderId: string; readonly fieldName: string; readonly date: string }[];
  readonly atWork: readonly { readonly crewName: string; readonly date: string; readonly changes: number }[];
}

type OrderFacts = Pick<OrderView, "id" | "fieldName" | "priority" | "preferredDate" | "areaHa" | "plannedHa">;
type Changes = Pick<DifferenceAnswer, "changes" | "outfits">;

/** `orders`: of the plan that is to be published; `progress`: of the one that crews go by. */
export function whatIsWorse(
  { changes, outfits }: Changes,
  orders: readonly OrderFacts[],
  progress: readonly Pick<StopProgress, "crewId" | "date" | "state">[],
): Worse {
  const orderOf = new Map(orders.map((order) => [order.id as string, order]));
  const dropped = new Map<string, LeftOutOrder>();
  const late = new Map<string, Worse["late"][number]>();
  for (const { areaHa, before, fieldName, kind, now, orderId } of changes) {
    const order = orderOf.get(orderId);
    // Nobody waits for an order that is no longer there.
    if (order === undefined) continue;
    if (kind === "dropped") {
      dropped.set(orderId, { orderId, fieldName, areaHa: areaHa + (dropped.get(orderId)?.areaHa ?? 0) });
    }
    const day = order.preferredDate;
    if (day === null || before === null || now === null || before.date > day || now.date <= day) continue;
    const latest = late.get(orderId)?.date ?? "";
    late.set(orderId, { orderId, fieldName, date: [now.date, latest].sort().at(-1)! });
  }
  const ofPriority = (...priorities: readonly OrderFacts["priority"][]) =>
    [...dropped.values()].filter(({ orderId }) => priorities.includes(orderOf.get(orderId)!.priority));
  return {
    mandatory: ofPriority("mandatory"),
    high: ofPriority("high"),
    otherLeftOut: ofPriority("normal", "low"),
    late: [...late.values()],
    atWork: differenceGroups({ changes, outfits }).flatMap(({ crewId, crewName, date, outfit, stops }) => {
      const told = progress.filter((stop) => stop.crewId === crewId && stop.date === date);
      const hasBegun = told.some(({ state }) => state !== "notBegun");
      const isOver = told.every(({ state }) => state === "finished");
      const count = stops.filter(({ role }) => role !== "done").length + (outfit === null ? 0 : 1);
      return hasBegun && !isOver && count > 0 ? [{ crewName, date, changes: count }] : [];
    }),
  };
}

/** Of a first plan, with nothing to compare it with: what must be done and is not in it. */
export const mustBeDoneLeftOut = (orders: readonly OrderFacts[]): LeftOutOrder[] =>
  orders.flatMap(({ areaHa, fieldName, id, plannedHa, priority }) =>
    priority === "mandatory" && plannedHa < areaHa ? [{ orderId: id, fieldName, areaHa: areaHa - plannedHa }] : [],
  );
