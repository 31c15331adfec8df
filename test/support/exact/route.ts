import type { Kit, Problem } from "../../../services/solver/problem.ts";
import type { DayRun } from "../../../services/solver/routes.ts";
import { createDayRun } from "../../../services/solver/state.ts";

/** A crew-day as it could be: a slot, an outfit of a profile, blocks in an order, with times. */
export interface Route {
  readonly slot: number;
  readonly profile: number;
  /** Bits of the blocks. */
  readonly set: number;
  readonly run: DayRun;
  /** What its blocks are worth, less its cost. */
  readonly gainCents: number;
  /** What it asks of other routes; less is never in the way of more. */
  readonly burdens: readonly number[];
}

export function toRoute(problem: Problem, slot: number, kit: Kit, found: DayRun, burdensOf: Burdens): Route {
  const run = createDayRun(found.count);
  for (const key of ["stops", "starts", "ends", "ready", "earliest"] as const) {
    run[key].set(found[key].subarray(0, found.count));
  }
  run.count = found.count;
  run.cents = found.cents;
  run.leaveMin = found.leaveMin;
  run.backMin = found.backMin;
  let set = 0;
  let worthCents = 0;
  for (const block of run.stops) {
    set |= 1 << block;
    worthCents += problem.routes.valueCents[block]!;
  }
  return { slot, profile: kit.profile, set, run, gainCents: worthCents - run.cents, burdens: burdensOf(run) };
}

/**
 * Whether a route may stand in for another of its slot and profile in every plan, and gains as much: its blocks are among the other's and no burden is greater. Every rule between routes (a block
 * once, rest, week, time apart, season) that holds for the other then holds for it.
 */
export function standsFor(a: Route, b: Route): boolean {
  if (a.gainCents < b.gainCents || (a.set & ~b.set) !== 0) return false;
  for (let at = 0; at < a.burdens.length; at++) if (a.burdens[at]! > b.burdens[at]!) return false;
  return true;
}

export type Burdens = (run: DayRun) => readonly number[];

/** First and last minute of an order's work in a run; infinite the wrong way round when it has none. */
export function spanIn(problem: Problem, run: DayRun, order: number): { first: number; last: number } {
  let first = Number.POSITIVE_INFINITY;
  let last = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < run.count; i++) {
    if (problem.blocks[run.stops[i]!]!.order !== order) continue;
    first = Math.min(first, run.starts[i]!);
    last = Math.max(last, run.ends[i]!);
  }
  return { first, last };
}

/** The first minute at which an order may be begun after work on another, which it must keep apart from, has ended. */
export function releaseAfter(
  { calendar }: Problem,
  lastMin: number,
  { days, minutes }: { readonly days: number; readonly minutes: number },
): number {
  const day = calendar.dayOfMin(lastMin - 1);
  return Math.max(lastMin + minutes, calendar.dayStartMin[Math.min(day + days, calendar.dates.length)]!);
}

/** What the routes of a slot ask of those of other slots: only what can differ from route to route and matter to another slot is told. */
export function burdensIn(problem: Problem, slot: number): Burdens {
  const { crew, day, shiftFromMin, shiftToMin } = problem.slots[slot]!;
  const { restMinHours, dutyMaxHoursPerDay, dutyMaxHoursPerWeek } = problem.crews[crew]!;
  const restMin = restMinHours * 60;
  const others = problem.slotsOfCrew[crew]!.filter((other) => other !== slot);
  const asked: ((run: DayRun) => number)[] = [];
  for (const other of others) {
    const { shiftFromMin: otherFromMin, shiftToMin: otherToMin } = problem.slots[other]!;
    if (other > slot && shiftToMin + restMin > otherFromMin) {
      asked.push(({ backMin }) => Math.max(backMin + restMin, otherFromMin));
    }
    if (other < slot && otherToMin + restMin > shiftFromMin) {
      asked.push(({ leaveMin }) => -Math.min(leaveMin, otherToMin + restMin));
    }
  }
  const leftMin = 60 * (dutyMaxHoursPerWeek - others.length * dutyMaxHoursPerDay);
  if (leftMin < 60 * dutyMaxHoursPerDay) asked.push(({ backMin, leaveMin }) => Math.max(backMin - leaveMin, leftMin));

  problem.orders.forEach(({ apart }, order) => {
    if (!couldWork(problem, slot, order)) return;
    for (const between of apart) {
      problem.slots.forEach((other, index) => {
        if (index === slot || !couldWork(problem, index, between.order)) return;
        if (other.day === day)
          throw new RangeError(`two crews of one day could be over field ${problem.orders[order]!.field}`);
        const releaseMin = (lastMin: number, toMin: number) =>
          Math.min(toMin + 1, releaseAfter(problem, lastMin, between));
        if (other.day > day && releaseAfter(problem, shiftToMin, between) > other.shiftFromMin) {
          asked.push((run) => {
            const { last } = spanIn(problem, run, order);
            return last < 0 ? other.shiftFromMin : Math.max(other.shiftFromMin, releaseMin(last, other.shiftToMin));
          });
        }
        if (other.day < day && releaseAfter(problem, other.shiftToMin, between) > shiftFromMin) {
          asked.push((run) => -Math.min(spanIn(problem, run, order).first, releaseMin(other.shiftToMin, shiftToMin)));
        }
      });
      // Which of the two comes first only matters when more of them may be worked elsewhere.
      if (problem.blocksOfOrder[order]!.length + problem.blocksOfOrder[between.order]!.length > 2) {
        asked.push((run) => Number(spanIn(problem, run, order).last <= spanIn(problem, run, between.order).first));
      }
    }
  });
  return (run) => asked.map((ask) => ask(run));
}

function couldWork({ routes, blocksOfOrder }: Problem, slot: number, order: number): boolean {
  return blocksOfOrder[order]!.some((block) => routes.could[block * routes.slotCount + slot] === 1);
}
