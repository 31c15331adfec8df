import { putInOrder } from "../outside/putTogether.ts";
import { clearStops } from "../removal.ts";
import type { DayRun, State } from "../routes.ts";

export function stopsOf({ routes, sequence, count }: State, slot: number): number[] {
  return [...sequence.subarray(slot * routes.stride, slot * routes.stride + count[slot]!)];
}

/** Make a slot do these stops in this order, as far as they run; those that do not are given back. */
export function setStops(state: State, run: DayRun, slot: number, stops: readonly number[]): number[] {
  clearStops(state, slot);
  return addStops(state, run, slot, stops);
}

function addStops(state: State, run: DayRun, slot: number, stops: readonly number[]): number[] {
  const left: number[] = [];
  let rest = stops;
  while (rest.length > 0) {
    const put = putInOrder(state, run, slot, rest);
    left.push(...rest.slice(put, put + 1));
    rest = rest.slice(put + 1);
  }
  return left;
}

/**
 * Put a block between the stops of a slot, of which those that no longer run are given back. Null where it does not run there itself: then the slot holds the stops before
 * it, as it would have to follow them.
 */
export function putBetween(
  state: State,
  run: DayRun,
  slot: number,
  before: readonly number[],
  block: number,
  after: readonly number[],
): number[] | null {
  clearStops(state, slot);
  // All at once first: for a later stop the crew may leave later, and so be at an earlier one when it may.
  const whole = [...before, block, ...after];
  if (putInOrder(state, run, slot, whole) === whole.length) return [];
  const left = setStops(state, run, slot, before);
  if (putInOrder(state, run, slot, [block]) === 0) return null;
  return [...left, ...addStops(state, run, slot, after)];
}
