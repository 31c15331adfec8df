import { hoursAndMinutes } from "../agronomy/timeWords.ts";
import { daysBetween } from "../model/calendar.ts";
import { shortDateWords, weekdayOf } from "../model/dateWords.ts";
import { inUnits } from "../units/inUnits.ts";
import type { CrewSheet, SheetStop } from "./crewSheet.ts";
import type { LocalTime } from "./localTime.ts";
import { type Measures, metricMeasures } from "./measures.ts";
import type { Load } from "./mix.ts";
import type { PauseView } from "./pauseView.ts";
import { partWords, type Run, stopsWords } from "./runs.ts";
import { sumOf } from "./totals.ts";
import { counted, methodVerb, readable } from "./words.ts";

/* The words of a crew sheet, the same on paper and on the command line; in metric units unless others are asked for. */

export type Fact = readonly [name: string, value: string];

/** A row of a table; the first cell says what the row is about. */
export type Cells = readonly [about: string, ...cells: string[]];

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

/** When and where the day ends. */
export function backWords({ backAt, date, sleepsAt }: CrewSheet): string {
  return `${sleepsAt === null ? "back" : `at ${sleepsAt} for the night`} ${clockOn(backAt, date)}`;
}

/** Who goes out with what, and what the day comes to: what has to be known before leaving. */
export function dayFacts({ outfit, people, sleepsAt, totals }: CrewSheet, measures = metricMeasures): Fact[] {
  const cleanOut = totals.cleanOutL > 0 ? `, ${measures.bulk(totals.cleanOutL, "L")} to clean out` : "";
  return given([
    ["People", people.map(personWords).join("; ")],
    ["Aircraft", outfit.aircraft.join("; ")],
    ["Batteries", outfit.batteries.join("; ")],
    ["Chargers", outfit.chargers.join("; ")],
    ["Tender", outfit.tender],
    ["Water", totals.carrierL > 0 ? `${measures.bulk(totals.carrierL, "L")} in mixes${cleanOut}; leave full` : ""],
    ["Work", `${measures.area(totals.areaHa)} in ${counted(totals.loads, "load", "loads")}`],
    [
      "Duty",
      `${hoursAndMinutes(totals.dutyMin)}, of it ${hoursAndMinutes(totals.workMin)} at work; ${measures.road(totals.roadKm)}`,
    ],
    ["Night", sleepsAt === null ? "" : `sleeps at ${sleepsAt}; the whole outfit stays there and is used tomorrow`],
  ]);
}

function personWords({ licenceClasses, name }: CrewSheet["people"][number]): string {
  return licenceClasses.length === 0 ? name : `${name} (${licenceClasses.join(", ")})`;
}

export const takeAlongTitle = "Products to take along";
export const takeAlongHeads = ["product, label number", "for the day"] as const;

export function takeAlongRows({ totals }: CrewSheet, measures = metricMeasures): Cells[] {
  return totals.products.map(({ amount, name, registrationNumber, unit }) => [
    `${name}, ${registrationNumber}`,
    measures.dose(amount, unit),
  ]);
}

/** What holds for all parts of a run; the intervals run from the end of its last. */
export function runFacts(run: Run<SheetStop>, date: string, measures = metricMeasures): Fact[] {
  const [first] = run;
  const last = run.at(-1)!;
  const { unit } = first.mix.whole;
  const areaHa = sumOf(run, (stop) => stop.areaHa);
  const amount = sumOf(run, (stop) => stop.mix.whole.size);
  const again = last.workedAgain;
  const harvestFrom = run
    .map((stop) => stop.harvestFrom)
    .sort()
    .at(-1)!;
  return given([
    ["Notes", first.notes],
    ["Order", `${first.orderId}${partWords(run)}`],
    ["Grower, crop", `${first.grower}, ${first.crop}`],
    [
      methodVerb[first.method],
      `${measures.area(areaHa)} at ${measures.bulkPerArea(first.ratePerHa, unit)}, ${measures.bulk(amount, unit)} in all`,
    ],
    ["With", first.aircraft],
    ["Fly", run.length === 1 ? flyWords(first, measures) : ""],
    ["Pad", `${first.padId} at ${first.padLatDeg.toFixed(5)}, ${first.padLonDeg.toFixed(5)}`],
    ["Window", windowWords(run, date, measures)],
    ...run.flatMap((stop) => stop.pauses.map((pause): Fact => ["Pause", pauseFact(pause, date, measures)])),
    ["Re-entry from", asPlanned(timeWords(last.reentryFrom, date), hourWords(last.reentryHours), "its end")],
    [
      "Harvest from",
      asPlanned(shortDateWords(harvestFrom, date), dayCount(Math.max(...run.map(({ phiDays }) => phiDays))), "its day"),
    ],
    ["Worked again", again === null ? "" : `${timeWords(again, date)}; both intervals run anew from then`],
  ]);
}

/** A crew that is late must not read a time that was worked out from the planned end as if it held for any. */
function asPlanned(time: string, interval: string | null, from: string): string {
  return `${time} if the work ends as planned: ${interval === null ? `${from}, as the label sets no interval` : `${interval} after ${from}`}`;
}

const hourWords = (hours: number) => (hours > 0 ? `${readable(hours)} h` : null);
const dayCount = (days: number) => (days > 0 ? counted(days, "day", "days") : null);

function timeWords(time: LocalTime, date: string): string {
  return `${shortDateWords(time.date, date)} ${time.clock}`;
}

