import { type Agronomy, createAgronomy } from "../agronomy/agronomy.ts";
import { addDays, type Calendar, createCalendar } from "../model/calendar.ts";
import type { Operation } from "../model/operation.ts";
import type { CrewDay, Plan } from "../plan/plan.ts";
import { aircraftAtWork, type Stop, stopsOf, stretchesOf } from "../plan/totals.ts";
import type { StopFate } from "./ask.ts";
import type { ChangeReason } from "./difference.ts";

export interface Why {
  readonly reason: ChangeReason;
  readonly sentence: string;
}

/** A stop of the earlier plan with its minutes in the later one's. */
export interface StopBefore extends Stop {
  readonly startMin: number;
  readonly laterMin: number;
}

export interface WhyContext {
  readonly before: Operation;
  readonly now: Operation;
  readonly plan: Plan;
  readonly fates: readonly StopFate[];
  /** Whether a stop of the plan of now stands where it stood before. */
  readonly isKept: (stop: Stop) => boolean;
}

/** Why stops are no longer where they were: the first that holds of what is done, what is gone, what forbids it and what took its place. */
export function createWhy({ before, now, plan, fates, isKept }: WhyContext) {
  const calendar = createCalendar(now.settings);
  const fateOf = new Map(fates.map((one) => [one.blockId, one]));
  const stopsNow = stopsOf(plan);
  let known: Agronomy | undefined;
  const agronomy = () => {
    known ??= createAgronomy(now, calendar);
    return known;
  };
  const fieldName = (orderId: string) => {
    const order = [...now.orders, ...before.orders].find(({ id }) => id === orderId);
    return (
      before.fields.features.find(({ properties }) => properties.id === order?.fieldId)?.properties.name ?? orderId
    );
  };

  return (stop: StopBefore, stopNow: Stop | undefined): Why =>
    progressOf(stop) ??
    orderGone(now, before, stop) ??
    missed(stop) ??
    crewOut(now, calendar, stop) ??
    thingOut(now, stop.crewDay) ??
    closed(now, calendar, agronomy, stop) ??
    lockedElsewhere(now, stop, stopNow) ??
    roomFor(stop, stopNow) ??
    cannot(stop, stopNow) ?? {
      reason: "saves",
      sentence:
        stopNow === undefined
          ? "Nothing stands against it where it was, but the plan costs less without it."
          : "Nothing stands against it where it was, but the plan as a whole costs less this way.",
    };

  function progressOf({ block }: StopBefore): Why | null {
    switch (fateOf.get(block.id)?.fate) {
      case "done":
        return { reason: "done", sentence: "It is done." };
      case "underWay":
        return { reason: "done", sentence: "It is under way." };
      case "doneInPart":
        return { reason: "restOfOrder", sentence: "It was left before its end; what is left of it is planned anew." };
      default:
        return null;
    }
  }

  function missed({ block, startMin }: StopBefore): Why | null {
    const { planFrom } = now.settings;
    const isPast = planFrom !== undefined && startMin < calendar.minOfLocal(planFrom);
    if (fateOf.get(block.id)?.fate !== "missed" && !isPast) return null;
    const sentence = `It was to begin at ${calendar.clockOfMin(startMin)}, and nobody has reported that it did.`;
    return { reason: "missed", sentence };
  }

  /** Others that are there now, at that time, with that crew, and were not. */
  function roomFor(stop: StopBefore, stopNow: Stop | undefined): Why | null {
    const endMin = stop.work.endMin + stop.laterMin;
    const { crewId, date } = stop.crewDay;
    const isThere = ({ crewDay, work, block }: Stop) =>
      crewDay.crewId === crewId &&
      crewDay.date === date &&
      work.startMin < endMin &&
      work.endMin > stop.startMin &&
      block.id !== stopNow?.block.id;
    const others = stopsNow.filter((other) => isThere(other) && !isKept(other));
    if (others.length === 0) return null;
    const names = [...new Set(others.map(({ block }) => fieldName(block.orderId)))].join(" and ");
    return { reason: "makesRoom", sentence: `It makes room for ${names}.` };
  }

  function cannot({ block }: StopBefore, stopNow: Stop | undefined): Why | null {
    if (stopNow !== undefined) return null;
    const conflict = plan.conflicts.find(({ orderId }) => orderId === block.orderId);
    return conflict === undefined ? null : { reason: "cannot", sentence: asSentence(conflict.sentence) };
  }
}

function orderGone(now: Operation, before: Operation, { block }: StopBefore): Why | null {
  const order = now.orders.find(({ id }) => id === block.orderId);
  if (order === undefined) return { reason: "orderWithdrawn", sentence: "Its order was withdrawn." };
  const then = before.orders.find(({ id }) => id === block.orderId);
  const wordsOf = ({ fieldId, products, carrierLPerHa, earliest, latest }: typeof order) =>
    JSON.stringify([fieldId, products, carrierLPerHa, earliest, latest]);
  return then === undefined || wordsOf(then) === wordsOf(order)
    ? null
    : { reason: "orderChanged", sentence: "Its order was changed." };
}

