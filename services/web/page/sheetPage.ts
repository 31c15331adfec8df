import type { CrewSheet, SheetStop } from "../../../shared/plan/crewSheet.ts";
import { dateWords } from "../../../shared/plan/dateWords.ts";
import { limitHeads, limitRows, limitsTitle } from "../../../shared/plan/limitRows.ts";
import { endOf, type Run, runsOf } from "../../../shared/plan/runs.ts";
import {
  backWords,
  clockOn,
  clockShiftWords,
  dayFacts,
  type Fact,
  loadHeads,
  loadRows,
  neighbourHeads,
  neighbourRows,
  partHeads,
  partRows,
  productHeads,
  productRows,
  runFacts,
  runTitle,
  takeAlongHeads,
  takeAlongRows,
  takeAlongTitle,
} from "../../../shared/plan/sheetWords.ts";
import { type Child, el, type Row, table } from "./dom.ts";

/** A crew lead's day, to be read on a phone or printed for the truck. */
export function sheetPage(sheet: CrewSheet, weekAddress: string): HTMLElement {
  const { date } = sheet;
  const print = el("button", { type: "button" }, "Print");
  print.addEventListener("click", () => window.print());
  const sections = runsOf(sheet.stops).map((run) => runSection(run, date));
  return el(
    "article",
    { class: "sheet", "aria-labelledby": "sheetTitle" },
    el("h2", { id: "sheetTitle", tabindex: "-1" }, `${sheet.crewName}, ${dateWords(date)}`),
    el(
      "p",
      { class: "leave" },
      el("strong", {}, `Leave ${clockOn(sheet.leaveBy, date)}`),
      ` from ${sheet.base}, ${backWords(sheet)} `,
      el("span", { class: "quiet" }, [sheet.timeZone, clockShiftWords(sheet.clockShiftMin)].filter(Boolean).join("; ")),
    ),
    el("p", { class: "caution" }, sheet.caution),
    el("p", { class: "sheetTools" }, el("a", { href: weekAddress }, "Back to the week"), print),
    factList(dayFacts(sheet)),
    table(takeAlongTitle, takeAlongHeads, takeAlongRows(sheet), "measures"),
    timelineTable(sheet, sections),
    ...sections,
  );
}

function factList(facts: readonly Fact[]): HTMLElement {
  return el(
    "dl",
    { class: "facts" },
    ...facts.map(([name, value]) =>
      el("div", name === "Notes" ? { class: "notes" } : {}, el("dt", {}, name), el("dd", {}, value)),
    ),
  );
}

/** Each row of work leads to the section of its run; there are as many of both, in the same order. */
function timelineTable({ date, timeline }: CrewSheet, sections: readonly HTMLElement[]): HTMLElement {
  const sectionsLeft = [...sections];
  const rows = timeline.map(({ details, end, kind, minutes, start, words }): Row => {
    const section = kind === "work" ? sectionsLeft.shift() : undefined;
    return [
      clockOn(start, date),
      clockOn(end, date),
      `${minutes}`,
      el(
        "div",
        { class: kind },
        section === undefined ? words : linkTo(section, words),
        details.length === 0 ? null : el("small", {}, details.join(", ")),
      ),
    ];
  });
  return table("The day", ["from", "to", "min", "what"], rows, "timeline");
}

/** A link within the sheet: what stands behind the # of the address names the sheet already. */
function linkTo(section: HTMLElement, words: Child): HTMLElement {
  const link = el("a", { href: location.hash }, words);
  link.addEventListener("click", (event) => {
    event.preventDefault();
    section.scrollIntoView();
    section.focus({ preventScroll: true });
  });
  return link;
}

function runSection(run: Run<SheetStop>, date: string): HTMLElement {
  const [first] = run;
  const neighbours = neighbourRows(first);
  const parts = partRows(run, date);
  const hours = `${clockOn(first.start, date)} to ${clockOn(endOf(run), date)}`;
  return el(
    "section",
    { class: "stopSheet", "aria-label": runTitle(run), tabindex: "-1" },
    el("h3", {}, `${runTitle(run)}: ${first.fieldName}`, el("small", {}, hours)),
    // RFC 5870; only a phone knows what to do with it.
    el("p", { class: "way" }, el("a", { href: `geo:${first.padLatDeg},${first.padLonDeg}` }, "Show the pad on a map")),
    factList(runFacts(run, date)),
    parts.length === 0 ? null : table("Parts", partHeads, parts, "parts"),
    el(
      "div",
      { class: "pair" },
      el(
        "div",
        {},
        table("Products", productHeads, productRows(run), "measures"),
        table("Loads", loadHeads(run), loadRows(run), "loads"),
      ),
      el(
        "div",
        {},
        table(limitsTitle, limitHeads, limitRows(first), "limits"),
        neighbours.length === 0
          ? el("p", { class: "quiet" }, "Nothing sensitive near.")
          : table("Near the field", neighbourHeads, neighbours, "neighbours"),
      ),
    ),
  );
}
