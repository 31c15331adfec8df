import type { Apart, Problem } from "../../../services/solver/problem.ts";
import type { RouteColumn } from "./choose.ts";
import { releaseAfter, spanIn } from "./route.ts";
import type { Rows } from "./rows.ts";

/** Two orders that must keep apart, and a column that is 1 when the first is worked before the second. */
export interface ApartPair {
  readonly first: number;
  readonly second: number;
  readonly between: Apart;
  readonly column: number;
}

/** Pairs of orders, and the routes that settle by themselves which comes first. */
export function apartPairs(problem: Problem, rows: Rows, options: readonly RouteColumn[]): ApartPair[] {
  const pairs = problem.orders.flatMap(({ apart }, first) =>
    apart
      .filter(({ order }) => first < order)
      .map((between) => ({ first, second: between.order, between, column: rows.column(0) })),
  );
  for (const { first, second, column } of pairs) {
    problem.slots.forEach((_, slot) => {
      const both = options.filter(
        ({ route: { slot: own, run } }) => own === slot && has(problem, run, first) && has(problem, run, second),
      );
      const firstFirst = both.filter(
        ({ route: { run } }) => spanIn(problem, run, first).last <= spanIn(problem, run, second).first,
      );
      const others = both.filter((one) => !firstFirst.includes(one));
      rows.atMost(0, [...firstFirst.map((one) => [one.column, 1] as const), [column, -1]]);
      rows.atMost(1, [...others.map((one) => [one.column, 1] as const), [column, 1]]);
    });
  }
  return pairs;
}

type Run = RouteColumn["route"]["run"];

function has(problem: Problem, run: Run, order: number): boolean {
  return spanIn(problem, run, order).last > 0;
}

/** False when two days of a crew among those taken leave too little rest; no such two can be taken again. */
export function limitRest(
  { slots, crews }: Problem,
  rows: Rows,
  options: readonly RouteColumn[],
  taken: readonly RouteColumn[],
): boolean {
  let holds = true;
  for (const { route: a } of taken) {
    for (const { route: b } of taken) {
      const { crew } = slots[a.slot]!;
      if (slots[b.slot]!.crew !== crew || a.slot >= b.slot) continue;
      const restMin = crews[crew]!.restMinHours * 60;
      const fromMin = a.run.backMin + restMin;
      if (b.run.leaveMin >= fromMin) continue;
      holds = false;
      const late = options.filter(({ route }) => route.slot === a.slot && route.run.backMin + restMin >= fromMin);
      const early = options.filter(({ route }) => route.slot === b.slot && route.run.leaveMin < fromMin);
      rows.atMost(
        1,
        [...late, ...early].map(({ column }) => [column, 1] as const),
      );
    }
  }
  return holds;
}

/** The same for two orders that must keep apart, in the order that the answer gives them. */
export function limitApart(
  problem: Problem,
  rows: Rows,
  options: readonly RouteColumn[],
  taken: readonly RouteColumn[],
  pairs: readonly ApartPair[],
  isIn: (one: { readonly column: number }) => boolean,
): boolean {
  let holds = true;
  for (const pair of pairs) {
    const isFirst = isIn(pair);
    const [earlier, later] = isFirst ? [pair.first, pair.second] : [pair.second, pair.first];
    for (const { route: a } of taken) {
      for (const { route: b } of taken) {
        if (a.slot === b.slot || !has(problem, a.run, earlier) || !has(problem, b.run, later)) continue;
        const fromMin = releaseAfter(problem, spanIn(problem, a.run, earlier).last, pair.between);
        if (spanIn(problem, b.run, later).first >= fromMin) continue;
        holds = false;
        const late = options.filter(
          ({ route: { slot, run } }) =>
            slot === a.slot &&
            has(problem, run, earlier) &&
            releaseAfter(problem, spanIn(problem, run, earlier).last, pair.between) >= fromMin,
        );
        const early = options.filter(
          ({ route: { slot, run } }) => slot === b.slot && spanIn(problem, run, later).first < fromMin,
        );
        rows.atMost(isFirst ? 2 : 1, [
          ...[...late, ...early].map(({ column }) => [column, 1] as const),
          [pair.column, isFirst ? 1 : -1],
        ]);
      }
    }
  }
  return holds;
}
