import type { Comparison, CurveOutcome, CurvePointOutcome } from "../../../../../shared/cases/comparison.ts";
import { shortDayWords } from "../../kit/dates.ts";
import { figureWords } from "../../strings/figures.ts";
import type { Amounts } from "../figures/amounts.ts";
import type { Bottlenecks } from "../figures/bottleneckTables.ts";
import { leftAfterOwning } from "../figures/leftAfterOwning.ts";
import type { Chart, Spread } from "./chart.ts";

const { charts: words, heads, titles } = figureWords;

/** Margin against the number of aircraft: how sure its mean is, and how much weeks differ. The band is where the mean lies by what the next one brings, held against the mean of one fewer. */
export function curveChart({ baseName, points, typeName }: CurveOutcome, { money, units }: Amounts): Chart {
  const value = (cents: number | null) => (cents === null ? null : money(cents).value);
  const band = (side: 0 | 1) =>
    points.map(({ next }, at) => {
      const before = points[at - 1]?.marginCentsPerYear;
      return next?.interval95 && before !== null && before !== undefined ? value(before + next.interval95[side]) : null;
    });
  const now = points.find(({ caseId }) => caseId === "base");
  const ofWeeks = (side: "q10" | "q90") => points.map(({ weeks }) => value(weeks?.marginCentsPerYear[side] ?? null));
  return {
    title: titles.curve(typeName, baseName),
    xTitle: words.curveX(typeName),
    yTitle: words.money(units.money),
    xs: points.map(({ count }) => count),
    spreads: [
      { name: words.spread, lows: band(0), highs: band(1), as: "area", ink: "liquidSign" },
      ...spreadOfWeeks(words.mostWeeksOfYear, ofWeeks("q10"), ofWeeks("q90"), "thin"),
    ],
    lines: [
      {
        name: words.margin,
        ys: points.map(({ marginCentsPerYear }) => value(marginCentsPerYear)),
        stroke: "solid",
        sign: "disc",
        ink: "liquidSign",
      },
      {
        name: words.left,
        ys: leftAfterOwning(points).map(value),
        stroke: "dashed",
        sign: "square",
        ink: "granularSign",
      },
    ],
    marks: now === undefined ? [] : [{ x: now.count, words: words.now }],
    fromZero: false,
  };
}

/** None where a single week was planned. */
function spreadOfWeeks(
  name: string,
  lows: readonly (number | null)[],
  highs: readonly (number | null)[],
  as: Spread["as"],
): Spread[] {
  return lows.every((low) => low === null) ? [] : [{ name, lows, highs, as, ink: "quiet" }];
}

/** What each one more brings a year beside what it costs: here one sees how many to have. Null where no number could be held against another. */
export function nextChart({ baseName, points, typeName }: CurveOutcome, { money, units }: Amounts): Chart | null {
  const told = points.filter(({ next }) => next !== null);
  if (told.length === 0) return null;
  const of = (amount: (point: CurvePointOutcome) => number | null | undefined) =>
    told.map((point) => {
      const cents = amount(point);
      return cents === null || cents === undefined ? null : money(cents).value;
    });
  return {
    title: titles.next(typeName, baseName),
    xTitle: words.curveX(typeName),
    yTitle: words.money(units.money),
    xs: told.map(({ count }) => count),
    spreads: [
      ...spreadOfWeeks(
        words.mostWeeks,
        of(({ weeks }) => weeks?.nextCentsPerYear?.q10),
        of(({ weeks }) => weeks?.nextCentsPerYear?.q90),
        "thick",
      ),
      {
        name: words.certainty,
        lows: of(({ next }) => next!.interval95?.[0]),
        highs: of(({ next }) => next!.interval95?.[1]),
        as: "thin",
        ink: "liquidSign",
      },
    ],
    lines: [
      {
        name: words.brings,
        ys: of(({ next }) => next!.extraMarginCentsPerYear),
        stroke: "none",
        sign: "disc",
        ink: "liquidSign",
      },
      {
        name: words.own,
        ys: of(({ next }) => next!.ownershipCentsPerYear),
        stroke: "none",
        sign: "dash",
        ink: "granularSign",
      },
    ],
    marks: [],
    fromZero: true,
  };
}

/** What each case brings a year with its interval, and what it costs to own; null where there is nothing to hold against each other. */
export function differenceChart({ cases }: Comparison, { money, units }: Amounts): Chart | null {
  if (cases.every(({ ownership }) => ownership === null)) return null;
  const value = (cents: number | undefined) => (cents === undefined ? null : money(cents).value);
  return {
    title: words.difference,
    xTitle: words.differenceX,
    yTitle: words.money(units.money),
    xs: cases.map((_, at) => at + 1),
    spreads: [
      {
        name: words.certainty,
        lows: cases.map(({ ownership }) => value(ownership?.interval95?.[0])),
        highs: cases.map(({ ownership }) => value(ownership?.interval95?.[1])),
        as: "thin",
        ink: "liquidSign",
      },
    ],
    lines: [
      {
        name: words.brings,
        ys: cases.map(({ ownership }) => value(ownership?.extraMarginCentsPerYear)),
        stroke: "none",
        sign: "disc",
        ink: "liquidSign",
      },
      {
        name: words.own,
        ys: cases.map(({ ownership }) => value(ownership?.ownershipCentsPerYear)),
        stroke: "none",
        sign: "dash",
        ink: "granularSign",
      },
    ],
    marks: [],
    fromZero: true,
  };
}

/** The weeks of a season: eight in ten, the middle half, and the middle. */
export function quantilesChart({ base, cases }: Comparison, { area, units }: Amounts): Chart | null {
  if (base.season === null) return null;
  const of = (name: "q10" | "q25" | "q50" | "q75" | "q90") =>
    [base, ...cases].map(({ season }) => (season === null ? null : area(season.servedHa[name]).value));
  return {
    title: titles.quantiles,
    xTitle: words.differenceX,
    yTitle: words.area(units.area),
    xs: [base, ...cases].map((_, at) => at),
    spreads: [
      { name: words.mostWeeks, lows: of("q10"), highs: of("q90"), as: "thin", ink: "liquidSign" },
      { name: words.middleHalf, lows: of("q25"), highs: of("q75"), as: "thick", ink: "liquidSign" },
    ],
    lines: [{ name: words.middle, ys: of("q50"), stroke: "none", sign: "dash", ink: "ink" }],
    marks: [],
    fromZero: true,
  };
}

/** The calm hours of each day: how many there are, how many have a crew, how many are worked. */
export function hoursChart({ hours: days }: Bottlenecks, { hours }: Amounts): Chart {
  const of = (member: "openMin" | "mannedMin" | "workedMin") => days.map((day) => hours(day[member]).value);
  return {
    title: titles.hours,
    xTitle: words.dayX,
    yTitle: words.hoursY,
    xs: days.map((_, at) => at),
    xNames: days.map(({ date }) => shortDayWords(date)),
    spreads: [],
    lines: [
      { name: heads.open, ys: of("openMin"), stroke: "dotted", sign: "disc", ink: "granularSign" },
      { name: heads.manned, ys: of("mannedMin"), stroke: "dashed", sign: "square", ink: "liquidSign" },
      { name: heads.worked, ys: of("workedMin"), stroke: "solid", sign: "disc", ink: "ink" },
    ],
    marks: [],
    fromZero: true,
  };
}
