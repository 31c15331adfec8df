import { addDays, createCalendar, daysBetween, minutesPerHour } from "../model/calendar.ts";
import type { WeatherStep } from "../model/weather.ts";

/** A step, or the part of one that lies on a day, by the day's clock. */
export interface HistoryStep {
  readonly fromClockMin: number;
  /** Of the day's last step 1440. */
  readonly toClockMin: number;
  readonly step: WeatherStep;
}

/** A whole day that every station has told of. */
export interface HistoryDay {
  readonly date: string;
  /** Of all stations. */
  readonly steps: readonly HistoryStep[];
}

/** A time of which a station has told nothing. */
export interface HistoryGap {
  readonly stationId: string;
  /** Local time with its offset. */
  readonly from: string;
  readonly to: string;
}

/** Measured weather of months or years, cut into whole local days. */
export interface History {
  readonly timeZone: string;
  /** Whole days that may be drawn, in order of their dates; some may be missing between them. */
  readonly days: readonly HistoryDay[];
  readonly stationIds: readonly string[];
  /** Times that a station lacks between its first step and its last; days that they touch are not drawn. */
  readonly gaps: readonly HistoryGap[];
  /** Dates on which some station tells something and that are not drawn all the same. */
  readonly leftOut: readonly { readonly date: string; readonly reason: string }[];
}

const dayMin = 24 * minutesPerHour;

/** Our choice: a step that reaches over midnight is cut there, its rain shared out by minutes. */
function share(step: WeatherStep, minutes: number): WeatherStep {
  if (minutes === step.stepMin) return step;
  return { ...step, stepMin: minutes, rainMm: Number(((step.rainMm * minutes) / step.stepMin).toFixed(6)) };
}

/** Steps as the operation's schema has them, of any length; a station's do not overlap. */
export function createHistory(steps: readonly WeatherStep[], timeZone: string): History {
  if (steps.length === 0) return { timeZone, days: [], stationIds: [], gaps: [], leftOut: [] };
  let firstMs = Number.POSITIVE_INFINITY;
  let lastMs = Number.NEGATIVE_INFINITY;
  for (const { start } of steps) {
    const ms = Date.parse(start);
    firstMs = Math.min(firstMs, ms);
    lastMs = Math.max(lastMs, ms);
  }
  const dateOfMs = (ms: number) => new Date(ms).toISOString().slice(0, "2027-06-07".length);
  // Local dates lie at most a day from those of UTC, and a step at most a day from its beginning.
  const firstDay = addDays(dateOfMs(firstMs), -1);
  const days = daysBetween(firstDay, dateOfMs(lastMs)) + 3;
  const calendar = createCalendar({ timeZone, firstDay, days });
  const { dates, dayStartMin } = calendar;
  const minutesOfDay = (day: number) => dayStartMin[day + 1]! - dayStartMin[day]!;

  const stationIds = [...new Set(steps.map(({ stationId }) => stationId))];
  const piecesOfDay: HistoryStep[][] = dates.map(() => []);
  const gaps: HistoryGap[] = [];
  for (const stationId of stationIds) {
    const ofStation = steps
      .filter((step) => step.stationId === stationId)
      .map((step) => ({ step, startMin: calendar.minOfInstant(step.start) }))
      .sort((a, b) => a.startMin - b.startMin);
    let day = 0;
    let toldToMin = ofStation[0]!.startMin;
    for (const { step, startMin } of ofStation) {
      if (startMin > toldToMin) {
        gaps.push({ stationId, from: calendar.isoOfMin(toldToMin), to: calendar.isoOfMin(startMin) });
      }
      toldToMin = startMin + step.stepMin;
      while (startMin >= dayStartMin[day + 1]!) day++;
      for (let on = day, fromMin = startMin; fromMin < toldToMin; on++) {
        const toMin = Math.min(toldToMin, dayStartMin[on + 1]!);
        const midnightMin = dayStartMin[on]!;
        piecesOfDay[on]!.push({
          fromClockMin: fromMin - midnightMin,
          toClockMin: toMin - midnightMin,
          step: share(step, toMin - fromMin),
        });
        fromMin = toMin;
      }
    }
  }

  const whole: HistoryDay[] = [];
  const leftOut: { date: string; reason: string }[] = [];
  for (const [day, date] of dates.entries()) {
    const pieces = piecesOfDay[day]!;
    if (pieces.length === 0) continue;
    const told = (id: string) =>
      pieces
        .filter(({ step }) => step.stationId === id)
        .reduce((sum, { fromClockMin, toClockMin }) => sum + toClockMin - fromClockMin, 0);
    const lacking = stationIds.filter((id) => told(id) < minutesOfDay(day));
    if (minutesOfDay(day) !== dayMin) leftOut.push({ date, reason: "the clocks change" });
    else if (lacking.length > 0) leftOut.push({ date, reason: `not all of the day from ${lacking.join(", ")}` });
    else whole.push({ date, steps: pieces });
  }
  return { timeZone, days: whole, stationIds, gaps, leftOut };
}
