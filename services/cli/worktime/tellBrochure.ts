import { type Comparison, type Reason, reasonsOf, reasonWords } from "../../../shared/fieldwork/brochure.ts";
import { minutesPerHour } from "../../../shared/model/calendar.ts";
import type { AircraftType } from "../../../shared/model/fleet.ts";
import { textTable, wrapped } from "../../../shared/plan/textTable.ts";
import { exitCodes, print, printJson } from "../output.ts";
import { type BrochureRows, brochureRows, type Row, type Total, totalOf } from "./brochureRows.ts";
import type { Works } from "./orderWork.ts";
import { outfitFacts, outfitWords } from "./outfit.ts";

const reasonsInTable = 2;
const reasonsInWords = 5;
const explained = 3;

/** For a column. */
const shortWords: Readonly<Record<Reason, string>> = {
  slope: "slope",
  overlap: "overlap",
  slower: "flow",
  turns: "turns",
  ferry: "ferry",
  takeoffs: "take-offs",
  loading: "loading",
  changing: "changes",
  waitLoading: "wait to load",
  waitMixing: "wait for mix",
  waitBatteries: "wait for sets",
  waitChargers: "wait for bays",
  idle: "at the end",
};

const law =
  "Brochure: area / (swath x greatest speed x aircraft). Computed: the minutes that the work takes, from the first fill to the last " +
  "landing. Ratio: how many times as long that is.";

/** Every order that can be worked: a brochure's minutes against the computed ones, by type of aircraft or in more detail for one. */
export function tellBrochure(works: Works, only: AircraftType | undefined, json: boolean): number {
  const { orders, types, notWorked } = brochureRows(works, only);
  if (json) {
    printJson({
      orders: orders.flatMap(({ byType }) => byType.filter((row) => row !== undefined)).map(rowFacts),
      notWorked,
      byType: types.map(({ aircraftTypeId, rows }) => ({ aircraftTypeId, ...totalFacts(totalOf(rows)) })),
    });
    return exitCodes.good;
  }
  const leftOut = notWorked.length > 0 ? [`Left out, as no outfit may or can work them: ${notWorked.join(", ")}.`] : [];
  if (orders.length === 0) {
    const whose = only === undefined ? "any outfit" : `an outfit of ${only.id}`;
    for (const text of [law, `No order can be worked by ${whose}.`]) say(text);
  } else if (only === undefined) {
    say(`${law} Each order with the quickest outfit of every type that could be sent.`);
    tellTypes(orders, types, leftOut);
  } else {
    say(`${law} Both in ha/h and minutes; each order with the quickest outfit of ${only.id} that could be sent.`);
    tellType(types[0]!.rows, leftOut);
  }
  return exitCodes.good;
}

function say(text: string): void {
  for (const line of wrapped(text, 0)) print(line);
}

/** A row for each order, minutes and ratio for each type; then what is the worst of each type. */
function tellTypes(orders: BrochureRows["orders"], types: BrochureRows["types"], leftOut: readonly string[]): void {
  const used = types.flatMap((type, index) => (type.rows.length > 0 ? [{ ...type, index }] : []));
  const head = ["order", "ha", ...used.flatMap(({ aircraftTypeId }) => [`${aircraftTypeId} min`, "ratio"])];
  const body = orders.map(({ work, byType }) => [
    work.order.id,
    work.treated.areaHa.toFixed(2),
    ...used.flatMap(({ index }) => {
      const row = byType[index];
      return row === undefined ? ["-", "-"] : [String(row.comparison.minutes), row.ratio.toFixed(2)];
    }),
  ]);
  const right = head.map((_, column) => column).slice(1);
  for (const line of ["", ...textTable([head, ...body], { indent: 0, right }), ""]) print(line);
  for (const text of leftOut) say(text);
  print("\nby type of aircraft");
  const sums = used.map(({ aircraftTypeId, rows }) => typeRow(aircraftTypeId, totalOf(rows)!));
  for (const line of textTable([typeHead, ...sums], { indent: 2, right: [1, 2, 3, 4, 5, 6, 7] })) print(line);
  print("\nthe greatest ratio of each type");
  for (const { rows } of used) {
    print("");
    say(explanation(rows[0]!));
  }
}

function tellType(rows: readonly Row[], leftOut: readonly string[]): void {
  const lines = textTable([tableHead, ...rows.map(tableRow)], { indent: 0, right: [1, 3, 4, 5, 6, 7] });
  for (const line of ["", ...lines, ""]) print(line);
  for (const text of [summary(totalOf(rows)!), ...leftOut]) say(text);
  for (const row of rows.slice(0, explained)) {
    print("");
    say(explanation(row));
  }
}

