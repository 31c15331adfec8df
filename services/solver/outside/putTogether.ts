import { chain } from "../chains.ts";
import { insertAt } from "../insertion.ts";
import type { DayRun, State } from "../routes.ts";
import { touch } from "../state.ts";

/** Put stops at the end of a slot's day one by one, or together where that alone runs. How many are in. */
export function putInOrder(state: State, run: DayRun, slot: number, stops: readonly number[]): number {
  let at = 0;
  while (at < stops.length) {
    ask(state, slot, stops[at]!);
    touch(state, slot);
    if (insertAt(state, run, slot, stops[at]!, state.count[slot]!)) at++;
    else {
      const together = putTogether(state, run, slot, stops.slice(at));
      if (together === 0) return at;
      at += together;
    }
  }
  return at;
}

/**
 * The fewest of the stops that run when they come to the end of a slot's day at once: for a later one the crew may leave later, and so be at an earlier one when enough
 * time has passed since other work there. Returns how many are in; 0 when none run.
 */
export function putTogether(state: State, run: DayRun, slot: number, stops: readonly number[]): number {
  const { routes } = state;
  const before = state.count[slot]!;
  const held = slot * routes.stride + before;
  for (let length = 1; length <= stops.length && before + length < routes.stride; length++) {
    const block = stops[length - 1]!;
    if (!ask(state, slot, block)) break;
    state.sequence[held + length - 1] = block;
    state.count[slot] = before + length;
    touch(state, slot);
    if (!state.rules!.run(slot, -1, 0, run)) continue;
    if (!chain(state, slot, run)) throw new Error(`slot ${slot} does not hold its stops as its rules said`);
    if (before === 0) state.busy++;
    for (const put of stops.slice(0, length)) {
      state.slotOf[put] = slot;
      state.unservedCents -= routes.valueCents[put]!;
      state.planned++;
    }
    touch(state, slot);
    return length;
  }
  state.count[slot] = before;
  touch(state, slot);
  return 0;
}

/** Whether the slot may have the block and its outfit can do it at all. Chains read minutes that somebody has asked for. */
export function ask({ routes, outfit }: State, slot: number, block: number): boolean {
  if (routes.could[block * routes.slotCount + slot] === 0) return false;
  const { profile } = outfit[slot]!;
  const { minutes } = routes.profiles[profile]!;
  return (minutes[block]! < 0 ? routes.ask(profile, block) : minutes[block]!) > 0;
}
