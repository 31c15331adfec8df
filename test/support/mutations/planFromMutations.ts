import { addDays } from "../../../shared/model/calendar.ts";
import { lockSchema } from "../../../shared/model/locks.ts";
import { crewOf, localTime, type Mutation, mutation, onStop, pick, stopsOf } from "./mutation.ts";

export const planFromMutations: readonly Mutation[] = [
  onStop("planFrom", "work that has begun before the plan was made, without a lock", (draft, stop) => {
    draft.operation.settings.planFrom = localTime(draft, stop.work.startMin + 1);
    return true;
  }),
  onStop("planFrom", "work that has begun before, with a lock that says no minute", (draft, stop) => {
    const { crewId, date } = stop.crewDay;
    const { orderId, part } = stop.block;
    draft.operation.settings.planFrom = localTime(draft, stop.work.startMin + 1);
    draft.operation.locks.push(lockSchema.parse({ crewId, date, stops: [{ orderId, part }] }));
    return true;
  }),
  onStop("planFrom", "a crew that leaves before the plan was made", (draft, stop) => {
    const first = stop.crewDay.activities[0]!;
    if (first.kind === "work" || first.kind === "wait") return false;
    draft.operation.settings.planFrom = localTime(draft, first.startMin + 1);
    return true;
  }),
  mutation("planFrom", "on the way to the next stop before the crew is free", (draft) => {
    const pairs = stopsOf(draft).flatMap((first) => {
      const { activities } = first.crewDay;
      const next = activities[activities.indexOf(first.work) + 1];
      const leadsOn = activities.some(({ kind, startMin }) => kind === "work" && startMin > first.work.startMin);
      return leadsOn && next !== undefined && next.kind !== "wait" && next.kind !== "work" ? [{ first, next }] : [];
    });
    const pair = pick(draft, pairs);
    if (pair === undefined) return false;
    const { crewDay } = pair.first;
    const begun = stopsOf(draft).filter(
      (stop) => stop.crewDay === crewDay && stop.work.startMin <= pair.first.work.startMin,
    );
    draft.operation.locks.push(
      lockSchema.parse({
        crewId: crewDay.crewId,
        date: crewDay.date,
        freeFrom: localTime(draft, pair.next.startMin + 1),
        stops: begun.map(({ block, work }) => ({
          orderId: block.orderId,
          part: block.part,
          startAt: localTime(draft, work.startMin),
        })),
      }),
    );
    return true;
  }),
  onStop("dutyWeek", "with what was worked before the first day", (draft, stop) => {
    const crew = crewOf(draft, stop.crewDay);
    const first = draft.calendar.dates[0]!;
    crew.dutyMaxHoursPerWeek = 40;
    crew.dutyBefore = [1, 2].map((days) => ({ date: addDays(first, -days), hours: 20 }));
    return stop.crewDay.date <= addDays(first, 4);
  }),
];
