import { daysBetween } from "../model/calendar.ts";
import type { CrewSheet, SheetStop } from "./crewSheet.ts";
import { type LocalTime, weekdayOf } from "./localTime.ts";
import type { Load } from "./mix.ts";
import { partWords, type Run } from "./runs.ts";
import type { SiteLimits } from "./siteLimits.ts";
import { sumOf } from "./totals.ts";
import { counted, hectares, hoursAndMinutes, inversionWords, methodVerb, readable } from "./words.ts";

/* The words of a crew sheet, the same on the page and on the command line. */

export type Fact = readonly [name: string, value: string];

/** The clock; on another day than the one that is read with its weekday before it, and far from it with its date. */
export function clockOn(time: LocalTime, date: string): string {
  if (time.date === date) return time.clock;
  const isNear = Math.abs(daysBetween(date, time.date)) < 7;
  return `${isNear ? weekdayOf(time.date).slice(0, 3) : time.date} ${time.clock}`;
}

/** Empty on a plain day. */
export function clockShiftWords(shiftMin: number): string {
  return shiftMin === 0 ? "" : `the clocks go ${shiftMin > 0 ? "forward" : "back"} ${Math.abs(shiftMin)} min`;
}

export function outfitFacts({ outfit, people }: CrewSheet): Fact[] {
  return given([
    ["People", people.map(personWords).join("; ")],
    ["Aircraft", outfit.aircraft.join("; ")],
    ["Batteries", outfit.batteries.join("; ")],
    ["Chargers", outfit.chargers.join("; ")],
    ["Tender", outfit.tender],
  ]);
}

function personWords({ licenceClasses, name }: CrewSheet["people"][number]): string {
  return licenceClasses.length === 0 ? name : `${name} (${licenceClasses.join(", ")})`;
}

/** What holds for all parts of a run; the intervals run from the end of its last. */
export function runFacts(run: Run<SheetStop>, date: string): Fact[] {
  const [first] = run;
  const last = run.at(-1)!;
  const { unit } = first.mix.whole;
  const areaHa = sumOf(run, (stop) => stop.areaHa);
  const amount = sumOf(run, (stop) => stop.mix.whole.size);
  const again = last.workedAgain;
  return given([
    ["Order", `${first.orderId}${partWords(run)}`],
    ["Grower, crop", `${first.grower}, ${first.crop}`],
    [
      methodVerb[first.method],
      `${hectares(areaHa)} ha at ${readable(first.ratePerHa)} ${unit}/ha, ${readable(amount)} ${unit} in all`,
    ],
    ["Pad", `${first.padId} at ${first.padLatDeg.toFixed(5)}, ${first.padLonDeg.toFixed(5)}`],
    ["Window", windowWords(run, date)],
    ["Notes", first.notes],
    ["Re-entry from", `${last.reentryFrom.date} ${last.reentryFrom.clock}`],
    [
      "Harvest from",
      run
        .map((stop) => stop.harvestFrom)
        .sort()
        .at(-1)!,
    ],
    ["Worked again", again === null ? "" : `${again.date} ${again.clock}; both intervals run anew from then`],
  ]);
}

/** From the beginning of the first part's window to the end of the last one's. */
function windowWords(run: Run<SheetStop>, date: string): string {
  const from = run[0].window;
  const to = run.at(-1)!.window;
  if (from === null || to === null) return "none in the forecast: ask the dispatcher before you leave";
  const span = `${clockOn(from.from, date)} to ${clockOn(to.to, date)} by the forecast`;
  return to.endsBecause.length === 0 ? span : `${span}, then ${to.endsBecause.join("; ")}`;
}

/** `Stop 3`, or `Stops 3 to 5`. */
export function runTitle(run: Run<SheetStop>): string {
  const [first] = run;
  return run.length === 1 ? `Stop ${first.number}` : `Stops ${first.number} to ${run.at(-1)!.number}`;
}

export const partHeads = ["part", "where", "from", "to", "ha", "fly"] as const;

