import { addDays, type Calendar, createCalendar } from "../model/calendar.ts";
import type { FieldProperties } from "../model/field.ts";
import type { Aircraft, Crew } from "../model/fleet.ts";
import type { Operation } from "../model/operation.ts";
import type { Order } from "../model/order.ts";
import { withoutAbsent } from "./drawOrders.ts";
import { shownAtOrAfter } from "./localClock.ts";

/**
 * The operation so many whole days later or earlier: every date moves, every local time of day stays as it is. A time that the
 * clocks of its new date skip becomes the first that they show afterwards; what then lasts no minute any more (a closure, an
 * entry, a shift, an order within the skipped hour) is left out. Locks, and what was worked before, are dropped, weather is left as it was.
 */
export function moveOperation(operation: Operation, days: number): Operation {
  const { settings: begun, fields, fleet } = operation;
  // A week of another time has not begun.
  const { planFrom: _, ...settings } = begun;
  const firstDay = addDays(settings.firstDay, days);
  const calendar = createCalendar({ ...settings, firstDay });
  const move = mover(days, calendar);
  return {
    ...operation,
    settings: {
      ...settings,
      firstDay,
      ...(settings.forecastIssued !== undefined && { forecastIssued: move.time(settings.forecastIssued) }),
    },
    fields: {
      ...fields,
      features: fields.features.map((feature) => ({ ...feature, properties: moveField(feature.properties, move) })),
    },
    orders: withoutAbsent(operation.orders.flatMap((order) => moveOrder(order, move))),
    fleet: {
      ...fleet,
      aircraft: fleet.aircraft.map((aircraft) => moveAircraft(aircraft, move)),
      crews: fleet.crews.map((crew) => moveCrew(crew, move)),
    },
    locks: [],
  };
}

interface Mover {
  date(date: string): string;
  time(local: string): string;
}

function mover(days: number, calendar: Calendar): Mover {
  const date = (from: string) => addDays(from, days);
  const dateLength = "2027-06-07".length;
  return {
    date,
    time: (local) => shownAtOrAfter(calendar, date(local.slice(0, dateLength)) + local.slice(dateLength)),
  };
}

function moveSpans<Span extends { from: string; to: string }>(spans: readonly Span[], { time }: Mover): Span[] {
  return spans
    .map((span) => ({ ...span, from: time(span.from), to: time(span.to) }))
    .filter(({ from, to }) => from < to);
}

function moveField(field: FieldProperties, move: Mover): FieldProperties {
  const { harvestDate, bloom, hazardsSurveyed } = field;
  return {
    ...field,
    ...(harvestDate !== undefined && { harvestDate: move.date(harvestDate) }),
    ...(bloom !== undefined && { bloom: { from: move.date(bloom.from), to: move.date(bloom.to) } }),
    ...(hazardsSurveyed !== undefined && { hazardsSurveyed: move.date(hazardsSurveyed) }),
    closures: moveSpans(field.closures, move),
    entries: moveSpans(field.entries, move),
    pastApplications: field.pastApplications.map((past) => ({ ...past, endedAt: move.time(past.endedAt) })),
  };
}

function moveOrder(order: Order, move: Mover): Order[] {
  const { preferredDate } = order;
  const earliest = move.time(order.earliest);
  const latest = move.time(order.latest);
  if (earliest >= latest) return [];
  return [
    { ...order, earliest, latest, ...(preferredDate !== undefined && { preferredDate: move.date(preferredDate) }) },
  ];
}

function moveAircraft(aircraft: Aircraft, move: Mover): Aircraft {
  return {
    ...aircraft,
    outOfService: aircraft.outOfService.map(({ from, to }) => ({ from: move.date(from), to: move.date(to) })),
  };
}

function moveCrew({ dutyBefore: _, ...crew }: Crew, move: Mover): Crew {
  const clockOf = (local: string) => local.slice("2027-06-07T".length);
  const shifts = crew.shifts.flatMap((shift) => {
    const { date, from, to } = shift;
    const begins = move.time(`${date}T${from}`);
    // A shift that ends at or before its own beginning ends on the next day.
    const ends = move.time(`${to > from ? date : addDays(date, 1)}T${to}`);
    return begins < ends ? [{ ...shift, date: move.date(date), from: clockOf(begins), to: clockOf(ends) }] : [];
  });
  return { ...crew, shifts };
}
