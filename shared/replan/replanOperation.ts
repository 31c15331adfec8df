import { addDays, createCalendar, daysBetween } from "../model/calendar.ts";
import type { Operation } from "../model/operation.ts";
import type { Fate, ReplanAsk, Replanned, ReplanRemark, StopFate } from "./ask.ts";
import { withChangeCost } from "./changeCost.ts";
import { crewLeft, firstDayLeft, toldDays } from "./daysLeft.ts";
import { type ToldStop, whatHappened } from "./happened.ts";
import { type LocksLeft, locksLeft } from "./locksLeft.ts";
import { type OrdersLeft, ordersLeft } from "./ordersLeft.ts";
import { type SortedStops, sortStops } from "./sortStops.ts";
import { weatherUpTo } from "./weatherUpTo.ts";

/**
 * The operation that is to be planned again at a moment: its days from that of the moment on, without what is done, with what is under way at its time, and with nothing that begins before. It is an
 * operation like any other, so that planner and checker need not know that it is one of a second time.
 */
export function replanOperation(ask: ReplanAsk): Replanned {
  const { operation, told, asOf, keepUntil, changeCost = "usual" } = ask;
  const whole = createCalendar(operation.settings);
  const asOfMin = whole.minOfLocal(asOf);
  const happened = whatHappened(ask, whole);
  const days = toldDays(happened);
  const firstDay = firstDayLeft(operation, days, whole, asOfMin);
  const sorted = sortStops(operation, happened, firstDay, asOfMin);
  const orders = ordersLeft(operation, sorted, whole, asOfMin);
  const { settings, fleet } = operation;
  const lastDay = addDays(settings.firstDay, settings.days - 1);
  const hasBegun = asOf > `${settings.firstDay}T00:00`;
  const left: Operation = {
    ...operation,
    settings: {
      ...withChangeCost(settings, changeCost),
      firstDay: firstDay as typeof settings.firstDay,
      days: daysBetween(firstDay, lastDay) + 1,
      // Left out it is when the first day begins, which is now another.
      forecastIssued:
        settings.forecastIssued ?? (`${settings.firstDay}T00:00` as NonNullable<typeof settings.forecastIssued>),
      ...(hasBegun ? { planFrom: asOf as typeof settings.planFrom } : {}),
    },
    fields: orders.fields,
    orders: [...orders.orders],
    fleet: {
      ...fleet,
      crews: fleet.crews.map((crew) => crewLeft(crew, days, sorted, happened, firstDay, whole, asOfMin)),
    },
    weather: hasBegun
      ? weatherUpTo(operation.weather, told.at(-1)!.operation.weather, whole.epochMsOfMin(asOfMin))
      : operation.weather,
  };
  const locks = locksLeft(left, happened, sorted, asOfMin, keepUntil, whole);
  return {
    operation: { ...left, locks: locks.locks },
    fates: happened.stops.map((stop) => fateOf(stop, sorted, locks, asOfMin)),
    remarks: remarksOf(operation, sorted, orders, locks),
  };
}

function fateOf(stop: ToldStop, { locked, gone, inPart }: SortedStops, { kept }: LocksLeft, asOfMin: number): StopFate {
  const fates: Record<ToldStop["state"], Fate> = {
    finished: "done",
    running: inPart.has(stop) ? "doneInPart" : "underWay",
    stopped: gone.has(stop) ? "done" : inPart.has(stop) ? "doneInPart" : "toCome",
    notBegun: stop.startMin < asOfMin ? "missed" : "toCome",
  };
  return { blockId: stop.block.id, fate: fates[stop.state], isLocked: locked.has(stop) || kept.has(stop) };
}

function remarksOf(
  operation: Operation,
  { inPart }: SortedStops,
  { done, tooLate }: OrdersLeft,
  { notKept }: LocksLeft,
): ReplanRemark[] {
  const fieldOf = (orderId: string) => {
    const order = operation.orders.find(({ id }) => id === orderId);
    const field = operation.fields.features.find(({ properties }) => properties.id === order?.fieldId);
    return field?.properties.name ?? orderId;
  };
  return [
    ...[...inPart].map(({ block, doneHa, crewDay }) => ({
      sentence: `${fieldOf(block.orderId)}: ${doneHa.toFixed(1)} of ${block.areaHa.toFixed(1)} ha of block ${block.id} are done; what is left is cut at the pass that comes nearest to that, so look at the map before you fly.`,
      orderId: block.orderId,
      crewId: crewDay.crewId,
      date: crewDay.date,
    })),
    ...tooLate.map((orderId) => ({
      sentence: `${fieldOf(orderId)}: order ${orderId} would have to wait for what is done there until its last day is over. It is not planned.`,
      orderId,
    })),
    ...notKept.map(({ block, crewDay }) => ({
      sentence: `${fieldOf(block.orderId)}: block ${block.id} of ${crewDay.crewId} on ${crewDay.date} was to stay, and cannot as it stands.`,
      orderId: block.orderId,
      crewId: crewDay.crewId,
      date: crewDay.date,
    })),
    ...[...done].flatMap(([orderId, { doneHa, isOver }]) =>
      isOver
        ? [
            {
              sentence: `${fieldOf(orderId)}: order ${orderId} is done, ${doneHa.toFixed(1)} ha.`,
              orderId: orderId as ReplanRemark["orderId"] & string,
            },
          ]
        : [],
    ),
  ];
}
