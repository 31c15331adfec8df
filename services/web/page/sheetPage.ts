import type { CrewSheet, SheetStop } from "../../../shared/plan/crewSheet.ts";
import { endOf, type Run, runsOf } from "../../../shared/plan/runs.ts";
import {
  clockOn,
  clockShiftWords,
  dayFacts,
  type Fact,
  limitRows,
  limitsTitle,
  loadHeads,
  loadRows,
  neighbourRows,
  outfitFacts,
  partHeads,
  partRows,
  productHeads,
  productRows,
  runFacts,
  runTitle,
} from "../../../shared/plan/sheetWords.ts";
import { dateWords } from "./dateWords.ts";
import { el, table } from "./dom.ts";

/** A crew lead's day, to be read on a phone or printed for the truck. */
export function sheetPage(sheet: CrewSheet, weekAddress: string): HTMLElement {
  const { date } = sheet;
  const print = el("button", { type: "button" }, "Print");
  print.addEventListener("click", () => window.print());
  return el(
    "article",
    { class: "sheet", "aria-labelledby": "sheetTitle" },
    el("h2", { id: "sheetTitle", tabindex: "-1" }, `${sheet.crewName}, ${dateWords(sheet)}`),
    el(
      "p",
      { class: "leave" },
      el("strong", {}, `Leave ${clockOn(sheet.leaveBy, date)}`),
      ` from ${sheet.base}, back ${clockOn(sheet.backAt, date)} `,
      el("span", { class: "quiet" }, [sheet.timeZone, clockShiftWords(sheet.clockShiftMin)].filter(Boolean).join("; ")),
    ),
    el("p", { class: "sheetTools" }, el("a", { href: weekAddress }, "Back to the week"), print),
    factList(outfitFacts(sheet)),
    timelineTable(sheet),
    ...runsOf(sheet.stops).map((run) => runSection(run, date)),
    el(
      "section",
      { class: "stopSheet", "aria-label": "For the day" },
      el("h3", {}, "For the day"),
      factList(dayFacts(sheet)),
    ),
  );
}

function factList(facts: readonly Fact[]): HTMLElement {
  return el(
    "dl",
    { class: "facts" },
    ...facts.map(([name, value]) => el("div", {}, el("dt", {}, name), el("dd", {}, value))),
  );
}

function timelineTable({ date, timeline }: CrewSheet): HTMLElement {
  return table(
    "The day",
    ["from", "to", "min", "what"],
    timeline.map(({ details, end, kind, minutes, start, words }) => [
      clockOn(start, date),
      clockOn(end, date),
      `${minutes}`,
      el("div", { class: kind }, words, details.length === 0 ? null : el("small", {}, details.join(", "))),
    ]),
    "timeline",
  );
}

function runSection(run: Run<SheetStop>, date: string): HTMLElement {
  const [first] = run;
  const neighbours = neighbourRows(first);
  const hours = `${clockOn(first.start, date)} to ${clockOn(endOf(run), date)}`;
  return el(
    "section",
    { class: "stopSheet", "aria-label": runTitle(run) },
    el("h3", {}, `${runTitle(run)}: ${first.fieldName}`, el("small", {}, hours)),
    factList(runFacts(run, date)),
    el(
      "div",
      { class: "pair" },
      el(
        "div",
        {},
        table("Products", productHeads, productRows(run), "measures"),
        table("Loads", loadHeads(run), loadRows(run), "measures"),
      ),
      table(limitsTitle, ["", "limit", "set by"], limitRows(first.siteLimits), "limits"),
    ),
    table("Flying", partHeads, partRows(run, date), "flying"),
    neighbours.length === 0
      ? el("p", { class: "quiet" }, "Nothing sensitive near.")
      : table("Near the field", ["place", "away", "towards", "buffer"], neighbours, "neighbours"),
  );
}
