import { addDays } from "../../../shared/model/calendar.ts";
import { type Lock, lockSchema } from "../../../shared/model/locks.ts";
import { type Draft, type DraftStop, localTime, type Mutation, mutation, onStop, pick, stopsOf } from "./mutation.ts";

/** Locks a stop where the plan has it, with more or other than that. */
function lockStop(draft: Draft, { crewDay, block }: DraftStop, more: object): Lock {
  const { crewId, date } = crewDay;
  const lock = lockSchema.parse({ crewId, date, stops: [{ orderId: block.orderId, part: block.part }], ...more });
  draft.operation.locks.push(lock);
  return lock;
}

export const lockMutations: readonly Mutation[] = [
  onStop("locked", "a stop on another day than its lock", (draft, stop) => {
    lockStop(draft, stop, { date: addDays(stop.crewDay.date, 1) });
    return true;
  }),
  onStop("locked", "a stop with another crew than its lock", (draft, stop) => {
    const other = draft.operation.fleet.crews.find(({ id }) => id !== stop.crewDay.crewId);
    if (other === undefined) return false;
    lockStop(draft, stop, { crewId: other.id });
    return true;
  }),
  onStop("locked", "a minute after its lock", (draft, stop) => {
    const { orderId, part } = stop.block;
    lockStop(draft, stop, { stops: [{ orderId, part, startAt: localTime(draft, stop.work.startMin - 1) }] });
    return true;
  }),
  onStop("locked", "a locked stop left out without a word", (draft, stop) => {
    lockStop(draft, stop, {});
    const { startMin, endMin } = stop.work;
    const { activities } = stop.crewDay;
    activities[activities.indexOf(stop.work)] = { kind: "wait", startMin, endMin };
    return true;
  }),
  onStop("locked", "a part that is not there, without a word", (draft, stop) => {
    lockStop(draft, stop, { stops: [{ orderId: stop.block.orderId, part: stop.block.parts + 1 }] });
    return true;
  }),
  onStop("locked", "another tender than locked", (draft, stop) => {
    const { tenderId } = stop.crewDay.outfit;
    const other = draft.operation.fleet.tenders.find(({ id }) => id !== tenderId);
    if (other === undefined) return false;
    lockStop(draft, stop, { outfit: { tenderId: other.id } });
    return true;
  }),
  onStop("locked", "one aircraft fewer than locked", (draft, stop) => {
    const { aircraftIds } = stop.crewDay.outfit;
    const other = draft.operation.fleet.aircraft.find(({ id }) => !aircraftIds.includes(id));
    if (other === undefined) return false;
    lockStop(draft, stop, { outfit: { aircraftIds: [...aircraftIds, other.id] } });
    return true;
  }),
  onStop("locked", "other chargers than locked", (draft, stop) => {
    const { chargerIds } = stop.crewDay.outfit;
    if (chargerIds.length === 0) return false;
    lockStop(draft, stop, { outfit: { chargerIds: [] } });
    return true;
  }),
  onStop("locked", "another number of battery sets than locked", (draft, stop) => {
    const [first] = stop.crewDay.outfit.batterySets;
    if (first === undefined) return false;
    const { aircraftTypeId, sets } = first;
    lockStop(draft, stop, { outfit: { batterySets: [{ aircraftTypeId, sets: sets + 1 }] } });
    return true;
  }),
  mutation("locked", "another order of stops than locked", (draft) => {
    const pairs = stopsOf(draft).flatMap((first) =>
      stopsOf(draft)
        .filter(({ crewDay, work }) => crewDay === first.crewDay && work.startMin > first.work.startMin)
        .map((later) => ({ first, later })),
    );
    const pair = pick(draft, pairs);
    if (pair === undefined) return false;
    const { first, later } = pair;
    const stops = [later, first].map(({ block }) => ({ orderId: block.orderId, part: block.part }));
    lockStop(draft, first, { stops, inOrder: true });
    return true;
  }),
  mutation("locked", "more than what is locked of a day", (draft) => {
    const stop = pick(
      draft,
      stopsOf(draft).filter(({ crewDay, block }) =>
        crewDay.activities.some((activity) => activity.kind === "work" && activity.blockId !== block.id),
      ),
    );
    if (stop === undefined) return false;
    lockStop(draft, stop, { nothingElse: true });
    return true;
  }),
];
