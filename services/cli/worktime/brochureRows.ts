import { type Comparison, compareWithBrochure, sumOfComparisons } from "../../../shared/fieldwork/brochure.ts";
import type { Answer, Done, OrderWork, Works } from "./orderWork.ts";

/** An order with one outfit that could do it: the brochure's sum against the minutes. */
export interface Row {
  readonly work: OrderWork;
  readonly done: Done;
  readonly comparison: Comparison;
  readonly ratio: number;
}

export interface BrochureRows {
  /** With the quickest outfit of all; greatest ratio first. */
  readonly rows: readonly Row[];
  /** The same for each type of aircraft, with the quickest outfit of it. */
  readonly byType: readonly { readonly aircraftTypeId: string; readonly rows: readonly Row[] }[];
  readonly notWorked: readonly string[];
}

export function brochureRows(works: Works): BrochureRows {
  const { orders, fleet } = works.operation;
  const worked = orders.map((order) => {
    const work = works.of(order);
    const isOpen = work.treated.areaHa > 0 && work.limits.length === 0;
    return { work, answers: isOpen ? work.everyAnswer() : [] };
  });
  const quickest = (fits: (done: Done) => boolean): Row[] =>
    worked
      .flatMap(({ work, answers }) => {
        const done = answers.filter(isDone).find(fits);
        return done === undefined ? [] : [rowOf(work, done)];
      })
      .sort((a, b) => b.ratio - a.ratio);
  return {
    rows: quickest(() => true),
    byType: fleet.aircraftTypes.map(({ id }) => ({
      aircraftTypeId: id,
      rows: quickest(({ outfit }) => outfit.type.id === id),
    })),
    notWorked: worked.flatMap(({ work, answers }) => (answers.some(isDone) ? [] : [work.order.id])),
  };
}

function isDone(answer: Answer): answer is Done {
  return answer.ok;
}

function rowOf(work: OrderWork, done: Done): Row {
  const comparison = sumOfComparisons(done.jobs.map(compareWithBrochure));
  return { work, done, comparison, ratio: comparison.minutes / comparison.brochureMin };
}

export interface Total {
  readonly orders: number;
  readonly medianRatio: number;
  readonly comparison: Comparison;
}

/** None of no rows. */
export function totalOf(rows: readonly Row[]): Total | undefined {
  if (rows.length === 0) return undefined;
  return {
    orders: rows.length,
    medianRatio: median(rows.map(({ ratio }) => ratio)),
    comparison: sumOfComparisons(rows.map(({ comparison }) => comparison)),
  };
}

function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}
