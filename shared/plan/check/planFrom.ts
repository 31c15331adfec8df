import type { Day, Facts, Work } from "./facts.ts";
import type { Ledger } from "./report.ts";

/** When a plan is made anew: what begins before the crew is free is locked work, and the ways to it. */
export function checkPlanFrom(facts: Facts, ledger: Ledger): void {
  for (const day of facts.days) {
    const freeMin = freeFrom(facts, day);
    if (freeMin === undefined) continue;
    const { activities } = day.crewDay;
    const works = activities.filter((one): one is Work => one.kind === "work");
    for (const work of works.filter(({ startMin }) => startMin < freeMin)) {
      ledger.expect("planFrom", isLockedThen(facts, day, work), { ...day.subject, blockId: work.blockId }, () => ({
        sentence: `work on block ${work.blockId} begins at ${facts.calendar.isoOfMin(work.startMin)}, before ${facts.calendar.isoOfMin(freeMin)}, and no lock says that it does`,
        actual: facts.calendar.isoOfMin(work.startMin),
        allowed: facts.calendar.isoOfMin(freeMin),
      }));
    }
    const last = works.at(-1);
    if (last === undefined || last.startMin < freeMin) continue;
    const begun = activities.findLastIndex(({ kind, startMin }) => kind === "work" && startMin < freeMin);
    const ahead = activities.slice(begun + 1, activities.indexOf(last));
    const early = ahead.find(({ kind, startMin }) => kind !== "wait" && startMin < freeMin);
    ledger.expect("planFrom", early === undefined, day.subject, () => ({
      sentence: `a ${early!.kind} to further work begins at ${facts.calendar.isoOfMin(early!.startMin)}; ${day.crewDay.crewId} is free from ${facts.calendar.isoOfMin(freeMin)} on`,
      actual: facts.calendar.isoOfMin(early!.startMin),
      allowed: facts.calendar.isoOfMin(freeMin),
    }));
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