/** The parts in the order in which they are worked. */
export function partRows(run: Run<SheetStop>, date: string): Cells[] {
  return run.map((stop) => [
    stop.parts === 1 ? "whole" : `${stop.part}`,
    stop.side === "" ? "field" : stop.side,
    clockOn(stop.start, date),
    clockOn(stop.end, date),
    hectares(stop.areaHa),
    `${counted(stop.passes, "pass", "passes")} along ${Math.round(stop.headingDeg)}° at ${readable(stop.speedMps)} m/s`,
  ]);
}

/** A row of a table; the first cell says what the row is about. */
export type Cells = readonly [about: string, ...cells: string[]];

/** Products go by letter, so that a table of loads stays narrow. */
const letterOf = (position: number) => String.fromCharCode("A".charCodeAt(0) + position);

export const productHeads = ["product", "label number", "per ha", "in all"] as const;

export function productRows(run: Run<SheetStop>): Cells[] {
  const areaHa = sumOf(run, (stop) => stop.areaHa);
  return run[0].mix.whole.parts.map(({ name, registrationNumber, unit }, position) => {
    const amount = sumOf(run, (stop) => stop.mix.whole.parts[position]!.amount);
    return [
      `${letterOf(position)} ${name}`,
      registrationNumber,
      `${readable(amount / areaHa)} ${unit}`,
      `${readable(amount)} ${unit}`,
    ];
  });
}

export function loadHeads(run: Run<SheetStop>): Cells {
  const { parts, unit } = run[0].mix.whole;
  return [
    "part",
    "loads",
    "each makes",
    ...(unit === "L" ? ["water"] : []),
    ...parts.map((_, position) => letterOf(position)),
  ];
}

/** What goes into each load: the full ones of a part, then its last one. */
export function loadRows(run: Run<SheetStop>): Cells[] {
  return run.flatMap((stop) => {
    const { full, last } = stop.mix;
    const about = stop.parts === 1 ? "whole" : `${stop.part}`;
    const row = (load: Load, words: string): Cells => [
      about,
      words,
      amountWords(load.size, load.unit),
      ...(load.unit === "L" ? [amountWords(load.carrierL, "L")] : []),
      ...load.parts.map((part) => amountWords(part.amount, part.unit)),
    ];
    return [
      ...(full.loads > 0 ? [row(full, `${full.loads} full`)] : []),
      ...(last === null ? [] : [row(last, "1 last")]),
    ];
  });
}

function amountWords(amount: number, unit: string): string {
  return `${readable(amount)} ${unit}`;
}

export function dayFacts({ totals }: CrewSheet): Fact[] {
  return [
    ["Duty", `${hoursAndMinutes(totals.dutyMin)}, of it ${hoursAndMinutes(totals.workMin)} at work`],
    ["Area", `${hectares(totals.areaHa)} ha in ${counted(totals.loads, "load", "loads")}`],
    ["Road", `${readable(totals.roadKm)} km`],
    ["Water", `${readable(totals.carrierL)} L in mixes, ${readable(totals.cleanOutL)} L to clean out`],
    ...totals.products.map((part): Fact => [part.name, `${readable(part.amount)} ${part.unit}`]),
  ];
}

export const limitsTitle = "Measure on site, stop outside";

/** What is measured, its limit, and who set it. */
export function limitRows(limits: SiteLimits): Cells[] {
  const rows = limits.limits.map(
    ({ bound, measure, setBy, unit, value }): Cells => [`${measure}, at ${bound}`, `${readable(value)} ${unit}`, setBy],
  );
  if (limits.dropletClasses.length > 0) {
    rows.push(["droplets", limits.dropletClasses.join(" "), "order, label, aircraft"]);
  }
  if (limits.rainfastHours > 0) rows.push(["no rain after", `${readable(limits.rainfastHours)} h`, "label"]);
  if (limits.inversion !== "ignore") rows.push(["inversion", inversionWords[limits.inversion], "label"]);
  return rows;
}

export function neighbourRows({ neighbours }: SheetStop): Cells[] {
  return neighbours.map(({ bufferWords, direction, distanceM, kind, name }) => [
    `${name} (${kind})`,
    `${Math.round(distanceM)} m`,
    direction,
    bufferWords,
  ]);
}

function given(facts: readonly Fact[]): Fact[] {
  return facts.filter(([, value]) => value !== "");
}
