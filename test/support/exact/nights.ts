import { compileProblem } from "../../../services/solver/compile.ts";
import type { LinearSolver } from "../../../services/solver/linear/solver.ts";
import type { Kit, Problem } from "../../../services/solver/problem.ts";
import type { Night } from "../../../services/solver/routes.ts";
import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import { createCalendar } from "../../../shared/model/calendar.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { choose } from "./choose.ts";
import { everyDay } from "./everyDay.ts";

export interface NightsOptimum {
  readonly problem: Problem;
  /** With all nights at home, and with any. */
  readonly homeCents: number;
  readonly leastCents: number;
}

/**
 * The best plan with each choice of nights away: crews of one place to sleep at, days as they run from there, and the same kit, whichever it is, on all days between which a
 * crew is away. Charging by night must never bind.
 */
export function nightsOptimum(operation: Operation, linear: LinearSolver): NightsOptimum {
  const calendar = createCalendar(operation.settings);
  const problem = compileProblem(operation, calendar, createAgronomy(operation, calendar));
  const { nights } = problem.routes;
  let homeCents = Number.POSITIVE_INFINITY;
  let leastCents = Number.POSITIVE_INFINITY;
  for (let set = 0; set < 1 << nights.length; set++) {
    const away = nights.filter((_, at) => (set & (1 << at)) !== 0);
    const cents = leastWith(problem, away, linear);
    if (set === 0) homeCents = cents;
    leastCents = Math.min(leastCents, cents);
  }
  return { problem, homeCents, leastCents };
}

function leastWith(problem: Problem, away: readonly Night[], linear: LinearSolver): number {
  const { routes } = problem;
  const startPlace = routes.startPlace.slice();
  const endPlace = routes.endPlace.slice();
  let lodgingCents = 0;
  for (const { evening, morning, places } of away) {
    endPlace[evening] = places[0]!;
    startPlace[morning] = places[0]!;
    lodgingCents += problem.crews[problem.slots[evening]!.crew]!.nightAwayCents ?? 0;
  }
  // A day's own rules then take these places for home, so that lodging is counted here.
  const there: Problem = { ...problem, routes: { ...routes, startPlace, endPlace } };
  const days = everyDay(there, "asDealt");
  const must = [...new Set(away.flatMap(({ evening, morning }) => [evening, morning]))];
  const crews = new Set(must.map((slot) => problem.slots[slot]!.crew));
  if (crews.size > 1) throw new RangeError("Two crews that sleep away.");
  const kits = must.length === 0 ? [null] : days.kitsOfSlot[must[0]!]!;
  const totals = kits.map(
    (same) =>
      choose(there, days, linear, {
        must,
        ...(same === null ? {} : { kit: (slot, kit) => !must.includes(slot) || isSame(kit, same) }),
      }).totalCents,
  );
  return Math.min(...totals) + lodgingCents;
}

function isSame(a: Kit, b: Kit): boolean {
  const textOf = ({ aircraft, chargers, sets, tender }: Kit) =>
    JSON.stringify([[...aircraft].sort(), [...chargers].sort(), sets, tender]);
  return textOf(a) === textOf(b);
}
