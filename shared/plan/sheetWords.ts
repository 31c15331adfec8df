import type { CrewSheet, SheetStop } from "./crewSheet.ts";
import type { LocalTime } from "./localTime.ts";
import type { Load, Mix } from "./mix.ts";
import type { SheetWindow } from "./sheetWindow.ts";
import type { SiteLimits } from "./siteLimits.ts";
import { counted, hectares, hoursAndMinutes, inversionWords, methodVerb, readable } from "./words.ts";

/* The words of a crew sheet, the same on the page and on the command line. */

export type Fact = readonly [name: string, value: string];

/** The clock, with the date before it when it is not the day that is being read. */
export function clockOn(time: LocalTime, date: string): string {
  return time.date === date ? time.clock : `${time.date} ${time.clock}`;
}

export function byClock({ start, end }: { readonly start: LocalTime; readonly end: LocalTime }, date: string): string {
  return `${clockOn(start, date)} to ${clockOn(end, date)}`;
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

export function stopFacts(stop: SheetStop, date: string): Fact[] {
  const { size, unit } = stop.mix.whole;
  const again = stop.workedAgain;
  return given([
    ["Order", stop.parts === 1 ? stop.orderId : `${stop.orderId}, part ${stop.part} of ${stop.parts}: ${stop.side}`],
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
    ["Window", windowWords(stop.window, date)],
    ["Notes", stop.notes],
    ["Re-entry from", `${stop.reentryFrom.date} ${stop.reentryFrom.clock}`],
    ["Harvest from", stop.harvestFrom],
    ["Worked again", again === null ? "" : `${again.date} ${again.clock}; both intervals run anew from then`],
  ]);
}

function windowWords(window: SheetWindow | null, date: string): string {
  if (window === null) return "none in the forecast: ask the dispatcher before you leave";
  const { endsBecause, from, to } = window;
  const span = `${clockOn(from, date)} to ${clockOn(to, date)} by the forecast`;
  return endsBecause.length === 0 ? span : `${span}, then ${endsBecause.join("; ")}`;
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
export function limitRows(limits: SiteLimits): [what: string, limit: string, setBy: string][] {
  const rows = limits.limits.map(({ bound, measure, setBy, unit, value }): [string, string, string] => [
    `${measure}, at ${bound}`,
    `${readable(value)} ${unit}`,
    setBy,
  ]);
  if (limits.dropletClasses.length > 0) {
    rows.push(["droplets", limits.dropletClasses.join(" "), "order, label, aircraft"]);
  }
  if (limits.rainfastHours > 0) rows.push(["no rain after", `${readable(limits.rainfastHours)} h`, "label"]);
  if (limits.inversion !== "ignore") rows.push(["inversion", inversionWords[limits.inversion], "label"]);
  return rows;
}

export interface MixRows {
  readonly heads: readonly string[];
  readonly rows: readonly { readonly name: string; readonly note: string; readonly amounts: readonly string[] }[];
}

/** A column for the full loads, one for the last, one for all; a row for water and each product. */
export function mixRows({ full, last, whole }: Mix): MixRows {
  const columns: { head: string; load: Load }[] = [
    ...(full.loads > 0 ? [{ head: `${full.loads} × full load`, load: full }] : []),
    ...(last === null ? [] : [{ head: "last load", load: last }]),
    { head: "in all", load: whole },
  ];
  const row = (name: string, note: string, amountOf: (load: Load) => number) => ({
    name,
    note,
    amounts: columns.map(({ load }) => `${readable(amountOf(load))} ${whole.unit}`),
  });
  return {
    heads: columns.map(({ head }) => head),
    rows: [
      ...(whole.unit === "L" ? [row("water", "", (load) => load.carrierL)] : []),
      ...whole.parts.map(({ name, registrationNumber }, position) =>
        row(name, registrationNumber, (load) => load.parts[position]!.amount),
      ),
      row("makes", "", (load) => load.size),
    ],
  };
}

export function neighbourRows({
  neighbours,
}: SheetStop): [place: string, away: string, towards: string, buffer: string][] {
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
