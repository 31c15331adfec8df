import { clockOn } from "../../../shared/plan/sheetWords.ts";
import type { CrewDayCell, WeekView } from "../../../shared/plan/weekView.ts";
import { hectares } from "../../../shared/plan/words.ts";
import { type Child, el, type Row, table } from "./dom.ts";

/** The whole week on one look: hectares and hours of each crew on each day, and what each day comes to. */
export function glanceTable(week: WeekView, sheetAddress: (crewId: string, date: string) => string): HTMLElement {
  const rows = week.crews.map(
    (crew): Row => [
      crew.name,
      ...crew.days.map((cell) => cellOf(cell, sheetAddress(crew.id, cell.date))),
      hectares(sum(crew.days)),
    ],
  );
  const daySums = week.days.map((_, day) => hectares(sum(week.crews.map((crew) => crew.days[day]!))));
  return table(
    "Hectares and hours out (–: not needed)",
    ["crew", ...week.days.map(({ date, weekday }) => `${weekday.slice(0, 3)} ${Number(date.slice(-2))}`), "ha in all"],
    [...rows, ["ha in all", ...daySums, hectares(week.servedHa)]],
    "glance",
  );
}

function cellOf({ crewDay, date, shift }: CrewDayCell, address: string): Child {
  if (crewDay === null) return el("span", { class: "quiet" }, shift === null ? "off" : "–");
  const { areaHa, back, leave } = crewDay;
  return el(
    "a",
    { href: address },
    el("strong", {}, hectares(areaHa)),
    el("small", {}, `${clockOn(leave, date)}–${clockOn(back, date)}`),
  );
}

function sum(cells: readonly CrewDayCell[]): number {
  return cells.reduce((areaHa, { crewDay }) => areaHa + (crewDay?.areaHa ?? 0), 0);
}
