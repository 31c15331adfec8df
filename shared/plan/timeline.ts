import { type LocalTime, localTimeOf } from "./localTime.ts";
import type { Activity, CrewDay } from "./plan.ts";
import type { PlanIndex } from "./planIndex.ts";
import { methodOf } from "./siteLimits.ts";
import { amountUnit, counted, hectares, methodVerb, partWords, readable } from "./words.ts";

export interface TimelineRow {
  readonly start: LocalTime;
  readonly end: LocalTime;
  readonly minutes: number;
  readonly kind: Activity["kind"];
  readonly words: string;
  /** What comes with it: distance, loads, litres. */
  readonly details: readonly string[];
  /** Water left on the tender when the row ends, L. */
  readonly tenderL: number;
}

export function timelineOf(index: PlanIndex, crewDay: CrewDay): TimelineRow[] {
  let tenderL = index.tender(crewDay.outfit.tenderId).waterL;
  const lastRow = crewDay.activities.length - 1;
  return crewDay.activities.map((activity, row) => {
    tenderL += waterChangeL(index, activity);
    return {
      start: localTimeOf(index.calendar, activity.startMin),
      end: localTimeOf(index.calendar, activity.endMin),
      minutes: activity.endMin - activity.startMin,
      kind: activity.kind,
      ...inWords(index, activity, row === lastRow),
      tenderL,
    };
  });
}

/** Liquid work takes its whole mix from the tender, as the plan's water rule counts it. */
function waterChangeL(index: PlanIndex, activity: Activity): number {
  switch (activity.kind) {
    case "refill":
      return activity.waterL;
    case "cleanOut":
      return -activity.waterL;
    case "work": {
      const block = index.block(activity.blockId);
      return -block.areaHa * (index.order(block.orderId).carrierLPerHa ?? 0);
    }
    default:
      return 0;
  }
}

function inWords(index: PlanIndex, activity: Activity, isLast: boolean): Pick<TimelineRow, "words" | "details"> {
  switch (activity.kind) {
    case "drive":
      return {
        words: `${isLast ? "Return" : "Drive"} to ${index.placeWords(activity.to)}`,
        details: [`${readable(activity.distanceKm)} km`],
      };
    case "setup":
      return { words: `Set up at ${index.placeWords(activity.place)}`, details: [] };
    case "packup":
      return { words: `Pack up at ${index.placeWords(activity.place)}`, details: [] };
    case "wait":
      return { words: "Wait", details: [] };
    case "refill":
      return {
        words: `Refill at ${index.placeWords(activity.place)}`,
        details: [`${readable(activity.waterL)} L water`],
      };
    case "methodChange":
      return { words: `Change to ${activity.to === "liquid" ? "spraying" : "spreading"}`, details: [] };
    case "cleanOut":
      return {
        words: `Clean out: ${activity.fromGroup} before ${activity.toGroup}`,
        details: [`${readable(activity.waterL)} L water`],
      };
    case "work": {
      const block = index.block(activity.blockId);
      const order = index.order(block.orderId);
      const method = methodOf(index.productsOf(order));
      const { loads, loadSize, batteryChanges } = activity.detail;
      return {
        words: `${methodVerb[method]} ${index.field(order.fieldId).properties.name}${partWords(block)}, order ${order.id}`,
        details: [
          `${hectares(block.areaHa)} ha`,
          `${counted(loads, "load", "loads")} of ${loads === 1 ? "" : "up to "}${readable(loadSize)} ${amountUnit[method]}`,
          ...(batteryChanges > 0 ? [counted(batteryChanges, "battery change", "battery changes")] : []),
        ],
      };
    }
  }
}
