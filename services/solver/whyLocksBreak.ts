import type { BrokenLock } from "../../shared/plan/plan.ts";
import { anySlot, noSlot } from "./locks.ts";
import type { Problem } from "./problem.ts";
import type { Reason } from "./reasons/reason.ts";
import type { State } from "./routes.ts";

/** Why a block is not planned that is locked to a crew-day; null when it is not locked. */
export function explainLock({ locks, crews, slots, calendar }: Problem, block: number): Reason | null {
  const slot = locks.slotOf[block]!;
  if (slot === anySlot) return null;
  const reason = reasonOf(locks, block);
  if (slot === noSlot)
    return { kind: "contradiction", sentence: `it is locked to a crew-day, but ${reason}`, evidence: { reason } };
  const { crew, day } = slots[slot]!;
  const crewDay = { crewId: crews[crew]!.id, date: calendar.dates[day]! };
  return {
    kind: "contradiction",
    sentence: `it is locked to ${crews[crew]!.name} on ${crewDay.date}, but ${reason}`,
    evidence: { lockedTo: crewDay, reason },
  };
}

function reasonOf({ whyNot }: Problem["locks"], block: number): string {
  return whyNot.get(block) ?? "it is not done there";
}

/** What is locked and not so in the plan, one entry for every reason of a crew-day. */
export function brokenLocks(problem: Problem, state: State): BrokenLock[] {
  const { locks, blocks } = problem;
  const broken: BrokenLock[] = [];
  const tell = (
    { crewId, date }: { crewId: BrokenLock["crewId"]; date: string },
    out: readonly number[],
    sentence: string,
  ) => broken.push({ crewId, date, blockIds: out.map((block) => blocks[block]!.block.id), sentence });
  for (const { lock, blocks: lost, reason } of locks.lost) tell(lock, lost, reason);
  for (const { lock, slot, blocks: own } of locks.slots) {
    const ofReason = new Map<string, number[]>();
    const outfit = locks.outfitWhyNot.get(slot);
    if (outfit !== undefined) ofReason.set(outfit, []);
    for (const block of own) {
      if (state.slotOf[block]! >= 0) continue;
      const reason = reasonOf(locks, block);
      ofReason.set(reason, [...(ofReason.get(reason) ?? []), block]);
    }
    for (const [reason, out] of ofReason) tell(lock, out, reason);
  }
  return broken;
}
