import type { CaseOutcome, Comparison, Difference, Ownership } from "../../../../../shared/cases/comparison.ts";
import { conflictWords } from "../../../../../shared/plan/words.ts";
import { figureWords } from "../../strings/figures.ts";
import { type Amount, type Amounts, withoutUnit } from "./amounts.ts";
import { type Cell, cell, type Figures, noCell, textCell } from "./table.ts";
import { leftWithin, verdictWords } from "./verdict.ts";

const { heads, titles, notes } = figureWords;

/** The operation as it is, as number 0, then the cases by their numbers. */
const allOf = ({ base, cases }: Comparison): readonly CaseOutcome[] => [{ ...base, name: figureWords.asNow }, ...cases];

/** What each case brings beside the operation as it is, and whether it pays. */
export function differenceTable(comparison: Comparison, amounts: Amounts): Figures | null {
  if (comparison.cases.length === 0) return null;
  const { area, money, orders, units } = amounts;
  const interval = (head: string, unit: string) => [
    `${head}, ${unit}`,
    `${head}, ${heads.lowest}`,
    `${head}, ${heads.highest}`,
    `${head}, ${figureWords.noClear}`,
  ];
  const ofYear = (head: string) => [`${head}, ${units.money}`, `${head}, ${heads.lowest}`, `${head}, ${heads.highest}`];
  return {
    title: titles.difference,
    note: notes.difference,
    rowHead: heads.case,
    // What is decided by comes first: a table that is wider than the screen is read from its left.
    columns: [
      { head: heads.verdict, isText: true },
      { head: heads.left, fileHeads: ofYear(heads.left) },
      {
        head: heads.marginYear,
        fileHeads: [...ofYear(heads.marginYear), `${heads.marginYear}, ${figureWords.noClear}`],
      },
      { head: heads.own, fileHeads: [`${heads.own}, ${units.money}`] },
      { head: heads.area, fileHeads: interval(heads.area, units.area) },
      { head: heads.inTime, fileHeads: interval(heads.inTime, heads.orders) },
    ],
    rows: comparison.cases.map(({ changesNothing, differences, name, ownership }, at) => {
      const number = at + 1;
      if (differences === null || ownership === null)
        return { name, number, cells: [textCell(figureWords.noPlan, true), ...[3, 4, 1, 4, 4].map(noCell)] };
      const isUnclear = !differences.marginCents.isClear;
      const brings = yearCell(ownership.extraMarginCentsPerYear, ownership.interval95, money);
      return {
        name,
        number,
        cells: [
          textCell(changesNothing ? figureWords.nothing : verdictWords(ownership)),
          { ...yearCell(ownership.gainCentsPerYear, leftWithin(ownership), money), isQuiet: isUnclear },
          { ...brings, values: [...brings.values, isUnclear ? figureWords.noClear : ""], isQuiet: isUnclear },
          cell(money(ownership.ownershipCentsPerYear)),
          differenceCell(differences.servedHa, area),
          differenceCell(differences.ordersInTime, orders),
        ],
      };
    }),
  };
}

/** An amount of a year, and below it where it lies with 95 %. */
function yearCell(cents: number, within: Ownership["interval95"], of: (cents: number) => Amount): Cell {
  const [low, high] = within?.map(of) ?? [];
  const amount = of(cents);
  return {
    words: amount.words,
    ...(low && high ? { detail: figureWords.between(withoutUnit(low), withoutUnit(high)) } : {}),
    values: [amount.value, low?.value ?? null, high?.value ?? null],
  };
}

/** "61 ha more" and below it where it lies with 95 %; or that there is no clear difference, and below it the figures that this was told from. */
function differenceCell({ interval95, isClear, mean }: Difference, of: (value: number) => Amount): Cell {
  const amount = of(Math.abs(mean));
  const figure =
    amount.value === 0 ? amount.words : mean < 0 ? figureWords.less(amount.words) : figureWords.more(amount.words);
  const [low, high] = interval95?.map(of) ?? [];
  const sure = low && high ? figureWords.between(withoutUnit(low), withoutUnit(high)) : figureWords.single;
  const values = [of(mean).value, low?.value ?? null, high?.value ?? null, isClear ? "" : figureWords.noClear];
  if (values.slice(0, 3).every((value) => value === 0)) return { words: figureWords.same, values, isQuiet: true };
  return isClear
    ? { words: figure, detail: sure, values }
    : { words: figureWords.noClear, detail: `${figure}: ${sure}`, values, isQuiet: true };
}

