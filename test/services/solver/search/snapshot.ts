import type { KitPool } from "../../../../services/solver/freeThings.ts";
import type { State } from "../../../../services/solver/routes.ts";
import { stopsOf } from "./evaluateSlot.ts";
import type { CountingPool } from "./randomRoutes.ts";

/** Everything of a state that means something, copied: what lies behind a slot's last stop, or belongs to a block that is not planned, does not. */
export function snapshot(state: State): unknown {
  const { routes, count, pool, unservedCents, slotsCents, planned, busy } = state;
  const slots = Array.from({ length: routes.slotCount }, (_, slot) => {
    const stops = stopsOf(state, slot);
    const held = slot * routes.stride;
    const byStop = (array: Int32Array | Float64Array, more = 0) =>
      Array.from(array.subarray(held, held + count[slot]! + more));
    return {
      stops,
      times: stops.map((block) => [state.startMin[block], state.endMin[block]]),
      outfit: state.outfit[slot],
      places: [state.startPlace[slot], state.endPlace[slot]],
      version: state.version[slot],
      leaveMin: state.leaveMin[slot],
      backMin: state.backMin[slot],
      cents: state.slotCents[slot],
      load: state.slotLoad[slot],
      placeAt: byStop(state.placeAt),
      endAt: byStop(state.endAt),
      latestAt: byStop(state.latestAt, 1),
      ...(routes.hoursCount && {
        busyAt: byStop(state.busyAt, 1),
        leaveBy: byStop(state.leaveBy),
        backFrom: byStop(state.backFrom, 1),
      }),
    };
  });
  const booked = structuredClone((pool as KitPool).used ?? (pool as CountingPool).booked);
  return { slots, slotOf: Array.from(state.slotOf), booked, unservedCents, slotsCents, planned, busy };
}
