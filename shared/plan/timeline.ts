import { type LocalTime, localTimeOf } from "./localTime.ts";
import { type Measures, metricMeasures } from "./measures.ts";
import { awayAt } from "./nights.ts";
import { aircraftWords } from "./outfitWords.ts";
import type { PauseView } from "./pauseView.ts";
import type { Activity, CrewDay } from "./plan.ts";
import type { PlanIndex } from "./planIndex.ts";
import { partWords, stopsWords } from "./runs.ts";
import { methodOf } from "./siteLimits.ts";
import { stretchesOf, sumOf, type Work, workedMin } from "./totals.ts";
import { amountUnit, counted, methodVerb } from "./words.ts";

export interface TimelineRow {
  readonly start: LocalTime;
  readonly end: LocalTime;
  readonly minutes: number;
  /** `goOn` is the work of the row before its pause. */
  readonly kind: Activity["kind"] | "pause" | "goOn";
  readonly words: string;
  /** What comes with it: distance, loads, litres. */
  readonly details: readonly string[];
  /** Water left on the tender when the row ends, L. */
  readonly tenderL: number;
}

/** A row for each activity; parts of one order that are worked one after the other by the same aircraft are one row, cut where a work pauses. */
export function timelineOf(
  index: PlanIndex,
  crewDay: CrewDay,
  pausesOfWork: (work: Work) => readonly PauseView[],
  measures = metricMeasures,
): TimelineRow[] {
  let tenderL = index.tender(crewDay.outfit.tenderId).waterL;
  let stopsBefore = 0;
  const rows = rowsOf(index, crewDay);
  return rows.flatMap((row, position) => {
    const fullL = tenderL;
    const works = row.filter((activity) => activity.kind === "work");
    const pieces =
      works.length > 0
        ? workPieces(index, works, stopsBefore + 1, pausesOfWork, measures)
        : [pieceOf(index, row[0]!, position === rows.length - 1 ? lastWord(index, crewDay) : "Drive", measures)];
    stopsBefore += works.length;
    return pieces.map(({ startMin, endMin, ...piece }): TimelineRow => {
      tenderL = fullL + sumOf(row, (activity) => waterChangeL(index, activity) * doneShare(activity, endMin));
      return {
        start: localTimeOf(index.calendar, startMin),
        end: localTimeOf(index.calendar, endMin),
        minutes: endMin - startMin,
        ...piece,
        tenderL,
      };
    });
  });
}

type Piece = Pick<TimelineRow, "kind" | "words" | "details"> & { readonly startMin: number; readonly endMin: number };

function lastWord(index: PlanIndex, crewDay: CrewDay): string {
  return awayAt(index.crew(crewDay.crewId), crewDay) === null ? "Return" : "For the night";
}

function pieceOf(index: PlanIndex, activity: Activity, driveWord: string, measures: Measures): Piece {
  const { endMin, kind, startMin } = activity;
  return { kind, startMin, endMin, ...inWords(index, activity as Exclude<Activity, Work>, driveWord, measures) };
}

function workPieces(
  index: PlanIndex,
  works: readonly Work[],
  firstNumber: number,
  pausesOfWork: (work: Work) => readonly PauseView[],
  measures: Measures,
): Piece[] {
  const pauses = works.flatMap((work, at) => pausesOfWork(work).map((pause) => ({ pause, at })));
  const lastMin = works.at(-1)!.endMin;
  const untilMin = (pauseAt: number) => pauses[pauseAt]?.pause.start.min ?? lastMin;
  return [
    {
      kind: "work",
      startMin: works[0]!.startMin,
      endMin: untilMin(0),
      ...workInWords(index, works, firstNumber, measures),
    },
    ...pauses.flatMap(({ at, pause: { because, end, start } }, pauseAt): Piece[] => [
      { kind: "pause", startMin: start.min, endMin: end.min, words: "Pause", details: because },
      {
        kind: "goOn",
        startMin: end.min,
        endMin: untilMin(pauseAt + 1),
        words: `Go on with ${stopsWords(firstNumber + at, works.length - at).toLowerCase()}`,
        details: [],
      },
    ]),
  ];
}

/** How much of an activity is done by a minute. Our choice: of a work that pauses as much as of the minutes worked. */
function doneShare(activity: Activity, min: number): number {
  if (activity.kind !== "work" || activity.endMin <= min) return 1;
  const doneMin = sumOf(stretchesOf(activity), ({ startMin, endMin }) => Math.max(0, Math.min(endMin, min) - startMin));
  return doneMin / workedMin(activity);
}

function rowsOf(index: PlanIndex, crewDay: CrewDay): Activity[][] {
  const orderOf = (activity: Activity) =>
    activity.kind === "work"
      ? [index.block(activity.blockId).orderId, ...(activity.aircraftIds ?? [])].join(" ")
      : undefined;
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
  driveWord: string,
  measures: Measures,
): Pick<TimelineRow, "words" | "details"> {
  switch (activity.kind) {
    case "drive":
      return {
        words: `${driveWord} to ${index.placeWords(activity.to)}`,
        details: [measures.road(activity.distanceKm)],
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
        details: [`${measures.bulk(activity.waterL, "L")} water`],
      };
    case "methodChange":
      return { words: `Change to ${activity.to === "liquid" ? "spraying" : "spreading"}`, details: [] };
    case "cleanOut":
      return {
        words: `Clean out: ${activity.fromGroup} before ${activity.toGroup}`,
        details: [`${measures.bulk(activity.waterL, "L")} water`],
      };
  }
}

function workInWords(
  index: PlanIndex,
  works: readonly Work[],
  firstNumber: number,
  measures: Measures,
): Pick<TimelineRow, "words" | "details"> {
  const blocks = works.map((work) => index.block(work.blockId));
  const order = index.order(blocks[0]!.orderId);
  const method = methodOf(index.productsOf(order));
  const loads = sumOf(works, ({ detail }) => detail.loads);
  const loadSize = Math.max(...works.map(({ detail }) => detail.loadSize));
  const batteryChanges = sumOf(works, ({ detail }) => detail.batteryChanges);
  const field = index.field(order.fieldId).properties.name;
  const aircraft = aircraftWords(index, works[0]!);
  return {
    words: `${stopsWords(firstNumber, works.length)}: ${methodVerb[method].toLowerCase()} ${field}${partWords(blocks)}, order ${order.id}`,
    details: [
      measures.area(sumOf(blocks, (block) => block.areaHa)),
      `${counted(loads, "load", "loads")} of ${loads === 1 ? "" : "up to "}${measures.bulk(loadSize, amountUnit[method])}`,
      ...(aircraft === "" ? [] : [aircraft]),
      ...(batteryChanges > 0 ? [counted(batteryChanges, "battery change", "battery changes")] : []),
    ],
  };
}
