import { type Comparison, compareWithBrochure, sumOfComparisons } from "../../../shared/fieldwork/brochure.ts";
import type { AircraftType } from "../../../shared/model/fleet.ts";
import type { Answer, Done, OrderWork, Works } from "./orderWork.ts";

/** An order with one outfit that could do it: the brochure's sum against the minutes. */
export interface Row {
  readonly work: OrderWork;
  readonly done: Done;
  readonly comparison: Comparison;
  readonly ratio: number;
}

export interface BrochureRows {
  /** Orders that some type can work, with the quickest outfit of each type or undefined; greatest ratio of any first. */
  readonly orders: readonly { readonly work: OrderWork; readonly byType: readonly (Row | undefined)[] }[];
  /** In the order of the types above; the rows of those that it can work, greatest ratio first. */
  readonly types: readonly { readonly aircraftTypeId: string; readonly rows: readonly Row[] }[];
  readonly notWorked: readonly string[];
}

/** Of one type of aircraft, or of all that can work an order. */
export function brochureRows(works: Works, only: AircraftType | undefined): BrochureRows {
  const { orders, fleet } = works.operation;
  const types = only === undefined ? fleet.aircraftTypes : [only];
  const every = orders.map((order) => {
    const work = works.of(order);
    const done = (work.limits.length === 0 ? work.everyAnswer() : []).filter(isDone);
    const byType = types.map(({ id }) => {
      const quickest = done.find(({ outfit }) => outfit.type.id === id);
      return quickest && rowOf(work, quickest);
    });
    return { work, byType };
  });
  const rowsOf = (byType: readonly (Row | undefined)[]) => byType.filter((row) => row !== undefined);
  const mostOf = (byType: readonly (Row | undefined)[]) => Math.max(0, ...rowsOf(byType).map(({ ratio }) => ratio));
  return {
    orders: every.filter(({ byType }) => rowsOf(byType).length > 0).sort((a, b) => mostOf(b.byType) - mostOf(a.byType)),
    types: types.map(({ id }, type) => ({
      aircraftTypeId: id,
      rows: rowsOf(every.map(({ byType }) => byType[type])).sort((a, b) => b.ratio - a.ratio),
    })),
    notWorked: every.flatMap(({ work, byType }) => (rowsOf(byType).length > 0 ? [] : [work.order.id])),
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
  readonly leastRatio: number;
  readonly medianRatio: number;
  readonly mostRatio: number;
  readonly comparison: Comparison;
}

/** None of no rows. */
export function totalOf(rows: readonly Row[]): Total | undefined {
  if (rows.length === 0) return undefined;
  const ratios = rows.map(({ ratio }) => ratio);
  return {
    orders: rows.length,
    leastRatio: Math.min(...ratios),
    medianRatio: median(ratios),
    mostRatio: Math.max(...ratios),
    comparison: sumOfComparisons(rows.map(({ comparison }) => comparison)),
  };
}

function median(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}
