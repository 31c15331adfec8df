import type { CrewSheet, SheetStop } from "../../../shared/plan/crewSheet.ts";
import type { Load } from "../../../shared/plan/mix.ts";
import type { SiteLimits } from "../../../shared/plan/siteLimits.ts";
import {
  counted,
  hectares,
  hoursAndMinutes,
  inversionWords,
  methodVerb,
  readable,
} from "../../../shared/plan/words.ts";
import { byClock, clockOn, dateWords } from "./dateWords.ts";
import { type Child, el, type Row, table } from "./dom.ts";

/** A crew lead's day, to be read on a phone or printed for the truck. */
export function sheetPage(sheet: CrewSheet, weekAddress: string): HTMLElement {
  const { date, outfit, totals } = sheet;
  const print = el("button", { type: "button" }, "Print");
  print.addEventListener("click", () => window.print());
  return el(
    "article",
    { class: "sheet", "aria-labelledby": "sheetTitle" },
    el("p", { class: "sheetTools" }, el("a", { href: weekAddress }, "Back to the week"), print),
    el("h2", { id: "sheetTitle", tabindex: "-1" }, `${sheet.crewName}, ${dateWords(sheet)}`),
    el(
      "p",
      { class: "leave" },
      el("strong", {}, `Leave ${clockOn(sheet.leaveBy, date)}`),
      ` from ${sheet.base}, back ${clockOn(sheet.backAt, date)} `,
      el("span", { class: "quiet" }, `(${sheet.timeZone}${shiftWords(sheet.clockShiftMin)})`),
    ),
    facts([
      ["People", sheet.people.map(personWords).join("; ")],
      ["Aircraft", outfit.aircraft.join("; ")],
      ["Batteries", outfit.batteries.join("; ")],
      ["Chargers", outfit.chargers.join("; ")],
      ["Tender", outfit.tender],
    ]),
    timelineTable(sheet),
    ...sheet.stops.map((stop) => stopSection(stop, date)),
    el(
      "section",
      { class: "stopSheet", "aria-label": "For the day" },
      el("h3", {}, "For the day"),
      facts([
        ["Duty", `${hoursAndMinutes(totals.dutyMin)}, of it ${hoursAndMinutes(totals.workMin)} at work`],
        ["Area", `${hectares(totals.areaHa)} ha in ${counted(totals.loads, "load", "loads")}`],
        ["Road", `${readable(totals.roadKm)} km`],
        ["Water", `${readable(totals.carrierL)} L in mixes, ${readable(totals.cleanOutL)} L to clean out`],
        ...totals.products.map((part): Fact => [part.name, `${readable(part.amount)} ${part.unit}`]),
      ]),
    ),
    el("p", { class: "caution" }, sheet.caution),
  );
}

type Fact = readonly [name: string, value: string];

/** Facts that are empty are left out. */
function facts(rows: readonly Fact[]): HTMLElement {
  return el(
    "dl",
    { class: "facts" },
    ...rows
      .filter(([, value]) => value !== "")
      .map(([name, value]) => el("div", {}, el("dt", {}, name), el("dd", {}, value))),
  );
}

function personWords({ licenceClasses, name }: CrewSheet["people"][number]): string {
  return licenceClasses.length === 0 ? name : `${name} (${licenceClasses.join(", ")})`;
}

function shiftWords(shiftMin: number): string {
  return shiftMin === 0 ? "" : `; the clocks go ${shiftMin > 0 ? "forward" : "back"} ${Math.abs(shiftMin)} min`;
}

function timelineTable({ date, timeline }: CrewSheet): HTMLElement {
  return table(
    "The day",
    ["from", "to", "min", "what", "with"],
    timeline.map((row) => [
      clockOn(row.start, date),
      clockOn(row.end, date),
      `${row.minutes}`,
      row.kind === "work" ? el("strong", {}, row.words) : row.words,
      row.details.join(", "),
    ]),
    "timeline",
  );
}

