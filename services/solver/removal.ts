import { chain } from "./chains.ts";
import type { DayRun, State } from "./routes.ts";
import { setSlotCents } from "./slotCents.ts";
import { openChain, touch } from "./state.ts";

/** Take all stops out of a slot; its outfit stays. */
export function clearStops(state: State, slot: number): void {
  const { stride } = state.routes;
  const count = state.count[slot]!;
  for (let at = 0; at < count; at++) takeOut(state, state.sequence[slot * stride + at]!);
  setEmpty(state, slot);
}

function setEmpty(state: State, slot: number): void {
  if (state.count[slot]! > 0) state.busy--;
  state.count[slot] = 0;
  state.slotLoad[slot] = 0;
  openChain(state, slot);
  setSlotCents(state, slot, 0);
  touch(state, slot);
}

function takeOut(state: State, block: number): void {
  state.slotOf[block] = -1;
  state.unservedCents += state.routes.valueCents[block]!;
  state.planned--;
}

/**
 * Take the stops from place `first` on out of a slot, `length` of them, with those from `keptFirst` on, `keptLength` of them, staying. Fewer stops nearly always run. They
 * may not where a road matrix makes the way round shorter, or where charging or the crew's other days now bind: then the day is emptied.
 */
export function cut(
  state: State,
  run: DayRun,
  slot: number,
  first: number,
  length: number,
  keptFirst: number,
  keptLength: number,
): void {
  const { rules } = state;
  const { stride } = state.routes;
  const held = slot * stride;
  const count = state.count[slot]!;
  if (length - keptLength >= count) {
    clearStops(state, slot);
    return;
  }
  let kept = first;
  for (let at = first; at < count; at++) {
    const block = state.sequence[held + at]!;
    if (at >= first + length || (at >= keptFirst && at < keptFirst + keptLength)) state.sequence[held + kept++] = block;
    else takeOut(state, block);
  }
  state.count[slot] = kept;
  const holds = rules === null ? chain(state, slot, null) : rules.run(slot, -1, 0, run) && chain(state, slot, run);
  if (!holds) clearStops(state, slot);
  else touch(state, slot);
}
