import { areaM2 } from "../geo/area.ts";
import { planeOf, toAreaXY } from "../geo/convert.ts";
import { addDays, daysBetween } from "../model/calendar.ts";
import type { Operation } from "../model/operation.ts";
import { remember } from "../model/remember.ts";
import { haFromM2 } from "../units/units.ts";
import type { DemandSpan, SeasonDocument } from "./seasonDocument.ts";

const daysPerWeek = 7;

/** A week of the season that the operation can be moved to. */
export interface SeasonWeek {
  readonly firstDay: string;
  /** Orders expected on the operation's days there. */
  readonly expectedOrders: number;
}

/** Field area of an order, mean over all that can be drawn. */
function meanOrderHa({ mandatory }: SeasonDocument, { orders, fields }: Operation): number {
  const drawable = orders.filter(({ priority }) => mandatory !== "never" || priority !== "mandatory");
  const areaHaOf = remember((fieldId: string) => {
    const { geometry } = fields.features.find(({ properties }) => properties.id === fieldId)!;
    return haFromM2(areaM2(toAreaXY(planeOf(geometry), geometry)));
  });
  return drawable.reduce((sumHa, { fieldId }) => sumHa + areaHaOf(fieldId), 0) / drawable.length;
}

/**
 * Weeks that begin on the operation's own day of the week and end within the season. An operation of more or fewer days than
 * seven is moved by weeks all the same, and has the orders of its days.
 */
export function seasonWeeks(document: SeasonDocument, operation: Operation): SeasonWeek[] {
  const { firstDay, days } = operation.settings;
  const spans = document.demand;
  const begins = spans[0]!.from;
  const ends = spans[spans.length - 1]!.to;
  const toWeekday = ((daysBetween(begins, firstDay) % daysPerWeek) + daysPerWeek) % daysPerWeek;
  const weeklyOrdersOf = remember(
    ({ ordersPerWeek, areaHaPerWeek = 0 }: DemandSpan) =>
      ordersPerWeek ?? areaHaPerWeek / meanOrderHa(document, operation),
  );
  const perWeekOn = (date: string) => {
    const span = spans.find(({ from, to }) => from <= date && date <= to);
    return span === undefined ? 0 : weeklyOrdersOf(span);
  };
  const weeks: SeasonWeek[] = [];
  for (let day = addDays(begins, toWeekday); addDays(day, days - 1) <= ends; day = addDays(day, daysPerWeek)) {
    const dates = Array.from({ length: days }, (_, at) => addDays(day, at));
    const sumPerWeek = dates.reduce((sum, date) => sum + perWeekOn(date), 0);
    weeks.push({ firstDay: day, expectedOrders: sumPerWeek / daysPerWeek });
  }
  return weeks;
}

/** The golden ratio's fraction, whose multiples lie evenly however many are taken (Knuth, TAOCP 3, 6.4, theorem S). */
const goldenFrac = (Math.sqrt(5) - 1) / 2;

/**
 * Which week the index-th sample is of. Every so many samples as there are weeks take each week once, and fewer are spread
 * evenly over the season, so that nobody has to say beforehand how many there will be.
 */
export function weekOfSample(index: number, weeks: number): number {
  return sequenceOf(weeks)[index % weeks]!;
}

const sequenceOf = remember((weeks: number): readonly number[] => {
  const places = Array.from({ length: weeks }, (_, sample) => ({ sample, at: ((sample + 1) * goldenFrac) % 1 }));
  places.sort((a, b) => a.at - b.at);
  const weekOf: number[] = [];
  for (const [week, { sample }] of places.entries()) weekOf[sample] = week;
  return weekOf;
});