function flyWords(stop: SheetStop, measures: Measures): string {
  const where = stop.side === "" ? "" : `, ${stop.side} of the field`;
  return `${counted(stop.passes, "pass", "passes")} along ${Math.round(stop.headingDeg)}° at ${measures.flying(stop.speedMps)}${where}`;
}

/** From the beginning of the first part's window to the end of the last one's. */
function windowWords(run: Run<SheetStop>, date: string, measures: Measures): string {
  const from = run[0].window;
  const to = run.at(-1)!.window;
  if (from === null || to === null) return "none in the forecast: ask the dispatcher before you leave";
  const pauses = sumOf(run, (stop) => stop.pauses.length);
  const closed = pauses === 0 ? "" : ` but for the ${pauses === 1 ? "pause" : "pauses"}`;
  const span = `${clockOn(from.from, date)} to ${clockOn(to.to, date)} by the forecast${closed}`;
  return to.endsBecause.length === 0 ? span : `${span}, then ${inUnits(to.endsBecause.join("; "), measures)}`;
}

/** When a work pauses and, as far as the forecast tells, why. */
export function pauseWords(pause: PauseView, date: string): string {
  const { because, end, start } = pause;
  const span = `${clockOn(start, date)} to ${clockOn(end, date)}`;
  return because.length === 0 ? span : `${span}, ${because.join("; ")}`;
}

function pauseFact(pause: PauseView, date: string, measures: Measures): string {
  return `${inUnits(pauseWords(pause, date), measures)}. Stay at the pad ${hoursAndMinutes(pause.minutes)}, the work goes on then`;
}

export function runTitle(run: Run<SheetStop>): string {
  return stopsWords(run[0].number, run.length);
}

export const partHeads = (measures = metricMeasures) => ["part", "from", "to", measures.areaUnit, "fly"] as const;

/** The parts in the order in which they are worked; none for a single one, of which the facts tell. */
export function partRows(run: Run<SheetStop>, date: string, measures = metricMeasures): Cells[] {
  if (run.length === 1) return [];
  return run.map((stop) => [
    `${stop.part}`,
    clockOn(stop.start, date),
    clockOn(stop.end, date),
    measures.areaHa(stop.areaHa),
    flyWords(stop, measures),
  ]);
}

/** Products go by letter, so that the tables of a stop stay narrow. */
function letterAt(position: number): string {
  return String.fromCharCode("A".charCodeAt(0) + position);
}

export function letterOf({ mix }: SheetStop, productName: string): string {
  return letterAt(mix.whole.parts.findIndex(({ name }) => name === productName));
}

export const productHeads = (measures = metricMeasures) =>
  ["product, label number", measures.perArea, "in all"] as const;

export function productRows(run: Run<SheetStop>, measures = metricMeasures): Cells[] {
  const areaHa = sumOf(run, (stop) => stop.areaHa);
  return run[0].mix.whole.parts.map(({ name, registrationNumber, unit }, position) => {
    const amount = sumOf(run, (stop) => stop.mix.whole.parts[position]!.amount);
    return [
      `${letterAt(position)} ${name}, ${registrationNumber}`,
      measures.dosePerArea(amount / areaHa, unit),
      measures.dose(amount, unit),
    ];
  });
}

export function loadHeads(run: Run<SheetStop>): Cells {
  const { parts, unit } = run[0].mix.whole;
  const letters = parts.map((_, position) => letterAt(position));
  const rest = ["each", ...(unit === "L" ? ["water", ...letters] : letters)];
  return run.length === 1 ? ["loads", ...rest] : ["part", "loads", ...rest];
}

/** What goes into each load: the full ones of a part, then its last one. */
export function loadRows(run: Run<SheetStop>, measures = metricMeasures): Cells[] {
  return run.flatMap((stop) => {
    const { full, last } = stop.mix;
    const row = (load: Load, words: string): Cells => {
      const amounts = [
        measures.bulk(load.size, load.unit),
        ...(load.unit === "L" ? [measures.bulk(load.carrierL, "L")] : []),
        ...load.parts.map((part) => measures.dose(part.amount, part.unit)),
      ];
      return run.length === 1 ? [words, ...amounts] : [`${stop.part}`, words, ...amounts];
    };
    return [
      ...(full.loads > 0 ? [row(full, `${full.loads} full`)] : []),
      ...(last === null ? [] : [row(last, "1 last")]),
    ];
  });
}

export const neighbourHeads = ["place", "away", "buffer"] as const;

export function neighbourRows(stop: SheetStop, measures = metricMeasures): Cells[] {
  return stop.neighbours.map(({ buffers, direction, distanceM, kind, name }) => [
    `${name} (${kind})`,
    `${measures.length(distanceM)} ${direction}`,
    buffers.length === 0
      ? "no buffer on the label"
      : buffers.map((buffer) => `${bufferWords(buffer, measures)} (${letterOf(stop, buffer.productName)})`).join("; "),
  ]);
}

function bufferWords(
  { distanceM, downwindOnly, onlyFinerThan }: SheetStop["neighbours"][number]["buffers"][number],
  measures: Measures,
): string {
  const droplets = onlyFinerThan === null ? "" : ` with droplets finer than ${onlyFinerThan}`;
  return `keep ${measures.keep(distanceM)}${droplets}${downwindOnly ? " when the wind blows there" : ""}`;
}

function given(facts: readonly Fact[]): Fact[] {
  return facts.filter(([, value]) => value !== "");
}
