import { type LocalTime, localTimeOf } from "./localTime.ts";
import type { Plan } from "./plan.ts";
import type { PlanIndex } from "./planIndex.ts";
import { type ChangeKind, changesOf } from "./published.ts";

/** Who does a stop, and when it begins. */
export interface StopTime {
  readonly crewName: string;
  readonly date: string;
  readonly start: LocalTime;
}

/** A stop that is otherwise than people have been told. */
export interface ChangeView {
  readonly kind: ChangeKind;
  readonly blockId: string;
  readonly fieldName: string;
  readonly before: StopTime;
  /** Null when it is left out now. */
  readonly now: StopTime | null;
}

export function changeViews(index: PlanIndex, plan: Pick<Plan, "blocks" | "published">): ChangeView[] {
  const { operation, calendar, stops } = index;
  const crewNameOf = (id: string) => operation.fleet.crews.find((crew) => crew.id === id)?.name ?? id;
  const timeOf = (crewId: string, date: string, startMin: number): StopTime => ({
    crewName: crewNameOf(crewId),
    date,
    start: localTimeOf(calendar, startMin),
  });
  return changesOf(operation.settings.planning, plan, stops).map(({ kind, blockId, published }) => {
    const stop = stops.find(({ block }) => block.id === blockId);
    return {
      kind,
      blockId,
      fieldName: index.field(index.order(published.orderId).fieldId).properties.name,
      before: timeOf(published.crewId, published.date, published.startMin),
      now: stop === undefined ? null : timeOf(stop.crewDay.crewId, stop.crewDay.date, stop.work.startMin),
    };
  });
}
