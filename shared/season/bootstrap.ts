import { addDays } from "../model/calendar.ts";
import { remember } from "../model/remember.ts";
import type { History } from "./history.ts";

export interface DrawnDay {
  /** The date that it stands for. */
  readonly date: string;
  /** Its place in the history's days. */
  readonly day: number;
  /** It was drawn anew, and does not merely follow the day before it in the history. */
  readonly beginsRun: boolean;
}

export interface RunChoice {
  readonly meanRunDays: number;
  readonly windowDays: number;
}

const monthDay = (date: string) => date.slice("2027-".length);

/** The history's days of any year within the window about a date. A 29 February stands for itself in leap years only. */
export function daysAbout(history: History, windowDays: number): (date: string) => readonly number[] {
  const daysOf = new Map<string, number[]>();
  for (const [day, { date }] of history.days.entries()) {
    const key = monthDay(date);
    const others = daysOf.get(key);
    if (others === undefined) daysOf.set(key, [day]);
    else others.push(day);
  }
  return remember((date: string) =>
    Array.from({ length: 2 * windowDays + 1 }, (_, at) => daysOf.get(monthDay(addDays(date, at - windowDays))) ?? [])
      .flat()
      .sort((a, b) => a - b),
  );
}

/**
 * The stationary bootstrap on whole days (Politis & Romano, The stationary bootstrap, JASA 89, 1994, section 2): with probability
 * 1 / mean length a run ends and a day is drawn anew; otherwise the next day of the history follows, so that runs have
 * geometric lengths. Our choice beside it: days are drawn from a window about their date, for seasons are not stationary; and a
 * run also ends where the history does, instead of going round to its beginning. Each date takes two numbers of chance, whatever
 * becomes of them; one that the history says nothing about is left out.
 */
export function drawDays(
  history: History,
  dates: readonly string[],
  { meanRunDays, windowDays }: RunChoice,
  random: () => number,
): DrawnDay[] {
  const about = daysAbout(history, windowDays);
  const drawn: DrawnDay[] = [];
  let before: number | undefined;
  for (const date of dates) {
    const [endsChance, dayChance] = [random(), random()];
    const candidates = about(date);
    const next = before === undefined ? undefined : followingDay(history, before);
    const goesOn = next !== undefined && endsChance >= 1 / meanRunDays && candidates.includes(next);
    const day: number | undefined = goesOn ? next : candidates[Math.floor(dayChance * candidates.length)];
    if (day !== undefined) drawn.push({ date, day, beginsRun: !goesOn });
    before = day;
  }
  return drawn;
}

function followingDay({ days }: History, day: number): number | undefined {
  const next = days[day + 1];
  return next !== undefined && next.date === addDays(days[day]!.date, 1) ? day + 1 : undefined;
}
