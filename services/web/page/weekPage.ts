import { dateWords } from "../../../shared/plan/dateWords.ts";
import { endOf, partWords, runsOf } from "../../../shared/plan/runs.ts";
import { clockOn, clockShiftWords, pauseWords } from "../../../shared/plan/sheetWords.ts";
import type { StopView } from "../../../shared/plan/weekOrders.ts";
import type { CrewDayCell, CrewView, DayView, WeekView } from "../../../shared/plan/weekView.ts";
import { counted, hectares, kilometres, moneyWords } from "../../../shared/plan/words.ts";
import { conflictPanel } from "./conflictPanel.ts";
import { el, type Row, table } from "./dom.ts";
import { glanceTable } from "./glanceTable.ts";
import { type HourRange, hourRangeOf } from "./hours.ts";
import { orderTable } from "./orderTable.ts";
import { crewDayStrip, hourScale } from "./strip.ts";

/** The week: figures on top, days with a strip for each crew, and beside them what is not planned. */
export function weekPage(
  week: WeekView,
  madeWords: string,
  sheetAddress: (crewId: string, date: string) => string,
): HTMLElement {
  const range = hourRangeOf(week);
  return el(
    "div",
    { class: "week" },
    figures(week),
    el(
      "section",
      { class: "days", "aria-labelledby": "daysTitle" },
      el("h2", { id: "daysTitle" }, `${week.operationName}`),
      el("p", { class: "quiet" }, `${madeWords}Times in ${week.timeZone}. Choose a crew's day to read its sheet.`),
      glanceTable(week, sheetAddress),
      legend(),
      ...week.days.map((day, position) => daySection(week, day, position, range, sheetAddress)),
    ),
    conflictPanel(week),
    el("section", { class: "more" }, orderTable(week, sheetAddress), costTable(week), el("p", {}, week.proof)),
  );
}

function figures(week: WeekView): HTMLElement {
  const { breaches, checks, ok, rules } = week.check;
  const figure = (value: string, words: string, className: string) =>
    el("div", { class: `figure ${className}` }, el("dt", {}, words), el("dd", {}, value));
  return el(
    "section",
    { class: "figures", "aria-label": "The plan in figures" },
    el(
      "dl",
      {},
      figure(
        `${(week.servedFrac * 100).toFixed(1)} %`,
        `of the hectares planned: ${hectares(week.servedHa)} of ${hectares(week.orderedHa)} ha`,
        "",
      ),
      figure(counted(week.conflicts.length, "conflict", "conflicts"), "each with its reason", ""),
      figure(`${Math.round(week.dutyMin / 60)} h`, `on duty, all crews; ${kilometres(week.roadKm)} km on the road`, ""),
      figure(
        ok ? "No breach" : counted(breaches.length, "breach", "breaches"),
        `found by the checker, ${counted(rules, "rule", "rules")}, ${checks} checks`,
        ok ? "" : "bad",
      ),
    ),
    breaches.length === 0
      ? null
      : el("ul", { class: "breaches" }, ...breaches.map(({ rule, sentence }) => el("li", {}, `${rule}: ${sentence}`))),
  );
}

function legend(): HTMLElement {
  const entry = (className: string, words: string) =>
    el("li", {}, el("span", { class: `key ${className}`, "aria-hidden": "true" }), words);
  return el(
    "ul",
    { class: "legend" },
    entry("liquid", "spraying"),
    entry("granular", "spreading"),
    entry("drive", "driving"),
    entry("groundWork", "set up, refill, clean out, pack up"),
    entry("wait", "waiting, pause of a work"),
    entry("night", "sun is down"),
  );
}

function daySection(
  week: WeekView,
  day: DayView,
  position: number,
  range: HourRange,
  sheetAddress: (crewId: string, date: string) => string,
): HTMLElement {
  const rows = week.crews.map((crew) => ({ crew, cell: crew.days[position]! }));
  const out = rows.filter(({ cell }) => cell.crewDay !== null);
  const off = rows.filter(({ cell }) => cell.crewDay === null);
  return el(
    "section",
    { class: "day", "aria-label": dateWords(day.date) },
    el("h3", {}, dateWords(day.date), el("small", {}, sunWords(day))),
    out.length === 0 ? null : el("div", { class: "scaleRow", "aria-hidden": "true" }, hourScale(range)),
    el("ul", { class: "crewDays" }, ...out.map(({ crew, cell }) => crewDayRow(crew, day, cell, range, sheetAddress))),
    off.length === 0
      ? null
      : el("p", { class: "quiet idle" }, off.map(({ crew, cell }) => idleWords(crew, cell)).join("; ")),
  );
}

function idleWords(crew: CrewView, { shift }: CrewDayCell): string {
  return `${crew.name}: ${shift === null ? "off" : "not needed"}`;
}

function sunWords({ sunrise, sunset, clockShiftMin }: DayView): string {
  const sun = sunrise === null || sunset === null ? "" : `sunrise ${sunrise.clock}, sunset ${sunset.clock}`;
  return [sun, clockShiftWords(clockShiftMin)].filter(Boolean).join(", ");
}

function crewDayRow(
  crew: CrewView,
  day: DayView,
  { crewDay, date }: CrewDayCell,
  range: HourRange,
  sheetAddress: (crewId: string, date: string) => string,
): HTMLElement {
  const { areaHa, back, leave, outfitShort, roadKm, sleepsAt, stops } = crewDay!;
  return el(
    "li",
    {},
    el(
      "a",
      { class: "crewDay", href: sheetAddress(crew.id, date), "data-crew-day": `${crew.id} ${date}` },
      el(
        "span",
        { class: "crewWords" },
        el("strong", {}, crew.name),
        el("span", { class: "hours" }, `${clockOn(leave, date)}–${clockOn(back, date)}`),
        el("span", { class: "outfit" }, outfitShort),
        el(
          "span",
          { class: "amounts" },
          `${hectares(areaHa)} ha, ${counted(stops.length, "stop", "stops")}, ${kilometres(roadKm)} km`,
        ),
        sleepsAt === null ? null : el("span", { class: "amounts" }, `sleeps at ${sleepsAt}`),
      ),
      el("span", {}, crewDayStrip(day, crewDay, range), stopList(stops, date)),
    ),
  );
}

function stopList(stops: readonly StopView[], date: string): HTMLElement {
  return el(
    "span",
    { class: "stopList" },
    ...runsOf(stops).map((run) => {
      const number = stops.indexOf(run[0]) + 1;
      const hours = `${clockOn(run[0].start, date)}–${clockOn(endOf(run), date)}`;
      const area = run.reduce((areaHa, stop) => areaHa + stop.areaHa, 0);
      const aircraft = run[0].aircraft === "" ? "" : `, ${run[0].aircraft}`;
      const pauses = run.flatMap((stop) => stop.pauses.map((pause) => `, pause ${pauseWords(pause, date)}`));
      return el(
        "span",
        {},
        el("b", {}, run.length === 1 ? `${number}` : `${number}–${number + run.length - 1}`),
        ` ${run[0].fieldName}${partWords(run)} ${hours}, ${hectares(area)} ha${aircraft}${pauses.join("")}`,
      );
    }),
  );
}

function costTable({ currency, score }: WeekView): HTMLElement {
  return table(
    "Cost of the plan",
    ["part", currency],
    [
      ...score.parts.map(({ cents, words }): Row => [words, moneyWords(cents)]),
      ["in all", moneyWords(score.totalCents)],
    ],
    "cost",
  );
}
