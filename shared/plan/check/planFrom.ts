import type { Activity } from "../plan.ts";
import type { Day, Facts, Work } from "./facts.ts";
import type { Ledger } from "./report.ts";

/** When a plan is made anew: what begins before the crew is free is work locked to its minute, and the ways to such. */
export function checkPlanFrom(facts: Facts, ledger: Ledger): void {
  for (const day of facts.days) {
    const freeMin = freeFrom(facts, day);
    if (freeMin === undefined) continue;
    const { activities } = day.crewDay;
    let way: Activity[] = [];
    for (const activity of activities) {
      if (activity.kind !== "work") {
        way.push(activity);
        continue;
      }
      const isLocked = isLockedThen(facts, day, activity);
      const subject = { ...day.subject, blockId: activity.blockId };
      ledger.expect("planFrom", isLocked || activity.startMin >= freeMin, subject, () => ({
        sentence: `work on block ${activity.blockId} begins at ${facts.calendar.isoOfMin(activity.startMin)}, before ${facts.calendar.isoOfMin(freeMin)}, and no lock says that it does`,
        actual: facts.calendar.isoOfMin(activity.startMin),
        allowed: facts.calendar.isoOfMin(freeMin),
      }));
      const early = way.find(({ kind, startMin }) => kind !== "wait" && startMin < freeMin);
      ledger.expect("planFrom", isLocked || early === undefined, subject, () => ({
        sentence: `a ${early!.kind} to block ${activity.blockId} begins at ${facts.calendar.isoOfMin(early!.startMin)}; ${day.crewDay.crewId} is free from ${facts.calendar.isoOfMin(freeMin)} on`,
        actual: facts.calendar.isoOfMin(early!.startMin),
        allowed: facts.calendar.isoOfMin(freeMin),
      }));
      way = [];
    }
  }
}

/** The later of the plan's own minute and that of the crew-day's lock; undefined where there is neither. */
function freeFrom({ operation, calendar }: Facts, { crewDay }: Day): number | undefined {
  const times = [
    operation.settings.planFrom,
    ...operation.locks
      .filter(({ crewId, date }) => crewId === crewDay.crewId && date === crewDay.date)
      .map((lock) => lock.freeFrom),
  ].flatMap((local) => (local === undefined ? [] : [calendar.minOfLocal(local)]));
  return times.length === 0 ? undefined : Math.max(...times);
}

function isLockedThen({ operation, calendar, blocks }: Facts, { crewDay }: Day, work: Work): boolean {
  const block = blocks.get(work.blockId);
  return operation.locks.some(
    (lock) =>
      lock.crewId === crewDay.crewId &&
      lock.date === crewDay.date &&
      lock.stops.some(
        ({ orderId, part, startAt }) =>
          startAt !== undefined &&
          orderId === block?.orderId &&
          (part ?? 1) === block.part &&
          calendar.minOfLocal(startAt) === work.startMin,
      ),
  );
}