const tableHead = ["order", "ha", "outfit", "brochure", "min", "computed", "min", "ratio", "mostly, min"];

function tableRow({ work, done, comparison, ratio }: Row): string[] {
  const { areaHa } = work.treated;
  const { brochureMin, minutes } = comparison;
  const { option, type } = done.outfit;
  const perHour = (min: number) => ((minutesPerHour * areaHa) / min).toFixed(1);
  return [
    work.order.id,
    areaHa.toFixed(2),
    `${option.count} x ${type.id}`,
    perHour(brochureMin),
    brochureMin.toFixed(1),
    perHour(minutes),
    String(minutes),
    ratio.toFixed(2),
    reasons(comparison, reasonsInTable, option.count, (reason) => shortWords[reason]),
  ];
}

const typeHead = ["type", "orders", "brochure", "computed", "ratio", "least", "median", "most", "mostly, of the time"];

/** Minutes and ratio of all together, then the ratios of single orders. */
function typeRow(aircraftTypeId: string, { orders, leastRatio, medianRatio, mostRatio, comparison }: Total): string[] {
  const { brochureMin, minutes } = comparison;
  const ratio = (minutes / brochureMin).toFixed(2);
  const aircraftMin = Object.values(comparison.aircraftMin).reduce((sum, min) => sum + min, 0);
  const mostly = reasonsOf(comparison)
    .slice(0, reasonsInTable)
    .map((one) => `${shortWords[one.reason]} ${Math.round((100 * one.aircraftMin) / aircraftMin)} %`);
  return [
    aircraftTypeId,
    String(orders),
    brochureMin.toFixed(0),
    String(minutes),
    ratio,
    ...[leastRatio, medianRatio, mostRatio].map((each) => each.toFixed(2)),
    mostly.join(", "),
  ];
}

/** In minutes of the work, as if the aircraft shared them evenly. */
function reasons(comparison: Comparison, most: number, aircraft: number, words: (reason: Reason) => string): string {
  return reasonsOf(comparison)
    .slice(0, most)
    .map(({ reason, aircraftMin }) => `${words(reason)} ${(aircraftMin / aircraft).toFixed(1)}`)
    .join(", ");
}

function summary({ orders, leastRatio, medianRatio, mostRatio, comparison }: Total): string {
  const { brochureMin, minutes } = comparison;
  const times = (minutes / brochureMin).toFixed(2);
  return (
    `${orders} ${orders === 1 ? "order" : "orders"}, ratio ${leastRatio.toFixed(2)} to ${mostRatio.toFixed(2)}, median ${medianRatio.toFixed(2)}. Together they take ${minutes} min, ${times} times the brochure's ` +
    `${brochureMin.toFixed(0)}.`
  );
}

function explanation({ work, done, comparison, ratio }: Row): string {
  const { order, compiled, treated } = work;
  const { brochureMin, minutes } = comparison;
  const { option, type } = done.outfit;
  const unit = compiled.liquid ? "L" : "kg";
  const sumOf = (value: (job: Row["done"]["jobs"][number]) => number) =>
    done.jobs.reduce((sum, job) => sum + value(job), 0);
  const passes = sumOf(({ work: { detail } }) => detail.passes);
  const passM = sumOf(({ work: { swathPlan } }) => swathPlan.passM);
  const loads = sumOf(({ work: { detail } }) => detail.loads);
  return (
    `${order.id}, ${treated.areaHa.toFixed(2)} ha at ${compiled.ratePerHa} ${unit}/ha with ${outfitWords(done.outfit, work.fullSets)}: ${minutes} min instead of ` +
    `${brochureMin.toFixed(1)}, ${ratio.toFixed(1)} times as long. It takes ${passes} passes of ${Math.round(passM / passes)} m on average and ${loads} ` +
    `${loads === 1 ? "load" : "loads"}. Of the ${(minutes - brochureMin).toFixed(1)} min more, mostly: ` +
    `${reasons(comparison, reasonsInWords, option.count, (reason) => reasonWords(reason, type))}.`
  );
}

function rowFacts({ work, done, comparison, ratio }: Row) {
  const { areaHa } = work.treated;
  const { brochureMin, minutes, aircraftMin } = comparison;
  return {
    orderId: work.order.id,
    areaHa,
    outfit: outfitFacts(done.outfit, work.fullSets),
    brochureMin,
    brochureHaPerHour: (minutesPerHour * areaHa) / brochureMin,
    minutes,
    haPerHour: (minutesPerHour * areaHa) / minutes,
    ratio,
    aircraftMin,
    reasons: reasonsOf(comparison),
  };
}

function totalFacts(total: Total | undefined) {
  if (total === undefined) return { orders: 0 };
  const { comparison, ...facts } = total;
  return { ...facts, ...comparison };
}