function crewOut(
  { fleet }: Operation,
  calendar: Calendar,
  { crewDay, startMin, laterMin, work }: StopBefore,
): Why | null {
  const crew = fleet.crews.find(({ id }) => id === crewDay.crewId);
  const shift = crew?.shifts.find(({ date }) => date === crewDay.date);
  if (shift === undefined) {
    return { reason: "crewOut", sentence: `${crew?.name ?? crewDay.crewId} does not work on that day.` };
  }
  const fromMin = calendar.minOfLocal(`${shift.date}T${shift.from}`);
  const endDate = shift.to > shift.from ? shift.date : addDays(shift.date, 1);
  const isInside = fromMin <= startMin && work.endMin + laterMin <= calendar.minOfLocal(`${endDate}T${shift.to}`);
  return isInside
    ? null
    : { reason: "crewOut", sentence: `${crew!.name} works from ${shift.from} to ${shift.to} on that day.` };
}

/** What of a crew's outfit is not to be had on the day. */
export function thingOut({ fleet }: Operation, { date, outfit }: CrewDay): Why | null {
  for (const id of outfit.aircraftIds) {
    const aircraft = fleet.aircraft.find((one) => one.id === id);
    if (aircraft === undefined) return { reason: "thingOut", sentence: `Aircraft ${id} is no longer there.` };
    if (aircraft.outOfService.some(({ from, to }) => from <= date && date <= to)) {
      return { reason: "thingOut", sentence: `Aircraft ${id} is out of service on that day.` };
    }
  }
  if (!fleet.tenders.some(({ id }) => id === outfit.tenderId)) {
    return { reason: "thingOut", sentence: `Tender ${outfit.tenderId} is no longer there.` };
  }
  const charger = outfit.chargerIds.find((chargerId) => !fleet.chargers.some(({ id }) => id === chargerId));
  return charger === undefined ? null : { reason: "thingOut", sentence: `Charger ${charger} is no longer there.` };
}

/** The first limit that stops the work at its old time. */
function closed(
  { fleet, orders }: Operation,
  calendar: Calendar,
  agronomy: () => Agronomy,
  stop: StopBefore,
): Why | null {
  const { block, crewDay, work, laterMin } = stop;
  const order = orders.find(({ id }) => id === block.orderId)!;
  const night = fleet.crews.find(({ id }) => id === crewDay.crewId)!.nightWork;
  const atWork = aircraftAtWork(stop);
  const typeIds = new Set(fleet.aircraft.filter(({ id }) => atWork.includes(id)).map(({ typeId }) => typeId));
  for (const type of fleet.aircraftTypes.filter(({ id }) => typeIds.has(id))) {
    const always = [...agronomy().orderLimits(order), ...agronomy().typeLimits(order, type)][0];
    if (always !== undefined) return { reason: "limit", sentence: asSentence(always.sentence) };
    // Of a field that is parted by a buffer, the part that waits less: the other has a stop of its own.
    const rest = agronomy().parts(order).length > 1 ? { night, rest: true as const } : { night };
    for (const { startMin, endMin } of stretchesOf(work)) {
      const [fromMin, toMin] = [startMin + laterMin, endMin + laterMin];
      const stop = agronomy()
        .stops(order, type, rest)
        .flatMap(({ stops }) => stops)
        .filter((span) => span.startMin < toMin && span.endMin > fromMin)
        .map((span) => Math.max(fromMin, span.startMin));
      if (stop.length === 0) continue;
      const min = Math.min(...stop);
      const [judgement] = agronomy().judge(order, type, min, rest);
      if (judgement === undefined) continue;
      return { reason: "limit", sentence: `From ${calendar.clockOfMin(min)} on: ${judgement.sentence}.` };
    }
  }
  return null;
}

function lockedElsewhere({ locks }: Operation, { block, crewDay }: StopBefore, stopNow: Stop | undefined): Why | null {
  if (stopNow === undefined) return null;
  const lock = locks.find(({ stops }) =>
    stops.some(({ orderId, part }) => orderId === block.orderId && (part ?? stopNow.block.part) === stopNow.block.part),
  );
  const isOther = lock !== undefined && (lock.crewId !== crewDay.crewId || lock.date !== crewDay.date);
  return isOther ? { reason: "locked", sentence: "It is locked to where it is now." } : null;
}

export function asSentence(words: string): string {
  const capital = words.charAt(0).toUpperCase() + words.slice(1);
  return /[.!?]$/.test(capital) ? capital : `${capital}.`;
}
