import { type LocalTime, localTimeOf } from "./localTime.ts";
import type { Activity, CrewDay } from "./plan.ts";
import type { PlanIndex } from "./planIndex.ts";
import { partWords, stopsWords } from "./runs.ts";
import { methodOf } from "./siteLimits.ts";
import { sumOf, type Work } from "./totals.ts";
import { amountUnit, counted, hectares, kilometres, methodVerb, readable } from "./words.ts";

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

/** A row for each activity; parts of one order that are worked without a break are one row. */
export function timelineOf(index: PlanIndex, crewDay: CrewDay): TimelineRow[] {
  let tenderL = index.tender(crewDay.outfit.tenderId).waterL;
  let stopsBefore = 0;
  const rows = rowsOf(index, crewDay);
  return rows.map((row, position) => {
    tenderL += sumOf(row, (activity) => waterChangeL(index, activity));
    const { kind, startMin } = row[0]!;
    const { endMin } = row.at(-1)!;
    const isLast = position === rows.length - 1;
    const words = rowWords(index, row, stopsBefore, isLast);
    if (kind === "work") stopsBefore += row.length;
    return {
      start: localTimeOf(index.calendar, startMin),
      end: localTimeOf(index.calendar, endMin),
      minutes: endMin - startMin,
      kind,
      ...words,
      tenderL,
    };
  });
}

function rowWords(
  index: PlanIndex,
  row: readonly Activity[],
  stopsBefore: number,
  isLast: boolean,
): Pick<TimelineRow, "words" | "details"> {
  const [first] = row;
  if (first!.kind !== "work") return inWords(index, first!, isLast);
  return workInWords(
    index,
    row.filter((activity) => activity.kind === "work"),
    stopsBefore + 1,
  );
}

function rowsOf(index: PlanIndex, crewDay: CrewDay): Activity[][] {
  const orderOf = (activity: Activity) =>
    activity.kind === "work" ? index.block(activity.blockId).orderId : undefined;
  const rows: Activity[][] = [];
  for (const activity of crewDay.activities) {
    const orderId = orderOf(activity);
    const row = rows.at(-1);
    if (row && orderId !== undefined && orderOf(row[0]!) === orderId) row.push(activity);
    else rows.push([activity]);
  }
  return rows;
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

function inWords(
  index: PlanIndex,
  activity: Exclude<Activity, Work>,
  isLast: boolean,
): Pick<TimelineRow, "words" | "details"> {
  switch (activity.kind) {
    case "drive":
      return {
        words: `${isLast ? "Return" : "Drive"} to ${index.placeWords(activity.to)}`,
        details: [`${kilometres(activity.distanceKm)} km`],
      };
    case "setup":
      return { words: "Set up", details: [] };
    case "packup":
      return { words: "Pack up", details: [] };
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
  }
}

function workInWords(
  index: PlanIndex,
  works: readonly Work[],
  firstNumber: number,
): Pick<TimelineRow, "words" | "details"> {
  const blocks = works.map((work) => index.block(work.blockId));
  const order = index.order(blocks[0]!.orderId);
  const method = methodOf(index.productsOf(order));
  const loads = sumOf(works, ({ detail }) => detail.loads);
  const loadSize = Math.max(...works.map(({ detail }) => detail.loadSize));
  const batteryChanges = sumOf(works, ({ detail }) => detail.batteryChanges);
  const field = index.field(order.fieldId).properties.name;
  return {
    words: `${stopsWords(firstNumber, works.length)}: ${methodVerb[method].toLowerCase()} ${field}${partWords(blocks)}, order ${order.id}`,
    details: [
      `${hectares(sumOf(blocks, (block) => block.areaHa))} ha`,
      `${counted(loads, "load", "loads")} of ${loads === 1 ? "" : "up to "}${readable(loadSize)} ${amountUnit[method]}`,
      ...(batteryChanges > 0 ? [counted(batteryChanges, "battery change", "battery changes")] : []),
    ],
  };
}
