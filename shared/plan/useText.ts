import { weekdayOf } from "../model/dateWords.ts";
import { textTable } from "./textTable.ts";
import { sumOf } from "./totals.ts";
import type { Use, UsedDay } from "./use.ts";
import type { WindowDay } from "./windowHours.ts";

/** What the plan uses, over the week and by day, for a terminal. */
export function useText(use: Use, hours: readonly WindowDay[]): string[] {
  const heads = hours.map(({ date }) => `${weekdayOf(date).slice(0, 2)} ${Number(date.slice(-2))}`);
  const table = (title: string, rows: readonly (readonly string[])[], facts: readonly string[] = []) =>
    rows.length === 0
      ? []
      : [
          "",
          ...textTable([[title, ...facts, "all", ...heads], ...rows], {
            indent: 0,
            right: [...facts, "all", ...heads].map((_, at) => at + 1),
          }),
        ];
  const outRow = (name: string, days: readonly UsedDay[], facts: readonly string[] = []) => [
    name,
    ...facts,
    shareWords(
      sumOf(days, (day) => day.outMin),
      sumOf(days, (day) => day.thereMin),
    ),
    ...days.map(({ outMin, thereMin }) => shareWords(outMin, thereMin)),
  ];
  const place = (id: string, baseId: string) => `  ${id} at ${baseId}`;
  return [
    "What is used, in percent of the hours in which it could be; - where it could not.",
    "Bay h: hours that one bay must have charged at the field, at least.",
    ...table(
      "Crews: duty",
      use.crews.map(({ crewId, allowedMin, dutyMin, days }) => [
        `  ${crewId}`,
        hourWords(dutyMin),
        hourWords(allowedMin),
        shareWords(dutyMin, allowedMin),
        ...days.map((day) => shareWords(day.dutyMin, day.allowedMin)),
      ]),
      ["h", "allowed"],
    ),
    ...table(
      "Aircraft: out with crews",
      use.aircraft.map(({ typeId, baseId, days }) => outRow(place(typeId, baseId), days)),
    ),
    ...table(
      "Aircraft: at work",
      use.aircraft.map(({ typeId, baseId, days }) =>
        outRow(
          place(typeId, baseId),
          days.map(({ workMin, ...day }) => ({ ...day, outMin: workMin })),
        ),
      ),
    ),
    ...table(
      "Tenders: out",
      use.tenders.map(({ id, baseId, days }) => outRow(place(id, baseId), days)),
    ),
    ...table(
      "Chargers: out",
      use.chargers.map(({ id, baseId, chargedMin, days }) => outRow(place(id, baseId), days, [hourWords(chargedMin)])),
      ["bay h"],
    ),
    ...table(
      "Battery sets: out",
      use.batteries.map(({ typeId, baseId, sets, days }) => [
        place(typeId, baseId),
        String(sets),
        "",
        ...days.map(({ out }) => String(out)),
      ]),
      ["sets"],
    ),
    ...table("Hours of the day", [
      hourRow("  open for some order", hours, ({ openMin }) => openMin),
      hourRow("  of these with a crew on shift", hours, ({ mannedMin }) => mannedMin),
      hourRow("  in which some crew worked", hours, ({ workedMin }) => workedMin),
    ]),
  ];
}

function hourRow(name: string, hours: readonly WindowDay[], minOf: (day: WindowDay) => number): string[] {
  return [name, hourWords(sumOf(hours, minOf)), ...hours.map((day) => hourWords(minOf(day)))];
}

function hourWords(minutes: number): string {
  return (minutes / 60).toFixed(1);
}

function shareWords(partMin: number, ofMin: number): string {
  return ofMin === 0 ? "-" : `${Math.round((100 * partMin) / ofMin)}`;
}
