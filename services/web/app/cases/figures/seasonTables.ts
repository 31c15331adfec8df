import type { Comparison, CurveOutcome } from "../../../../../shared/cases/comparison.ts";
import { figureWords } from "../../strings/figures.ts";
import type { Amounts } from "./amounts.ts";
import { leftAfterOwning } from "./leftAfterOwning.ts";
import { betweenCell, cell, type Figures, noCell, textCell } from "./table.ts";
import { verdictWords } from "./verdict.ts";

const { heads, titles, notes } = figureWords;
const quantileNames = ["q10", "q25", "q50", "q75", "q90"] as const;

/** How the weeks of a season fall out; null of a single week. */
export function quantilesTable({ base, cases }: Comparison, { area, share, units }: Amounts): Figures | null {
  if (base.season === null) return null;
  return {
    title: titles.quantiles,
    note: notes.quantiles,
    rowHead: heads.case,
    columns: [
      ...quantileNames.map((name) => ({ head: heads[name], fileHeads: [`${heads[name]}, ${units.area}`] })),
      { head: heads.allDone, fileHeads: [`${heads.allDone}, %`] },
      { head: heads.enough, fileHeads: [`${heads.enough}, %`] },
    ],
    rows: [{ ...base, name: figureWords.asNow }, ...cases].map(({ name, season }, number) => ({
      name,
      number,
      cells:
        season === null
          ? Array.from({ length: 7 }, () => noCell())
          : [
              ...quantileNames.map((quantile) => cell(area(season.servedHa[quantile]))),
              cell(share(season.allDoneFrac)),
              cell(share(season.hoursSufficeFrac)),
            ],
    })),
  };
}

export function calmHoursTable({ calmHours }: Comparison, { hours, orders }: Amounts): Figures | null {
  if (calmHours.length === 0) return null;
  return {
    title: titles.calm,
    note: notes.calm,
    rowHead: heads.month,
    columns: [{ head: heads.weeks }, { head: heads.hours }],
    rows: calmHours.map(({ hoursPerWeek, month, weeks }) => ({
      name: monthWords(month),
      cells: [cell(orders(weeks)), cell(hours(hoursPerWeek * 60))],
    })),
  };
}

/** "June 2027". */
function monthWords(month: string): string {
  return new Date(`${month}-01T00:00:00Z`).toLocaleDateString("en-GB", {
    month: "long",
    year: "numeric",
    timeZone: "UTC",
  });
}

/** Margin by the number of aircraft, and what each one more brings beside what it costs. */
export function curveTable({ baseName, points, typeName }: CurveOutcome, { money, share, units }: Amounts): Figures {
  const between = (low: number, high: number) => betweenCell(money(low), money(high));
  const left = leftAfterOwning(points);
  const areWeeksTold = points.some(({ weeks }) => weeks);
  return {
    title: titles.curve(typeName, baseName),
    note: areWeeksTold ? `${notes.curve} ${notes.curveWeeks}` : notes.curve,
    rowHead: heads.number,
    columns: [
      {
        head: heads.marginYear.replace(" more", ""),
        fileHeads: [`${heads.margin}, ${units.money} ${figureWords.aYear}`],
      },
      ...(areWeeksTold ? [{ head: heads.weeksMargin, fileHeads: [heads.q10, heads.q90] }] : []),
      { head: heads.next, fileHeads: [`${heads.next}, ${units.money} ${figureWords.aYear}`] },
      { head: heads.sure, fileHeads: [heads.lowest, heads.highest] },
      ...(areWeeksTold ? [{ head: heads.weeksPays, fileHeads: [`${heads.weeksPays}, %`] }] : []),
      { head: heads.own, fileHeads: [`${heads.own}, ${units.money}`] },
      { head: heads.left, fileHeads: [`${heads.left}, ${units.money}`] },
      { head: heads.verdict, isText: true },
    ],
    rows: points.map(({ caseId, count, marginCentsPerYear, next, weeks }, at) => ({
      name: caseId === "base" ? `${count} (${figureWords.charts.now})` : String(count),
      cells: [
        marginCentsPerYear === null ? noCell() : cell(money(marginCentsPerYear)),
        ...(areWeeksTold
          ? [weeks ? between(weeks.marginCentsPerYear.q10, weeks.marginCentsPerYear.q90) : noCell(2)]
          : []),
        next === null ? noCell() : cell(money(next.extraMarginCentsPerYear)),
        next?.interval95 ? between(...next.interval95) : noCell(2),
        ...(areWeeksTold ? [weeks?.nextPaysFrac === null || !weeks ? noCell() : cell(share(weeks.nextPaysFrac))] : []),
        next === null ? noCell() : cell(money(next.ownershipCentsPerYear)),
        left[at] === null || left[at] === undefined ? noCell() : cell(money(left[at])),
        next === null ? noCell() : textCell(verdictWords(next)),
      ],
    })),
  };
}
