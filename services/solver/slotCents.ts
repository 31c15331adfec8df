import type { State } from "./routes.ts";

export function setSlotCents(state: State, slot: number, cents: number): void {
  state.slotsCents += cents - state.slotCents[slot]!;
  state.slotCents[slot] = cents;
}
