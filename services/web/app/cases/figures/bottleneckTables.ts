import type { Use } from "../../../../../shared/plan/use.ts";
import { shortDayWords } from "../../kit/dates.ts";
import { figureWords } from "../../strings/figures.ts";
import { type Amounts, withoutUnit } from "./amounts.ts";
import { betweenCell, type Cell, cell, type Figures, noCell, textCell } from "./table.ts";

const { heads, titles, notes, sentences } = figureWords;

interface Unit {
  readonly kind: string;
  readonly words: string;
  readonly onlyToKnow: boolean;
  readonly atMostCents: number;
  readonly aboutCents: number | null;
  readonly aboutHa: number | null;
  readonly realised: {
    readonly cents: { readonly mean: number; readonly interval95: readonly [number, number] | null };
    readonly isClear: boolean;
    readonly areaHa: number;
  } | null;
  readonly failed: string | null;
}

/** What a study of bottlenecks comes to (shared/contracts/bottlenecks.ts), its use of things as shared/plan/use.ts has it. */
export interface Bottlenecks {
  readonly use: Use;
  readonly hours: readonly {
    readonly date: string;
    readonly openMin: number;
    readonly mannedMin: number;
    readonly workedMin: number;
  }[];
  readonly currency: string;
  /** Fluid: a rough reckoning of things and weeks of duty alone. */
  readonly method: "routes" | "fluid";
  readonly boundCents: number | null;
  readonly leavesOut: string | null;
  readonly seeds: number;
  readonly units: readonly Unit[];
}

/** Units that would bring less than a whole unit of the currency are not told. */
const leastCents = 100;

export const toldUnits = ({ units }: Bottlenecks) =>
  units.filter(({ atMostCents, realised }) => atMostCents >= leastCents || realised !== null);

/** What was tried and clearly brings most comes first; a reckoning alone promises more than it keeps. */
export function tightVerdict(found: Bottlenecks, { area, money }: Amounts): string[] {
  const told = toldUnits(found).filter(({ onlyToKnow }) => !onlyToKnow);
  const [most] = told;
  if (most === undefined) return [found.method === "routes" ? sentences.notTight : sentences.notTightRoughly];
  const [proven] = told
    .flatMap(({ realised, words }) => (realised?.isClear && realised.cents.mean > 0 ? [{ realised, words }] : []))
    .sort((a, b) => b.realised.cents.mean - a.realised.cents.mean);
  const reckoned = [
    sentences.tightest(most.words, money(most.atMostCents).words),
    ...(most.realised !== null && !most.realised.isClear ? [sentences.triedUnclear] : []),
  ];
  if (proven === undefined) return reckoned;
  const { areaHa, cents } = proven.realised;
  const [low, high] = cents.interval95?.map(money) ?? [];
  const better = money(cents.mean).words;
  const sure = low && high ? sentences.sure(better, figureWords.between(withoutUnit(low), high.words)) : better;
  return [sentences.tried(proven.words, sure, area(areaHa).words), ...(proven.words === most.words ? [] : reckoned)];
}

export function unitsTable(found: Bottlenecks, { area, money, units }: Amounts): Figures | null {
  const told = toldUnits(found);
  if (told.length === 0) return null;
  const inMoney = (head: string) => ({ head, fileHeads: [`${head}, ${units.money}`] });
  return {
    title: titles.units,
    note: `${notes.units} ${sentences.howTried(found.seeds)}`,
    rowHead: heads.oneMore,
    columns: [
      inMoney(heads.atMost),
      inMoney(heads.about),
      { head: heads.aboutArea, fileHeads: [`${heads.aboutArea}, ${units.area}`] },
      inMoney(heads.tried),
      { head: heads.triedSure, fileHeads: [heads.lowest, heads.highest] },
      { head: heads.remark, isText: true },
    ],
    rows: told.map(({ aboutCents, aboutHa, atMostCents, failed, onlyToKnow, realised, words }) => {
      const interval = realised?.cents.interval95 ?? null;
      const remarks = [
        ...(realised !== null && !realised.isClear ? [figureWords.noClear] : []),
        ...(failed === null ? [] : [sentences.notTried(failed)]),
        ...(onlyToKnow ? [sentences.onlyToKnow] : []),
      ];
      return {
        name: words,
        cells: [
          cell(money(atMostCents)),
          aboutCents === null ? noCell() : cell(money(aboutCents)),
          aboutHa === null ? noCell() : cell(area(aboutHa)),
          realised === null ? noCell() : { ...cell(money(realised.cents.mean)), isQuiet: !realised.isClear },
          interval === null ? noCell(2) : betweenCell(money(interval[0]), money(interval[1])),
          textCell(remarks.join("; ")),
        ],
      };
    }),
  };
}

export function hoursTable({ hours: days }: Bottlenecks, { hours }: Amounts): Figures {
  return {
    title: titles.hours,
    note: notes.hours,
    rowHead: heads.day,
    columns: [heads.open, heads.manned, heads.worked].map((head) => ({ head, fileHeads: [`${head}, h`] })),
    rows: days.map(({ date, mannedMin, openMin, workedMin }) => ({
      name: shortDayWords(date),
      cells: [openMin, mannedMin, workedMin].map((minutes) => cell(hours(minutes))),
    })),
  };
}

/** Duty of crews by day, and how much of it is work. */
export function crewsTable({ use }: Bottlenecks, { hours }: Amounts): Figures {
  const dates = use.crews[0]?.days.map(({ date }) => date) ?? [];
  return {
    title: titles.crews,
    note: notes.crews,
    rowHead: heads.thing,
    columns: dates.map((date) => ({
      head: shortDayWords(date),
      fileHeads: [`${date}, duty h`, `${date}, allowed h`, `${date}, work h`],
    })),
    rows: use.crews.map(({ days, name }) => ({
      name,
      cells: days.map(({ allowedMin, dutyMin, shiftMin, workMin }): Cell => {
        if (shiftMin === 0) return noCell(3);
        const values = [dutyMin, allowedMin, workMin].map((minutes) => hours(minutes).value);
        return {
          words: figureWords.dutyOf(`${values[0]}`, `${values[1]} h`),
          detail: figureWords.workOf(`${values[2]} h`),
          values,
          isQuiet: dutyMin === 0,
        };
      }),
    })),
  };
}

/** How much of the hours in which things could be out they are out; things go by the names that the operation has for their ids. */
export function thingsTable({ use }: Bottlenecks, { share }: Amounts, nameOf: (id: string) => string): Figures {
  const things = [
    ...use.aircraft.map(({ baseId, days, name }) => ({ name: `${name}, ${nameOf(baseId)}`, days })),
    ...[...use.tenders, ...use.chargers].map(({ days, id }) => ({ name: nameOf(id), days })),
  ];
  return {
    title: titles.things,
    note: notes.things,
    rowHead: heads.thing,
    columns: (things[0]?.days ?? []).map(({ date }) => ({ head: shortDayWords(date), fileHeads: [`${date}, %`] })),
    rows: things.map(({ days, name }) => ({
      name,
      cells: days.map(({ outMin, thereMin }) => (thereMin === 0 ? noCell() : cell(share(outMin / thereMin)))),
    })),
  };
}
