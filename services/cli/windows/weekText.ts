import type { Interval } from "../../../shared/agronomy/intervals.ts";
import type { Judgement } from "../../../shared/agronomy/limits.ts";
import { hoursAndMinutes } from "../../../shared/agronomy/timeWords.ts";
import type { OrderHour } from "../../../shared/agronomy/windows.ts";
import { addDays, type Calendar } from "../../../shared/model/calendar.ts";
import { clockTold } from "../../../shared/model/clockReadings.ts";
import { weekdayOf } from "../../../shared/model/dateWords.ts";
import { clockShiftMin } from "../../../shared/plan/localTime.ts";
import { textTable, wrapped } from "../../../shared/plan/textTable.ts";
import { type Stretch, stretchesOf } from "./stretches.ts";

export const legendLines = [
  "  # open all the hour, + open for a part of it, . closed; a figure is that of the worst minute of",
  "  its line, the signs of an inversion or a wind towards a place those of the first such minute;",
  "  forecast: how far it is trusted at the end of the day; inversion: L likely, p possible, ? not",
  "  known",
];

const dayIndent = 2;
const spanIndent = 6;
const dayWidth = "Mon 2027-06-14".length;

/** Day by day: a sign for every hour, and under it the stretches with what stops each. Days closed from end to end by the same are one line. */
export function weekLines(
  calendar: Calendar,
  hours: readonly OrderHour[],
  judge: (min: number) => readonly Judgement[],
): string[] {
  const lines: string[] = [];
  let closed: { readonly first: string; readonly last: string; readonly words: string } | undefined;
  const endClosed = () => {
    if (closed !== undefined) lines.push(...closedLines(closed));
    closed = undefined;
  };
  calendar.dates.forEach((date, day) => {
    const span = { startMin: calendar.dayStartMin[day]!, endMin: calendar.dayStartMin[day + 1]! };
    const stretches = stretchesOf(judge, span);
    const [only] = stretches;
    if (stretches.length === 1 && only!.judgements.length > 0) {
      const words = stretchWords(only!);
      if (closed?.words !== words) endClosed();
      closed = { first: closed?.first ?? date, last: date, words };
      return;
    }
    endClosed();
    lines.push(
      ...hourLines(
        calendar,
        date,
        hours.filter(({ startMin }) => startMin >= span.startMin && startMin < span.endMin),
      ),
    );
    const rows = stretches.map((stretch) => [spanWords(calendar, stretch, span.endMin), stretchWords(stretch)]);
    lines.push(...textTable(rows, { indent: spanIndent, right: [] }));
  });
  endClosed();
  return lines;
}

function dayWords(date: string): string {
  return `${weekdayOf(date).slice(0, 3)} ${date}`;
}

function closedLines({
  first,
  last,
  words,
}: {
  readonly first: string;
  readonly last: string;
  readonly words: string;
}) {
  const days = first === last ? `${dayWords(first)}, all day` : `${dayWords(first)} to ${dayWords(last)}, all day`;
  return [`${" ".repeat(dayIndent)}${days}`, ...wrapped(words, spanIndent)];
}

function hourLines(calendar: Calendar, date: string, hours: readonly OrderHour[]): string[] {
  const row = (first: string, cells: readonly string[]) =>
    `${" ".repeat(dayIndent)}${first.padEnd(dayWidth)}  ${cells.map((cell) => cell.padEnd(2)).join(" ")}`.trimEnd();
  const clocks = hours.map(({ startMin }) => calendar.clockOfMin(startMin).slice(0, 2));
  const trustPct = Math.round(100 * hours.at(-1)!.confidenceFrac);
  const inversions = hours.map(({ inversionRisk }) => inversionSigns[inversionRisk]);
  return [
    `${row(dayWords(date), clocks)}${clockChangeWords(calendar, date)}`,
    ...pastHourLines(calendar, hours),
    row(`forecast ${trustPct} %`, hours.map(signOf)),
    ...(inversions.some((sign) => sign !== inversionSigns.none) ? [row("inversion", inversions)] : []),
  ];
}

/** Where clocks change by half an hour, columns of an hour each no longer begin on the hour that heads them. */
function pastHourLines(calendar: Calendar, hours: readonly OrderHour[]): string[] {
  const pastHour = hours.find(({ startMin }) => !calendar.clockOfMin(startMin).endsWith(":00"));
  if (pastHour === undefined) return [];
  const { startMin } = pastHour;
  const pastMin = Number(calendar.clockOfMin(startMin).slice("01:".length));
  return [
    `${" ".repeat(spanIndent)}columns from ${clockTold(calendar, startMin)} on begin ${pastMin} min past the hour that heads them`,
  ];
}

const inversionSigns: Record<OrderHour["inversionRisk"], string> = {
  none: "",
  possible: "p",
  likely: "L",
  unknown: "?",
};

function signOf({ startMin, endMin, openMin }: OrderHour): string {
  if (openMin === 0) return ".";
  return openMin === endMin - startMin ? "#" : "+";
}

function clockChangeWords(calendar: Calendar, date: string): string {
  const shiftMin = clockShiftMin(calendar, date, addDays(date, 1));
  if (shiftMin === 0) return "";
  return shiftMin > 0 ? "  clocks go forward" : "  clocks go back";
}

function spanWords(calendar: Calendar, { startMin, endMin }: Interval, dayEndMin: number): string {
  return `${clockTold(calendar, startMin)}-${endMin === dayEndMin ? "24:00" : clockTold(calendar, endMin)}`;
}

function stretchWords({ startMin, endMin, judgements, hasTurningWind }: Stretch): string {
  if (judgements.length === 0) return `OPEN for ${hoursAndMinutes(endMin - startMin)}`;
  const words = judgements.map(({ sentence }) => sentence).join("; ");
  return hasTurningWind ? `${words} (the wind changes in that time)` : words;
}
