import { createAgronomy } from "../agronomy/agronomy.ts";
import { clip, type Interval, totalMin, union } from "../agronomy/intervals.ts";
import { type Calendar, createCalendar, minutesPerHour } from "../model/calendar.ts";
import type { AircraftType } from "../model/fleet.ts";
import type { Operation } from "../model/operation.ts";

const monthOf = (date: string) => date.slice(0, "2027-06".length);

/** Open hours of the days of a week that lie in one month. */
export interface MonthHours {
  /** As 2027-06. */
  readonly month: string;
  readonly days: number;
  /** Hours in which at least one order is open. */
  readonly anyHours: number;
  /** Open hours of an order, mean over those that the type may do at all. */
  readonly meanHours: number;
}

/** When one aircraft type may work in a week, by windows alone: whether there is a crew, or water, is not asked. */
export interface TypeHours {
  readonly aircraftTypeId: AircraftType["id"];
  /** Orders that the type may do at all, by its gear and the labels; of none, its hours are 0. */
  readonly orders: number;
  readonly months: readonly MonthHours[];
}

/**
 * Hours in windows per aircraft type and month. At night they count where some crew does night work and the type can. An order
 * of which only a part must wait for the wind counts as that part does.
 */
export function sprayHours(operation: Operation): TypeHours[] {
  const calendar = createCalendar(operation.settings);
  const agronomy = createAgronomy(operation, calendar);
  const night = operation.fleet.crews.some(({ nightWork }) => nightWork);
  const spans = monthSpans(calendar);
  return operation.fleet.aircraftTypes.map((type) => {
    const windows = operation.orders
      .filter((order) => agronomy.typeLimits(order, type).length === 0)
      .map((order) => agronomy.windows(order, type, { night }).windows);
    const any = union(windows.flat());
    const hoursIn = (open: readonly Interval[], { startMin, endMin }: Interval) =>
      totalMin(clip(open, startMin, endMin)) / minutesPerHour;
    return {
      aircraftTypeId: type.id,
      orders: windows.length,
      months: spans.map((span) => ({
        month: span.month,
        days: span.days,
        anyHours: hoursIn(any, span),
        meanHours: windows.reduce((sum, open) => sum + hoursIn(open, span), 0) / Math.max(1, windows.length),
      })),
    };
  });
}

/** The horizon's days by months. */
function monthSpans({ dates, dayStartMin }: Calendar): (Interval & { month: string; days: number })[] {
  return [...new Set(dates.map(monthOf))].map((month) => {
    const first = dates.findIndex((date) => monthOf(date) === month);
    const days = dates.filter((date) => monthOf(date) === month).length;
    return { month, days, startMin: dayStartMin[first]!, endMin: dayStartMin[first + days]! };
  });
}

/** Hours in seven days of a month, over many weeks. */
export interface MonthlyHours {
  readonly aircraftTypeId: AircraftType["id"];
  readonly month: string;
  /** Days of the weeks that lie in the month; those without an order that the type may do are among them. */
  readonly days: number;
  readonly anyHoursPerWeek: number;
  readonly meanHoursPerWeek: number;
}

const daysPerWeek = 7;

/** One row for each type and month, types and months in order. */
export function tableHours(weeks: readonly (readonly TypeHours[])[]): MonthlyHours[] {
  const rows = new Map<
    string,
    { aircraftTypeId: AircraftType["id"]; month: string; days: number; any: number; mean: number }
  >();
  for (const { aircraftTypeId, months } of weeks.flat()) {
    for (const { month, days, anyHours, meanHours } of months) {
      const key = `${aircraftTypeId} ${month}`;
      const row = rows.get(key) ?? { aircraftTypeId, month, days: 0, any: 0, mean: 0 };
      rows.set(key, row);
      row.days += days;
      row.any += anyHours;
      row.mean += meanHours;
    }
  }
  const typeIds = [...new Set([...rows.values()].map(({ aircraftTypeId }) => aircraftTypeId))];
  return [...rows.values()]
    .sort(
      (a, b) => typeIds.indexOf(a.aircraftTypeId) - typeIds.indexOf(b.aircraftTypeId) || (a.month < b.month ? -1 : 1),
    )
    .map(({ aircraftTypeId, month, days, any, mean }) => ({
      aircraftTypeId,
      month,
      days,
      anyHoursPerWeek: (any * daysPerWeek) / days,
      meanHoursPerWeek: (mean * daysPerWeek) / days,
    }));
}
