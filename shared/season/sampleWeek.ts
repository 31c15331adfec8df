import { addDays, createCalendar, daysBetween } from "../model/calendar.ts";
import type { Operation } from "../model/operation.ts";
import { drawDays } from "./bootstrap.ts";
import { drawOrders } from "./drawOrders.ts";
import { layWeather } from "./layWeather.ts";
import { greatestLagDays, greatestLeadDays, leadAndLag } from "./leadAndLag.ts";
import { moveOperation } from "./moveOperation.ts";
import type { Season } from "./season.ts";
import { seasonWeeks, weekOfSample } from "./seasonWeeks.ts";

/** Where the weather of a date is from. */
export interface WeatherOrigin {
  readonly date: string;
  readonly historyDate: string;
  /** Drawn anew, and not merely the day after the one before. */
  readonly beginsRun: boolean;
}

/** How a sampled week came about. */
export interface WeekAbout {
  /** Which sample it is, from 0. */
  readonly index: number;
  /** Which week of the season it is of, from 0, and of how many. */
  readonly week: number;
  readonly weeks: number;
  readonly firstDay: string;
  /** Orders that the season expects in it. */
  readonly expectedOrders: number;
  /** The number drawn; more than `orders` when the operation has no more to draw from. */
  readonly wantedOrders: number;
  readonly orders: number;
  /** The week's days, and those before and after it that limits look at. */
  readonly weather: readonly WeatherOrigin[];
}

export interface SampledWeek {
  readonly operation: Operation;
  readonly about: WeekAbout;
}

/**
 * The index-th sampled week of a season: the operation moved there by whole weeks, with orders drawn from its own and weather
 * drawn from the history. It takes the same numbers of chance for the same part of the work whatever fleet, costs or limits the
 * operation has, so that cases sampled with the same seed meet the same weather and the same orders. The season must have no
 * faults against the operation (`seasonFaults`).
 */
export function sampleWeek(operation: Operation, season: Season, index: number, random: () => number): SampledWeek {
  const { document, history } = season;
  const weeks = seasonWeeks(document, operation);
  const week = weekOfSample(index, weeks.length);
  const { firstDay, expectedOrders } = weeks[week]!;
  const { days } = operation.settings;
  const moved = moveOperation(operation, daysBetween(operation.settings.firstDay, firstDay));

  // Days are drawn for all that any operation could ask for, so that a longer interval in one case shifts nothing.
  const dates = Array.from({ length: greatestLeadDays + days + greatestLagDays }, (_, at) =>
    addDays(firstDay, at - greatestLeadDays),
  );
  const { leadDays, lagDays } = leadAndLag(operation);
  const from = addDays(firstDay, -leadDays);
  const until = addDays(firstDay, days + lagDays);
  const drawnDays = drawDays(history, dates, document.weather, random).filter(
    ({ date }) => from <= date && date < until,
  );
  if (drawnDays.length < leadDays + days + lagDays)
    throw new RangeError("the season has faults: the history is too short");
  const { orders, wanted } = drawOrders(moved.orders, expectedOrders, document.mandatory, random);
  const weather = layWeather(history, drawnDays, createCalendar(moved.settings));
  return {
    operation: { ...moved, orders, weather },
    about: {
      index,
      week,
      weeks: weeks.length,
      firstDay,
      expectedOrders,
      wantedOrders: wanted,
      orders: orders.length,
      weather: drawnDays.map(({ date, day, beginsRun }) => ({
        date,
        historyDate: history.days[day]!.date,
        beginsRun,
      })),
    },
  };
}