/** Means of a week, side by side. */
export function weekTable(comparison: Comparison, amounts: Amounts): Figures {
  const { area, hours, money, orders, road, units } = amounts;
  return {
    title: titles.week,
    rowHead: heads.case,
    columns: [
      { head: heads.area, fileHeads: [`${heads.area}, ${units.area}`] },
      { head: heads.orders },
      { head: heads.inTime },
      { head: heads.road, fileHeads: [`${heads.road}, ${units.road}`] },
      { head: heads.duty, fileHeads: [`${heads.duty}, h`] },
      { head: heads.earned, fileHeads: [`${heads.earned}, ${units.money}`] },
      { head: heads.cost, fileHeads: [`${heads.cost}, ${units.money}`] },
      { head: heads.margin, fileHeads: [`${heads.margin}, ${units.money}`] },
    ],
    rows: allOf(comparison).map(({ measures, name }, number) => ({
      name,
      number,
      cells:
        measures === null
          ? Array.from({ length: 8 }, () => noCell())
          : [
              area(measures.servedHa.mean),
              orders(measures.ordersDone.mean),
              orders(measures.ordersInTime.mean),
              road(measures.roadKm.mean),
              hours(measures.dutyHours.mean * 60),
              money(measures.earnedCents.mean),
              money(measures.costCents.mean),
              money(measures.marginCents.mean),
            ].map(cell),
    })),
  };
}

const moneyParts = [
  ["earnedCents", heads.earned],
  ["driveCents", heads.drive],
  ["labourCents", heads.labour],
  ["overtimeCents", heads.overtime],
  ["runningCents", heads.running],
  ["lodgingCents", heads.lodging],
  ["marginCents", heads.margin],
] as const;

/** From what growers pay to what is left, before what is owned. */
export function moneyTable(comparison: Comparison, { money, units }: Amounts): Figures {
  return {
    title: titles.money,
    rowHead: heads.case,
    columns: moneyParts.map(([, head]) => ({ head, fileHeads: [`${head}, ${units.money}`] })),
    rows: allOf(comparison).map((one, number) => ({
      name: one.name,
      number,
      cells: moneyParts.map(([part]) => (one.money === null ? noCell() : cell(money(one.money[part])))),
    })),
  };
}

/** Crews and things by their names, one column for each case by its number. */
export function usedTable(comparison: Comparison, { share }: Amounts): Figures {
  const keyOf = ({ baseId, id, thing }: CaseOutcome["used"][number]) => `${thing} ${id} ${baseId}`;
  const all = allOf(comparison);
  const things = [...new Map(all.flatMap(({ used }) => used.map((one) => [keyOf(one), one] as const))).values()];
  return {
    title: titles.used,
    note: notes.used,
    rowHead: heads.thing,
    columns: caseColumns(all, ", %"),
    rows: things.map((thing) => ({
      name: thing.thing === "aircraft" ? `${thing.name}, ${thing.baseId}` : thing.name,
      cells: all.map(({ used }) => {
        const own = used.find((one) => keyOf(one) === keyOf(thing));
        return own === undefined || own.thereMin === 0 ? noCell() : cell(share(own.usedMin / own.thereMin));
      }),
    })),
  };
}

/** Why orders are not done, case by case; null where all are. */
export function leftOutTable(comparison: Comparison, { orders }: Amounts): Figures | null {
  const all = allOf(comparison);
  const kinds = [...new Set(all.flatMap(({ conflicts }) => conflicts.map(({ kind }) => kind)))];
  if (kinds.length === 0) return null;
  return {
    title: titles.left,
    note: notes.left,
    rowHead: heads.reason,
    columns: caseColumns(all, ""),
    rows: kinds.map((kind) => ({
      name: conflictWords[kind],
      cells: all.map(({ conflicts }) => {
        const own = conflicts.find((one) => one.kind === kind);
        return own === undefined ? noCell() : cell(orders(own.orders));
      }),
    })),
  };
}

const caseColumns = (all: readonly CaseOutcome[], unit: string) =>
  all.map(({ name }, at) => ({ head: at === 0 ? figureWords.onlyNow : String(at), fileHeads: [`${name}${unit}`] }));
