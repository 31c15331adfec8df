import type { Lock } from "../../model/locks.ts";
import type { CrewDay } from "../plan.ts";
import type { Facts, Stop } from "./facts.ts";
import type { Ledger, Subject } from "./report.ts";

/** What the dispatcher has locked is so in the plan, or the plan says that it does not hold. */
export function checkLocks(facts: Facts, ledger: Ledger): void {
  for (const lock of facts.operation.locks) {
    const { crewId, date } = lock;
    const crewDay = facts.plan.crewDays.find((one) => one.crewId === crewId && one.date === date);
    if (lock.outfit !== undefined && crewDay !== undefined) checkOutfit(lock, crewDay, ledger);
    checkStops(facts, lock, ledger);
    if (lock.inOrder) checkOrder(facts, lock, ledger);
    if (lock.nothingElse) checkNothingElse(facts, lock, ledger);
  }
}

function checkOutfit({ crewId, date, outfit }: Lock, crewDay: CrewDay, ledger: Ledger): void {
  const pairs: [what: string, locked: readonly string[] | undefined, actual: readonly string[]][] = [
    ["aircraft", outfit?.aircraftIds, crewDay.outfit.aircraftIds],
    ["tender", outfit?.tenderId === undefined ? undefined : [outfit.tenderId], [crewDay.outfit.tenderId]],
    ["chargers", outfit?.chargerIds, crewDay.outfit.chargerIds],
    ["battery sets", outfit?.batterySets?.map(setsWords), crewDay.outfit.batterySets.map(setsWords)],
  ];
  for (const [what, locked, actual] of pairs) {
    if (locked === undefined) continue;
    const [wanted, taken] = [locked, actual].map((list) => [...list].sort().join(", ") || "none") as [string, string];
    ledger.expect("locked", wanted === taken, { crewId, date }, () => ({
      sentence: `${what} of ${crewId} on ${date} are locked: ${wanted}; the plan has ${taken}`,
      actual: taken,
      allowed: wanted,
    }));
  }
}

function setsWords({ aircraftTypeId, sets }: { aircraftTypeId: string; sets: number }): string {
  return `${sets} x ${aircraftTypeId}`;
}

/** Each block of a locked stop is worked by the crew on the day, or not at all and named as a lock that does not hold. */
function checkStops(facts: Facts, lock: Lock, ledger: Ledger): void {
  const { crewId, date } = lock;
  for (const { orderId, part, parts, startAt } of lock.stops) {
    const all = facts.blocksOfOrder.get(orderId) ?? [];
    const blocks = (parts === undefined || parts === all.length ? all : [])
      .filter((block) => part === undefined || block.part === part)
      .sort((a, b) => a.part - b.part);
    const subject: Subject = { crewId, date, orderId };
    const isTold = (blockId?: string) =>
      (facts.plan.brokenLocks ?? []).some(
        (one) =>
          one.crewId === crewId &&
          one.date === date &&
          (blockId === undefined || one.blockIds.some((id) => id === blockId)),
      );
    if (blocks.length === 0) {
      ledger.expect("locked", isTold(), subject, () => ({
        sentence: `order ${orderId}${part === undefined ? "" : `, part ${part},`} is locked and has no such block; the plan does not say so`,
      }));
    }
    for (const [at, block] of blocks.entries()) {
      const stops = facts.stops.filter((stop) => stop.block === block);
      const holds =
        stops.length === 0
          ? isTold(block.id)
          : stops.every(({ day }) => day.crewDay.crewId === crewId && day.crewDay.date === date);
      ledger.expect("locked", holds, { ...subject, blockId: block.id }, () => ({
        sentence: `block ${block.id} is locked to ${crewId} on ${date}; ${stops.length === 0 ? "it is not worked, and the plan does not say that the lock does not hold" : `${stops[0]!.day.crewDay.crewId} works it on ${stops[0]!.day.crewDay.date}`}`,
      }));
      if (startAt === undefined || at > 0) continue;
      const startMin = facts.calendar.minOfLocal(startAt);
      for (const { work } of stops) {
        ledger.expect("locked", work.startMin === startMin, { ...subject, blockId: block.id }, () => ({
          sentence: `work on block ${block.id} is locked to begin at ${startAt}, it begins at ${facts.calendar.isoOfMin(work.startMin)}`,
          actual: work.startMin,
          allowed: startMin,
        }));
      }
    }
  }
}

function stopsOfDay(facts: Facts, { crewId, date }: Lock): Stop[] {
  return facts.stops
    .filter(({ day }) => day.crewDay.crewId === crewId && day.crewDay.date === date)
    .sort((a, b) => a.work.startMin - b.work.startMin);
}

/** Where a stop stands in the lock's list; -1 when it is none of its. Blocks of one entry come in the order of their parts. */
function placeIn(lock: Lock, { block }: Stop): number {
  const at = lock.stops.findIndex(
    ({ orderId, part, parts }) =>
      orderId === block.orderId && (part ?? block.part) === block.part && (parts ?? block.parts) === block.parts,
  );
  return at < 0 ? -1 : at * 1_000_000 + block.part;
}

function checkOrder(facts: Facts, lock: Lock, ledger: Ledger): void {
  const { crewId, date } = lock;
  const places = stopsOfDay(facts, lock)
    .map((stop) => placeIn(lock, stop))
    .filter((place) => place >= 0);
  const isSorted = places.every((place, at) => at === 0 || places[at - 1]! <= place);
  ledger.expect("locked", isSorted, { crewId, date }, () => ({
    sentence: `the stops of ${crewId} on ${date} are locked in their order, the plan has another`,
  }));
}

function checkNothingElse(facts: Facts, lock: Lock, ledger: Ledger): void {
  const { crewId, date } = lock;
  for (const stop of stopsOfDay(facts, lock)) {
    ledger.expect("locked", placeIn(lock, stop) >= 0, stop.subject, () => ({
      sentence: `${crewId} is to do nothing on ${date} but what is locked; the plan adds ${stop.block.id}`,
    }));
  }
}
