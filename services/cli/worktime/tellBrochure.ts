import { type Comparison, type Reason, reasonsOf, reasonWords } from "../../../shared/fieldwork/brochure.ts";
import { minutesPerHour } from "../../../shared/model/calendar.ts";
import { textTable, wrapped } from "../../../shared/plan/textTable.ts";
import { exitCodes, print, printJson } from "../output.ts";
import { brochureRows, type Row, type Total, totalOf } from "./brochureRows.ts";
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
  idle: "start and end",
};

const law =
  "Brochure: area / (swath x greatest speed x aircraft). Computed: the minutes that the work takes, from the first fill to the last " +
  "landing. Both in ha/h and minutes; each order with the quickest outfit that could be sent.";

/** Every order that can be worked: the brochure's hectares per hour against the computed minutes. */
export function tellBrochure(works: Works, json: boolean): number {
  const { rows, byType, notWorked } = brochureRows(works);
  const all = totalOf(rows);
  const types = byType.map((one) => ({ aircraftTypeId: one.aircraftTypeId, total: totalOf(one.rows) }));
  if (json) {
    printJson({
      orders: rows.map(rowFacts),
      notWorked,
      all: totalFacts(all),
      byType: types.map(({ aircraftTypeId, total }) => ({ aircraftTypeId, ...totalFacts(total) })),
    });
    return exitCodes.good;
  }
  const say = (text: string) => {
    for (const line of wrapped(text, 0)) print(line);
  };
  say(law);
  if (all === undefined) {
    print("No order can be worked by any outfit.");
    return exitCodes.good;
  }
  const lines = textTable([tableHead, ...rows.map(tableRow)], { indent: 0, right: [1, 3, 4, 5, 6, 7] });
  for (const line of ["", ...lines, ""]) print(line);
  say(summary(all));
  if (notWorked.length > 0) say(`Left out, as no outfit may or can work them: ${notWorked.join(", ")}.`);
  for (const row of rows.slice(0, explained)) {
    print("");
    say(explanation(row));
  }
  print("\nby type of aircraft, with the quickest outfit of each");
  const body = types.flatMap(({ aircraftTypeId, total }) =>
    total === undefined ? [] : [typeRow(aircraftTypeId, total)],
  );
  for (const line of textTable([typeHead, ...body], { indent: 2, right: [1, 2, 3, 4, 5] })) print(line);
  return exitCodes.good;
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

const typeHead = ["type", "orders", "brochure min", "computed min", "ratio", "median", "mostly, of the time"];

function typeRow(aircraftTypeId: string, { orders, medianRatio, comparison }: Total): string[] {
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
    medianRatio.toFixed(2),
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

function summary({ orders, medianRatio, comparison }: Total): string {
  const { brochureMin, minutes } = comparison;
  const times = (minutes / brochureMin).toFixed(2);
  return (
    `${orders} orders, median ratio ${medianRatio.toFixed(2)}. Together they take ${minutes} min, ${times} times the brochure's ` +
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
    `${order.id}, ${treated.areaHa.toFixed(2)} ha at ${compiled.ratePerHa} ${unit}/ha with ${outfitWords(done.outfit)}: ${minutes} min instead of ` +
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
    outfit: outfitFacts(done.outfit),
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
  return total === undefined
    ? { orders: 0 }
    : { orders: total.orders, medianRatio: total.medianRatio, ...total.comparison };
}
