import type { Calendar } from "../model/calendar.ts";
import { type Lock, type LockedStop, lockSchema } from "../model/locks.ts";
import { lockedAsItStands } from "./lockedAsItStands.ts";
import type { CrewDay, Plan } from "./plan.ts";

/** What of a crew-day is locked: all of it with its minutes; that stops are done then, whenever in the day; what it takes out. */
export const lockKinds = ["asItStands", "stops", "outfit"] as const;
export type LockKind = (typeof lockKinds)[number];

/** The locks with one more that is made of a plan's crew-day. What was locked of the day before stays beside it, but for `asItStands`, which says it all. `blockIds`: of its stops only these. */
export function withLockOf(
  locks: readonly Lock[],
  calendar: Calendar,
  plan: Pick<Plan, "blocks">,
  crewDay: CrewDay,
  kind: LockKind,
  blockIds: readonly string[] | null,
): { readonly locks: readonly Lock[]; readonly lock: Lock } {
  const { crewId, date } = crewDay;
  const whole = lockedAsItStands(calendar, plan, crewDay);
  const before = locks.find(isOf(crewDay)) ?? lockSchema.parse({ crewId, date });
  const lock = kind === "asItStands" ? whole : kind === "outfit" ? { ...before, outfit: whole.outfit } : withStops();
  const isSame = isOf(crewDay);
  // In its place, so that locking the same again changes nothing.
  return { locks: locks.some(isSame) ? locks.map((one) => (isSame(one) ? lock : one)) : [...locks, lock], lock };

  function withStops(): Lock {
    const wanted = new Set(blockIds ?? plan.blocks.map(({ id }) => id as string));
    const named = plan.blocks.filter(({ id }) => wanted.has(id));
    const isNamed = ({ orderId, part }: LockedStop) =>
      named.some((block) => block.orderId === orderId && block.part === part);
    const isKnown = (stop: LockedStop) => before.stops.some((one) => covers(one, stop));
    const more = whole.stops.filter((stop) => isNamed(stop) && !isKnown(stop)).map(({ startAt: _, ...stop }) => stop);
    return { ...before, stops: [...before.stops, ...more] };
  }
}

export function withoutLockOf(locks: readonly Lock[], crewDay: Pick<Lock, "crewId" | "date">): readonly Lock[] {
  return locks.filter((lock) => !isOf(crewDay)(lock));
}

export const isOf =
  ({ crewId, date }: Pick<Lock, "crewId" | "date">) =>
  (lock: Lock): boolean =>
    lock.crewId === crewId && lock.date === date;

/** A lock of an order without a part is one of all its parts. */
const covers = (one: LockedStop, stop: LockedStop) =>
  one.orderId === stop.orderId && (one.part === undefined || one.part === stop.part);
