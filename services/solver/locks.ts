import type { Calendar } from "../../shared/model/calendar.ts";
import type { Lock } from "../../shared/model/locks.ts";
import type { Operation } from "../../shared/model/operation.ts";

/** Things that a slot's outfit has when it goes out; null where the planner chooses. All are indices. */
export interface LockedThings {
  readonly aircraft: readonly number[] | null;
  readonly tender: number | null;
  readonly chargers: readonly number[] | null;
  /** By aircraft type. */
  readonly sets: ReadonlyMap<number, number> | null;
}

/** What is locked of a slot. */
export interface SlotLock {
  readonly lock: Lock;
  readonly slot: number;
  readonly things: LockedThings | null;
  /** Its blocks as the lock lists them. */
  readonly blocks: readonly number[];
}

/** What the dispatcher has fixed, in indices. */
export interface Locks {
  readonly slots: readonly SlotLock[];
  /** Locks of crew-days on which the crew has no shift, and of parts that the orders do not have. */
  readonly lost: readonly { readonly lock: Lock; readonly blocks: readonly number[]; readonly reason: string }[];
  /** lockOf[slot], undefined where nothing is locked. */
  readonly lockOf: readonly (SlotLock | undefined)[];
  /** slotOf[block]: where it is locked to; `anySlot`, or `noSlot` where that crew-day is none. */
  readonly slotOf: Int32Array;
  /** The minute at which a block's work begins, or -1. */
  readonly startMin: Int32Array;
  /** Place among the stops of its slot that come in order, or -1. */
  readonly rank: Int32Array;
  /** Slots for which a thing is kept on a day, [day * things + thing], or -1. */
  readonly aircraftFor: Int32Array;
  readonly tenderFor: Int32Array;
  readonly chargerFor: Int32Array;
  /** Why locked blocks, and locked outfits by slot, cannot hold: found out once, by `holdLocks`. */
  readonly whyNot: Map<number, string>;
  readonly outfitWhyNot: Map<number, string>;
}

export const anySlot = -1;
export const noSlot = -2;

interface LockSlot {
  readonly crew: number;
  readonly day: number;
  readonly days: readonly number[];
}

export function compileLocks(
  { fleet, locks, orders }: Operation,
  calendar: Calendar,
  slots: readonly LockSlot[],
  blocksOfOrder: readonly (readonly number[])[],
): Locks {
  const count = blocksOfOrder.reduce((sum, blocks) => sum + blocks.length, 0);
  const indexOf = (list: readonly { readonly id: string }[]) => new Map(list.map(({ id }, index) => [id, index]));
  const [aircraftOf, tenderOf, chargerOf, typeOf] = [
    indexOf(fleet.aircraft),
    indexOf(fleet.tenders),
    indexOf(fleet.chargers),
    indexOf(fleet.aircraftTypes),
  ];
  const orderOf = indexOf(orders);
  const thingsOf = ({ outfit }: Lock): LockedThings | null =>
    outfit === undefined
      ? null
      : {
          aircraft: outfit.aircraftIds?.map((id) => aircraftOf.get(id)!) ?? null,
          tender: outfit.tenderId === undefined ? null : tenderOf.get(outfit.tenderId)!,
          chargers: outfit.chargerIds?.map((id) => chargerOf.get(id)!) ?? null,
          sets:
            outfit.batterySets === undefined
              ? null
              : new Map(outfit.batterySets.map(({ aircraftTypeId, sets }) => [typeOf.get(aircraftTypeId)!, sets])),
        };
  const perDay = (things: readonly unknown[]) => new Int32Array(calendar.dates.length * things.length).fill(-1);
  const lost: Locks["lost"][number][] = [];
  const made = {
    slotOf: new Int32Array(count).fill(anySlot),
    startMin: new Int32Array(count).fill(-1),
    rank: new Int32Array(count).fill(-1),
    aircraftFor: perDay(fleet.aircraft),
    tenderFor: perDay(fleet.tenders),
    chargerFor: perDay(fleet.chargers),
  };
  const keep = (kept: Int32Array, things: readonly number[], count: number, slot: number) => {
    for (const day of slots[slot]!.days) {
      for (const thing of things) if (kept[day * count + thing] === -1) kept[day * count + thing] = slot;
    }
  };
  const lockOf: (SlotLock | undefined)[] = slots.map(() => undefined);
  const slotLocks = locks.flatMap((lock): SlotLock[] => {
    const slot = slots.findIndex(
      ({ crew, day }) => fleet.crews[crew]!.id === lock.crewId && calendar.dates[day] === lock.date,
    );
    const blocks = lock.stops.flatMap(({ orderId, part, parts, startAt }) => {
      const all = blocksOfOrder[orderOf.get(orderId)!]!;
      if (parts !== undefined && parts !== all.length && all.length > 0) {
        const reason = `${orderId} was cut into ${parts} blocks when it was locked and is into ${all.length} now`;
        lost.push({ lock, blocks: [], reason });
        return [];
      }
      const own = part === undefined ? all : all.slice(part - 1, part);
      if (own.length === 0) lost.push({ lock, blocks: [], reason: missingWords(orderId, part, all.length) });
      if (startAt !== undefined && own.length > 0) made.startMin[own[0]!] = calendar.minOfLocal(startAt);
      return own;
    });
    for (const block of blocks) made.slotOf[block] = slot < 0 ? noSlot : slot;
    if (slot < 0) {
      lost.push({ lock, blocks, reason: "the crew has no shift on that day" });
      return [];
    }
    if (lock.inOrder) for (const [place, block] of blocks.entries()) made.rank[block] = place;
    const things = thingsOf(lock);
    if (things !== null) {
      keep(made.aircraftFor, things.aircraft ?? [], fleet.aircraft.length, slot);
      keep(made.tenderFor, things.tender === null ? [] : [things.tender], fleet.tenders.length, slot);
      keep(made.chargerFor, things.chargers ?? [], fleet.chargers.length, slot);
    }
    const slotLock = { lock, slot, things, blocks };
    lockOf[slot] = slotLock;
    return [slotLock];
  });
  return { slots: slotLocks, lost, lockOf, ...made, whyNot: new Map(), outfitWhyNot: new Map() };
}

function missingWords(orderId: string, part: number | undefined, parts: number): string {
  if (parts === 0) return `${orderId} has no ground to treat`;
  return `${orderId} has ${parts === 1 ? "one block" : `${parts} blocks`}, part ${part} is none of them`;
}

/** Of the slots that could do a block those that its lock, and the locks of the slots, leave it. */
export function slotsLeftBy({ slotOf, lockOf }: Locks, could: readonly number[], block: number): number[] {
  const locked = slotOf[block]!;
  if (locked !== anySlot) return could.filter((slot) => slot === locked);
  return could.filter((slot) => lockOf[slot]?.lock.nothingElse !== true);
}

/** Windows of a work that begins at a minute: the one that the minute lies in from there on, and those after it, for when it pauses. */
export function windowsFrom(windows: Int32Array | null, startMin: number): Int32Array | null {
  if (windows === null) return null;
  let w = 0;
  while (w < windows.length && windows[w + 1]! <= startMin) w += 2;
  if (w === windows.length || windows[w]! > startMin) return new Int32Array(0);
  const cut = windows.slice(w);
  cut[0] = startMin;
  return cut;
}

/** Whether stops that are to come in order do. */
export function isInOrder({ rank }: Locks, stops: Int32Array, count: number): boolean {
  let last = -1;
  for (let i = 0; i < count; i++) {
    const place = rank[stops[i]!]!;
    if (place < 0) continue;
    if (place < last) return false;
    last = place;
  }
  return true;
}
