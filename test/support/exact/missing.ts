import { kitOf } from "../../../services/solver/kits.ts";
import type { LinearSolver } from "../../../services/solver/linear/solver.ts";
import type { Kit, Problem } from "../../../services/solver/problem.ts";
import type { State } from "../../../services/solver/routes.ts";
import { totalCents } from "../../../services/solver/state.ts";
import { type Allowed, choose } from "./choose.ts";
import { type Optimum, roundingCents } from "./judge.ts";
import type { Route } from "./route.ts";

/** What of a plan would have to change at once to make it the best. */
export type Missing =
  | "order of the stops"
  | "outfits"
  | "outfit and blocks of one crew-day"
  | "blocks, with these outfits"
  | "outfits and blocks of two crew-days"
  | "outfits and blocks of three crew-days";

/** The first change that alone makes the plan as good as the best one. */
export function missingIn({ problem, days, choice }: Optimum, linear: LinearSolver, state: State): Missing {
  const slots = problem.slots.map((_, slot) => slot);
  const setOf = (slot: number) => {
    const { sequence, routes, count } = state;
    let set = 0;
    for (let at = 0; at < count[slot]!; at++) set |= 1 << sequence[slot * routes.stride + at]!;
    return set;
  };
  const hasSet = ({ slot, set }: Route) => set === setOf(slot);
  const hasKit = (slot: number, kit: Kit) => state.outfit[slot] === null || isAlike(kitOf(state, slot)!, kit);
  const isEnough = (allowed: Allowed) =>
    choose(problem, days, linear, allowed).totalCents < choice.totalCents + roundingCents;
  const onlyIn = (free: readonly number[]): Allowed => ({
    route: (route) => free.includes(route.slot) || hasSet(route),
    kit: (slot, kit) => free.includes(slot) || hasKit(slot, kit),
  });
  if (isEnough({ route: hasSet, kit: hasKit })) return "order of the stops";
  if (isEnough({ route: hasSet })) return "outfits";
  if (slots.some((slot) => isEnough(onlyIn([slot])))) return "outfit and blocks of one crew-day";
  if (isEnough({ kit: hasKit })) return "blocks, with these outfits";
  const pairs = slots.flatMap((one) => slots.filter((other) => other > one).map((other) => [one, other]));
  if (pairs.some((pair) => isEnough(onlyIn(pair)))) return "outfits and blocks of two crew-days";
  return "outfits and blocks of three crew-days";
}

function isAlike(a: Kit, b: Kit): boolean {
  return (
    a.profile === b.profile &&
    a.tender === b.tender &&
    a.aircraft.length === b.aircraft.length &&
    a.aircraft.every((one) => b.aircraft.includes(one))
  );
}

/** What two plans do otherwise, one line for each crew-day in which they differ. */
export function differences(problem: Problem, found: State, best: State): string[] {
  const lines = problem.slots.flatMap(({ crew, day }, slot) => {
    const [one, other] = [found, best].map((state) => dayText(problem, state, slot));
    return one === other ? [] : [`crew ${crew + 1} on day ${day + 1}: ${one}; best ${other}`];
  });
  return [...lines, `${(totalCents(found) - totalCents(best)).toFixed(2)} cents dearer`];
}

function dayText(problem: Problem, state: State, slot: number): string {
  const kit = kitOf(state, slot);
  if (kit === null || state.count[slot] === 0) return "nothing";
  const { fleet } = problem.operation;
  const held = slot * state.routes.stride;
  const stops = [...state.sequence.subarray(held, held + state.count[slot]!)];
  return [
    kit.aircraft.map((one) => fleet.aircraft[one]!.id).join("+"),
    fleet.tenders[kit.tender]!.id,
    kit.sets > 0 ? `${kit.sets} sets ${kit.chargers.map((one) => fleet.chargers[one]!.id).join("+")}` : "",
    stops.map((block) => problem.blocks[block]!.block.id).join(" "),
    `${state.slotCents[slot]!.toFixed(0)} cents`,
  ]
    .filter((part) => part !== "")
    .join(", ");
}