function stopSection(stop: SheetStop, date: string): HTMLElement {
  const { mix, workedAgain } = stop;
  const { size, unit } = mix.whole;
  return el(
    "section",
    { class: "stopSheet", "aria-label": `Stop ${stop.number}` },
    el("h3", {}, `${stop.number}. ${stop.fieldName}`, el("small", {}, byClock(stop, date))),
    facts([
      ["Order", stop.parts === 1 ? stop.orderId : `${stop.orderId}, part ${stop.part} of ${stop.parts}`],
      ["Grower, crop", `${stop.grower}, ${stop.crop}`],
      [
        methodVerb[stop.method],
        `${hectares(stop.areaHa)} ha at ${readable(stop.ratePerHa)} ${unit}/ha, ${readable(size)} ${unit} in all`,
      ],
      [
        "Fly",
        `${counted(stop.passes, "pass", "passes")} along ${Math.round(stop.headingDeg)}° at ${readable(stop.speedMps)} m/s`,
      ],
      ["Pad", `${stop.padId} at ${stop.padLatDeg.toFixed(5)}, ${stop.padLonDeg.toFixed(5)}`],
      ["Notes", stop.notes],
      ["Re-entry from", `${stop.reentryFrom.date} ${stop.reentryFrom.clock}`],
      ["Harvest from", stop.harvestFrom],
      [
        "Worked again",
        workedAgain === null ? "" : `${workedAgain.date} ${workedAgain.clock}; both intervals run anew from then`,
      ],
    ]),
    el("div", { class: "pair" }, mixTable(stop), limitTable(stop.siteLimits)),
    neighbourTable(stop),
  );
}

function mixTable({ mix }: SheetStop): HTMLElement {
  const columns: { title: string; load: Load }[] = [
    ...(mix.full.loads > 0
      ? [{ title: `each of ${counted(mix.full.loads, "full load", "full loads")}`, load: mix.full }]
      : []),
    ...(mix.last === null ? [] : [{ title: "last load", load: mix.last }]),
    { title: "in all", load: mix.whole },
  ];
  const { parts, unit } = mix.whole;
  const row = (name: Child, amountOf: (load: Load) => number): Row => [
    name,
    ...columns.map(({ load }) => `${readable(amountOf(load))} ${unit}`),
  ];
  return table(
    "Mix",
    ["", ...columns.map(({ title }) => title)],
    [
      ...(unit === "L" ? [row("water", (load) => load.carrierL)] : []),
      ...parts.map(({ name, registrationNumber }, position) =>
        row(el("span", {}, name, el("small", {}, registrationNumber)), (load) => load.parts[position]!.amount),
      ),
      row("makes", (load) => load.size),
    ],
    "mix",
  );
}

function limitTable(limits: SiteLimits): HTMLElement {
  const rows = limits.limits.map(
    ({ bound, measure, setBy, unit, value }): Row => [`${measure}, at ${bound}`, `${readable(value)} ${unit}`, setBy],
  );
  if (limits.dropletClasses.length > 0)
    rows.push(["droplets", limits.dropletClasses.join(" "), "order, label, aircraft"]);
  if (limits.rainfastHours > 0) rows.push(["no rain after", `${readable(limits.rainfastHours)} h`, "label"]);
  if (limits.inversion !== "ignore") rows.push(["inversion", inversionWords[limits.inversion], "label"]);
  return table("Measure on site, stop outside", ["", "limit", "set by"], rows, "limits");
}

function neighbourTable({ neighbours }: SheetStop): HTMLElement {
  if (neighbours.length === 0) return el("p", { class: "quiet" }, "Nothing sensitive within 500 m.");
  return table(
    "Near the field",
    ["place", "away", "towards", "buffer"],
    neighbours.map(({ bufferWords, direction, distanceM, kind, name }) => [
      `${name} (${kind})`,
      `${Math.round(distanceM)} m`,
      direction,
      bufferWords,
    ]),
    "neighbours",
  );
}
