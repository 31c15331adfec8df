import type { Apart, Problem } from "./problem.ts";
import type { DayRun, State } from "./routes.ts";

/**
 * One crew at a time over a field. A walk looks for such times itself, but what comes before a stop that is put in has the times of leaving as early as may be, which
 * another crew may have taken since.
 */
export function fieldsAreClear(problem: Problem, state: State, slot: number, run: DayRun): boolean {
  for (let i = 0; i < run.count; i++) {
    for (const other of problem.blocksOfField[problem.blocks[run.stops[i]!]!.field]!) {
      const at = state.slotOf[other]!;
      if (at < 0 || at === slot) continue;
      if (state.startMin[other]! < run.ends[i]! && run.starts[i]! < state.endMin[other]!) return false;
    }
  }
  return true;
}

/** Rules between orders on one field: time apart, no interleaving, most in a season. */
export function fieldRulesHold(problem: Problem, state: State, slot: number, run: DayRun): boolean {
  for (let i = 0; i < run.count; i++) {
    const orderIndex = problem.blocks[run.stops[i]!]!.order;
    const order = problem.orders[orderIndex]!;
    for (const apart of order.apart) {
      if (!apartHolds(problem, state, slot, run, orderIndex, apart)) return false;
    }
    for (const season of order.seasons) {
      if (!seasonHolds(problem, state, slot, run, season)) return false;
    }
  }
  return true;
}

const spanA = { first: 0, last: 0 };
const spanB = { first: 0, last: 0 };

function apartHolds(
  problem: Problem,
  state: State,
  slot: number,
  run: DayRun,
  order: number,
  { order: other, days, minutes }: Apart,
): boolean {
  if (!orderSpan(problem, state, slot, run, other, spanB)) return true;
  orderSpan(problem, state, slot, run, order, spanA);
  const [earlier, later] = spanA.last <= spanB.first ? [spanA, spanB] : [spanB, spanA];
  return (
    later.first - earlier.last >= minutes && dayOf(problem, later.first) - dayOf(problem, earlier.last - 1) >= days
  );
}

/** Index of the local day; the day after the horizon when it lies beyond. */
function dayOf(problem: Problem, min: number): number {
  const day = problem.calendar.dayOfMin(min);
  return day < 0 ? problem.calendar.dates.length : day;
}

/** First and last minute of an order's work, the slot at hand taken from `run`; false when it has none. */
function orderSpan(
  problem: Problem,
  state: State,
  slot: number,
  run: DayRun,
  order: number,
  span: { first: number; last: number },
): boolean {
  span.first = Number.POSITIVE_INFINITY;
  span.last = Number.NEGATIVE_INFINITY;
  for (const block of problem.blocksOfOrder[order]!) {
    const at = state.slotOf[block]!;
    if (at < 0 || at === slot) continue;
    span.first = Math.min(span.first, state.startMin[block]!);
    span.last = Math.max(span.last, state.endMin[block]!);
  }
  for (let i = 0; i < run.count; i++) {
    if (problem.blocks[run.stops[i]!]!.order !== order) continue;
    span.first = Math.min(span.first, run.starts[i]!);
    span.last = Math.max(span.last, run.ends[i]!);
  }
  return span.last > span.first;
}

function seasonHolds(problem: Problem, state: State, slot: number, run: DayRun, season: number): boolean {
  const limit = problem.seasonLimits[season]!;
  let count = 0;
  let amount = 0;
  for (let at = 0; at < limit.orders.length; at++) {
    if (!orderSpan(problem, state, slot, run, limit.orders[at]!, spanB)) continue;
    count++;
    amount += limit.amounts[at]!;
  }
  return count <= limit.maxCount && amount <= limit.maxAmount + 1e-9;
}
