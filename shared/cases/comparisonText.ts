import { textTable, wrapped } from "../plan/textTable.ts";
import { conflictWords, counted, readable } from "../plan/words.ts";
import { whole } from "./caseSentence.ts";
import type { CaseOutcome, Comparison, Difference } from "./comparison.ts";
import { curveText } from "./curveText.ts";
import { seasonText } from "./seasonText.ts";

/** Cases side by side for a terminal: what each brings in a sentence, then the figures. Cases go by their numbers, 0 is the operation as it is. */
export function comparisonText(comparison: Comparison): string {
  const { operationName, currency, cases, base, curve, failed } = comparison;
  const all = [base, ...cases];
  return [
    operationName,
    ...wrapped(howWords(comparison), 0),
    ...(cases.length === 0 ? [] : [""]),
    ...textTable(
      cases.map(({ sentence }, at) => [String(at + 1), sentence]),
      { indent: 0, right: [0] },
    ),
    ...measuresTable(all, currency),
    ...differencesTable(cases, currency),
    ...conflictsTable(all),
    ...usedTable(all),
    ...seasonText(comparison),
    ...(curve === null ? [] : curveText(curve, currency)),
    ...(failed.length === 0 ? [] : ["", counted(failed.length, "run failed:", "runs failed:")]),
    ...failed.flatMap(({ key, message }) => {
      const week = key.week === undefined ? "" : `, week ${key.week + 1}`;
      return wrapped(`${key.caseId}, seed ${key.seed}${week}: ${message}`, 2);
    }),
  ].join("\n");
}

function howWords({ seeds, weeks, cases, weeksPerYear, interestPct }: Comparison): string {
  const planned =
    cases.length === 0
      ? "The operation as it is"
      : `${counted(cases.length, "case", "cases")} beside the operation as it is`;
  const over = weeks === null ? "this week" : counted(weeks, "sampled week", "sampled weeks");
  return [
    `${planned}, over ${over}, ${counted(seeds, "seed", "seeds")} each.`,
    `A year has ${readable(weeksPerYear)} such weeks; interest is ${readable(interestPct)} %.`,
    "Margin is what the hectares done bring, less road, wages, overtime, running the aircraft and nights away.",
    "Intervals hold the true mean with 95 %. A difference that is not told from chance is called no clear difference.",
  ].join(" ");
}

function measuresTable(all: readonly CaseOutcome[], currency: string): string[] {
  const head = ["", "ha", "orders", "in time", "road km", "duty h", "earned", "cost", "margin", ""];
  const rows = all.map(({ measures, name }, at) => {
    if (measures === null) return [String(at), "-", "-", "-", "-", "-", "-", "-", "-", name];
    const mean = (measure: keyof typeof measures, decimals: number) => measures[measure].mean.toFixed(decimals);
    return [
      String(at),
      mean("servedHa", 0),
      mean("ordersDone", 1),
      mean("ordersInTime", 1),
      mean("roadKm", 0),
      mean("dutyHours", 0),
      whole(measures.earnedCents.mean),
      whole(measures.costCents.mean),
      whole(measures.marginCents.mean),
      name,
    ];
  });
  return [
    "",
    `A week, on average; money in ${currency}`,
    ...textTable([head, ...rows], { indent: 0, right: range(9) }),
  ];
}

/** Figures that are not told from chance stand in brackets. */
function differencesTable(cases: readonly CaseOutcome[], currency: string): string[] {
  if (cases.length === 0) return [];
  const head = ["", "ha", "in time", "margin", "95 %", "a year", "to own", "left", ""];
  const rows = cases.map(({ differences, ownership, name }, at) => {
    if (differences === null || ownership === null) return [String(at + 1), ...head.slice(2).map(() => "-"), name];
    const { marginCents } = differences;
    const ofYear = (cents: number) => (marginCents.isClear ? whole(cents) : `(${whole(cents)})`);
    return [
      String(at + 1),
      shown(differences.servedHa, 0),
      shown(differences.ordersInTime, 1),
      shown(marginCents, 0, 100),
      marginCents.interval95?.map(whole).join(" to ") ?? "-",
      ofYear(ownership.extraMarginCentsPerYear),
      whole(ownership.ownershipCentsPerYear),
      ofYear(ownership.gainCentsPerYear),
      name,
    ];
  });
  const title = `More than now, a week, and in ${currency} a year: more margin, less what it costs to own, and what is left; in brackets: no clear difference`;
  return ["", ...wrapped(title, 0), ...textTable([head, ...rows], { indent: 0, right: range(8) })];
}

function shown({ mean, isClear }: Difference, decimals: number, per = 1): string {
  const rounded = (mean / per).toFixed(decimals);
  const figure = Number(rounded) === 0 ? "0" : mean > 0 ? `+${rounded}` : rounded;
  return isClear ? figure : `(${figure})`;
}

function conflictsTable(all: readonly CaseOutcome[]): string[] {
  const kinds = [...new Set(all.flatMap(({ conflicts }) => conflicts.map(({ kind }) => kind)))];
  if (kinds.length === 0) return [];
  const rows = kinds.map((kind) => [
    conflictWords[kind],
    ...all.map(({ conflicts }) => conflicts.find((one) => one.kind === kind)?.orders.toFixed(1) ?? "-"),
  ]);
  return byCase("Orders not done, or not all of them, by reason", rows, all.length);
}

function usedTable(all: readonly CaseOutcome[]): string[] {
  const keyOf = ({ thing, id, baseId }: CaseOutcome["used"][number]) => `${thing} ${id} ${baseId}`;
  const things = [...new Map(all.flatMap(({ used }) => used.map((one) => [keyOf(one), one] as const))).values()];
  const rows = things.map((thing) => [
    `${thing.name}${thing.thing === "aircraft" ? ` at ${thing.baseId}` : ""}`,
    ...all.map(({ used }) => {
      const own = used.find((one) => keyOf(one) === keyOf(thing));
      return own === undefined || own.thereMin === 0 ? "-" : ((100 * own.usedMin) / own.thereMin).toFixed(0);
    }),
  ]);
  return byCase(
    "Used, in percent: crews of the duty that they may do, things of the hours in which they could be out",
    rows,
    all.length,
  );
}

/** One column for each case, by its number. */
function byCase(title: string, rows: readonly (readonly string[])[], cases: number): string[] {
  const head = ["", ...Array.from({ length: cases }, (_, at) => String(at))];
  return [
    "",
    ...wrapped(title, 0),
    ...textTable([head, ...rows], { indent: 0, right: range(cases).map((at) => at + 1) }),
  ];
}

const range = (count: number) => Array.from({ length: count }, (_, at) => at);
