import type { Agronomy } from "../agronomy/agronomy.ts";
import { createCalendar } from "../model/calendar.ts";
import type { Operation } from "../model/operation.ts";
import type { Plan } from "../plan/plan.ts";
import { crewDayTotals, found, groupBy, indexBy, stopsOf, sumOf } from "../plan/totals.ts";
import { openHoursPerOrder } from "./openHours.ts";
import type { Money, RunResult } from "./runResult.ts";
import { usedOf } from "./usedOf.ts";

/** What a good plan of an operation comes to. */
export function resultOf(operation: Operation, agronomy: Agronomy, plan: Plan): RunResult {
  const { score } = plan;
  const blocks = indexBy(plan.blocks, ({ id }) => id);
  return {
    firstDay: plan.firstDay,
    days: plan.days,
    servedHa: score.servedHa,
    orderedHa: score.orderedHa,
    orders: operation.orders.length,
    ...ordersDone(operation, plan),
    conflicts: conflictsOf(plan),
    roadKm: score.roadKm,
    dutyMin: score.dutyMin,
    workMin: sumOf(plan.crewDays, (crewDay) => crewDayTotals(crewDay, blocks).workMin),
    openHoursPerOrder: openHoursPerOrder(operation, agronomy),
    money: moneyOf(operation, plan),
    used: usedOf(operation, plan),
  };
}

function ordersDone(operation: Operation, plan: Plan): Pick<RunResult, "ordersDone" | "ordersInTime"> {
  const calendar = createCalendar(operation.settings);
  const stopsByOrder = groupBy(stopsOf(plan), ({ block }) => block.orderId);
  const done = operation.orders.flatMap((order) => {
    const stops = stopsByOrder.get(order.id) ?? [];
    if (stops.length === 0 || stops.length < stops[0]!.block.parts) return [];
    const lastDate = calendar.dateOfMin(Math.max(...stops.map(({ work }) => work.endMin)) - 1);
    return [{ isInTime: order.preferredDate === undefined || lastDate <= order.preferredDate }];
  });
  return { ordersDone: done.length, ordersInTime: done.filter(({ isInTime }) => isInTime).length };
}

function conflictsOf(plan: Plan): RunResult["conflicts"] {
  const byKind = groupBy(plan.conflicts, ({ kind }) => kind);
  return [...byKind].map(([kind, conflicts]) => ({
    kind,
    orders: new Set(conflicts.map(({ orderId }) => orderId)).size,
    areaHa: sumOf(conflicts, ({ areaHa }) => areaHa),
  }));
}

/** Every hectare done at its price: what the score calls left out is weighted by priority and does not serve. */
function moneyOf(operation: Operation, plan: Plan): Money {
  const orders = indexBy(operation.orders, ({ id }) => id);
  const { driveCents, labourCents, overtimeCents, runningCents, lodgingCents = 0 } = plan.score;
  const earnedCents = Math.round(
    sumOf(stopsOf(plan), ({ block }) => block.areaHa * found(orders, block.orderId).priceCentsPerHa),
  );
  const costCents = driveCents + labourCents + overtimeCents + runningCents + lodgingCents;
  return {
    earnedCents,
    driveCents,
    labourCents,
    overtimeCents,
    runningCents,
    lodgingCents,
    marginCents: earnedCents - costCents,
  };
}
