import { textTable, wrapped } from "../../shared/plan/textTable.ts";
import type { History } from "../../shared/season/history.ts";
import { type SampledWeek, sampleWeek } from "../../shared/season/sampleWeek.ts";
import { seedOfSample } from "../../shared/season/seedOfSample.ts";
import { type MonthlyHours, sprayHours, tableHours } from "../../shared/season/sprayHours.ts";
import { formatFault } from "../scenario/faults.ts";
import { readSeason } from "../scenario/readSeason.ts";
import { createRandom } from "../solver/random.ts";
import { BadInput, exitCodes, loadScenario, print, printJson } from "./output.ts";

export interface HoursOptions {
  readonly weeks: number;
  readonly json?: boolean;
}

/** Spray hours over sampled weeks: windows alone, so that hundreds of weeks take seconds and nothing is planned. */
export async function hoursVerb(dir: string, season: string, history: string, options: HoursOptions): Promise<number> {
  const operation = await loadScenario(dir);
  const read = await readSeason({ season, history }, operation);
  if (!read.ok)
    throw new BadInput(["the season is refused:", ...read.faults.map((fault) => `  ${formatFault(fault)}`)]);
  const sampled = Array.from({ length: options.weeks }, (_, index) => {
    const { operation: week, about } = sampleWeek(operation, read.season, index, createRandom(seedOfSample(index)));
    return { about, hours: sprayHours(week) };
  });
  const abouts = sampled.map(({ about }) => about);
  const hours = tableHours(sampled.map(({ hours: ofWeek }) => ofWeek));
  const { days, stationIds, gaps, leftOut } = read.season.history;
  if (options.json) {
    const historyTold = { days: days.length, stationIds, gaps, leftOut };
    printJson({ season: read.season.document.name, history: historyTold, hours, weeks: abouts });
    return exitCodes.good;
  }
  const ofSeason = abouts[0]!.weeks;
  const told = [
    `${read.season.document.name}: ${options.weeks} weeks, sampled from the ${ofSeason} of the season. ${drawnWords(abouts)}`,
    ...historyWords(read.season.history),
  ];
  for (const line of told.flatMap((sentence) => wrapped(sentence, 0))) print(line);
  print("");
  print("Hours a week in which at least one order is open, by aircraft type");
  printTable(hours, ({ anyHoursPerWeek }) => anyHoursPerWeek);
  print("");
  print("Hours a week that an order is open, mean over the orders that the type may do");
  printTable(hours, ({ meanHoursPerWeek }) => meanHoursPerWeek);
  return exitCodes.good;
}

function drawnWords(abouts: readonly SampledWeek["about"][]): string {
  const orders = abouts.reduce((sum, about) => sum + about.orders, 0) / abouts.length;
  const short = abouts.filter((about) => about.wantedOrders > about.orders).length;
  const mean = `${orders.toFixed(1)} orders a week on average.`;
  if (short === 0) return mean;
  return `${mean} In ${short} of them chance asked for more orders than the operation has to draw from.`;
}

/** Our choice: more gaps are counted, not listed. */
const mostGaps = 10;

function historyWords({ days, stationIds, gaps, leftOut }: History): string[] {
  const [first, last] = [days[0]!.date, days[days.length - 1]!.date];
  const timeWords = (iso: string) => iso.slice(0, "2027-06-07T05:30".length).replace("T", " ");
  return [
    `The history has ${days.length} whole days between ${first} and ${last}, of ${stationIds.length === 1 ? "one station" : `${stationIds.length} stations`}.`,
    ...gaps
      .slice(0, mostGaps)
      .map(({ stationId, from, to }) => `${stationId} has no weather from ${timeWords(from)} to ${timeWords(to)}.`),
    ...(gaps.length > mostGaps ? [`${gaps.length - mostGaps} more gaps are not listed.`] : []),
    ...(leftOut.length > 0
      ? [`${leftOut.length} of its days are not whole, or the clocks change on them: they are not drawn.`]
      : []),
  ];
}

function printTable(hours: readonly MonthlyHours[], of: (row: MonthlyHours) => number): void {
  const types = [...new Set(hours.map(({ aircraftTypeId }) => aircraftTypeId))];
  const months = [...new Set(hours.map(({ month }) => month))];
  const rowOf = (month: string) => hours.filter((row) => row.month === month);
  const body = months.map((month) => [
    month,
    String(rowOf(month)[0]!.days),
    ...rowOf(month).map((row) => of(row).toFixed(1)),
  ]);
  const head = ["month", "days", ...types];
  const right = head.map((_, column) => column).slice(1);
  for (const line of textTable([head, ...body], { indent: 0, right })) print(line);
}
