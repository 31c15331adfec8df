import { addDays, type Calendar, minutesPerHour } from "../model/calendar.ts";
import { readingsOf } from "../model/clockReadings.ts";
import type { WeatherStep } from "../model/weather.ts";
import type { DrawnDay } from "./bootstrap.ts";
import type { History, HistoryStep } from "./history.ts";
import { clocksChangeOn, minAtOrAfter } from "./localClock.ts";

const dayMin = 24 * minutesPerHour;
const twoDigits = (value: number) => String(value).padStart(2, "0");
const clockText = (clockMin: number) =>
  `${twoDigits(Math.floor(clockMin / minutesPerHour))}:${twoDigits(clockMin % minutesPerHour)}`;

/** The drawn days on their new dates: every step begins at the local time of day at which it was measured. */
export function layWeather(history: History, drawn: readonly DrawnDay[], calendar: Calendar): WeatherStep[] {
  return drawn.flatMap(({ date, day }) => {
    const { steps } = history.days[day]!;
    return clocksChangeOn(calendar, date)
      ? layChangingDay(steps, date, calendar.minOfDate(addDays(date, 1)), calendar)
      : layPlainDay(steps, date, calendar.isoOfMin(calendar.minOfDate(date)));
  });
}

function layPlainDay(steps: readonly HistoryStep[], date: string, midnightIso: string): WeatherStep[] {
  const offset = midnightIso.slice(`${date}T00:00:00`.length);
  return steps.map(({ fromClockMin, step }) => ({ ...step, start: `${date}T${clockText(fromClockMin)}:00${offset}` }));
}

interface Laid {
  readonly startMin: number;
  readonly endMin: number;
  readonly step: WeatherStep;
}

/**
 * A date on which the clocks change. What was measured in the hour that they skip is left out; the hour that they show twice
 * has the same weather twice; a longer step lasts as long as its times of day are apart. The rain of a step is not changed.
 */
function layChangingDay(
  steps: readonly HistoryStep[],
  date: string,
  nextMidnightMin: number,
  calendar: Calendar,
): WeatherStep[] {
  const endOf = (clockMin: number) =>
    clockMin === dayMin ? nextMidnightMin : minAtOrAfter(calendar, `${date}T${clockText(clockMin)}`);
  const lastEndOf = (clockMin: number) =>
    clockMin === dayMin ? nextMidnightMin : calendar.lastMinOfLocal(`${date}T${clockText(clockMin)}`);
  const lay = ({ fromClockMin, toClockMin, step }: HistoryStep): Laid[] => {
    const local = `${date}T${clockText(fromClockMin)}`;
    const [first = minAtOrAfter(calendar, local), second] = readingsOf(calendar, local);
    const laid = { startMin: first, endMin: endOf(toClockMin), step };
    return second === undefined ? [laid] : [laid, { startMin: second, endMin: lastEndOf(toClockMin), step }];
  };
  const all = steps.flatMap(lay);
  return [...new Set(all.map(({ step }) => step.stationId))].flatMap((stationId) => {
    const inOrder = all.filter(({ step }) => step.stationId === stationId).sort((a, b) => a.startMin - b.startMin);
    return inOrder.flatMap(({ startMin, endMin, step }, at) => {
      const stepMin = Math.min(endMin, inOrder[at + 1]?.startMin ?? endMin) - startMin;
      return stepMin > 0 ? [{ ...step, start: calendar.isoOfMin(startMin), stepMin }] : [];
    });
  });
}
