import type { StopProgress } from "../plan/stopProgress.ts";
import { hectares } from "../plan/words.ts";
import type { RemarkKind } from "./remark.ts";
import type { KeptReport, StopReason } from "./workReport.ts";

/** How far a block has come by the reports read so far. */
export interface Walk {
  state: StopProgress["state"];
  arrivedAt: string | null;
  startedAt: string | null;
  endedAt: string | null;
  /** As last reported. */
  reportedHa: number;
  loadsDone: number;
  /** Of the loads, those that were done when hectares were last reported. */
  loadsAtReport: number;
  reason: StopReason | null;
}

export const walkFromStart = (): Walk => ({
  state: "notBegun",
  arrivedAt: null,
  startedAt: null,
  endedAt: null,
  reportedHa: 0,
  loadsDone: 0,
  loadsAtReport: 0,
  reason: null,
});

/** Rounding of hectares that are typed. */
const loadSlack = 0.01;

/** What the reports come to: hectares reported without their loads count as the whole loads that they take, and loads after them go on from there. */
export function comeTo(
  { loadsAtReport, loadsDone, reportedHa, state }: Walk,
  areaHa: number,
  loads: number,
): { readonly loadsDone: number; readonly doneHa: number } {
  const inReported = Math.floor((Math.min(reportedHa, areaHa) * loads) / areaHa + loadSlack);
  const come = Math.max(loadsAtReport, inReported) + loadsDone - loadsAtReport;
  const byLoadsHa = (areaHa * Math.min(come, loads)) / loads;
  const doneHa = state === "running" ? Math.max(reportedHa, byLoadsHa) : reportedHa;
  return { loadsDone: come, doneHa: Math.min(doneHa, areaHa) };
}

/** Measured ground differs a little from the map's. Our choice. */
const areaTolerance = 0.02;
type Tell = (kind: RemarkKind, sentence: string) => void;

/** Reads the next report of a block. What contradicts the ones before is told, and read as what most likely happened. */
export function readReport(walk: Walk, { report, crewId }: KeptReport, areaHa: number, tell: Tell): void {
  const { kind, at } = report;
  if (kind === "correction" || kind === "conditions") return;
  const block = report.blockId;
  if (kind === "arrived") {
    walk.arrivedAt ??= at;
    return;
  }
  if (walk.state === "finished" && kind !== "finished") {
    tell("afterFinished", `Crew ${crewId} reports ${kindWords[kind]} of ${block} after it was finished.`);
    return;
  }
  if (walk.state === "notBegun" && kind !== "started") {
    tell("notStarted", `Crew ${crewId} reports ${kindWords[kind]} of ${block}, and no start before it.`);
  }
  switch (kind) {
    case "started":
      if (walk.state !== "notBegun") {
        tell("startedTwice", `Crew ${crewId} reports a start of ${block}, which had begun already.`);
      }
      begin(walk, at);
      break;
    case "loadDone":
      walk.loadsDone += 1;
      begin(walk, at);
      break;
    case "goesOn":
      if (walk.state === "running") {
        tell("notStopped", `Crew ${crewId} goes on with ${block}, and has not told that it had stopped.`);
      }
      begin(walk, at);
      break;
    case "stopped":
    case "finished":
      if (walk.state === "finished") {
        tell("finishedTwice", `Crew ${crewId} reports ${block} as finished once more; the last report counts.`);
      }
      compareHa(walk, report.doneHa, areaHa, kind === "finished", block, tell);
      walk.state = kind;
      walk.endedAt = at;
      walk.reportedHa = report.doneHa;
      walk.loadsAtReport = walk.loadsDone;
      walk.reason = kind === "stopped" ? report.reason : null;
      break;
  }
}

const kindWords = {
  started: "a start",
  loadDone: "a load",
  goesOn: "going on",
  stopped: "a stop",
  finished: "the end",
} as const;

function begin(walk: Walk, at: string): void {
  walk.state = "running";
  walk.startedAt ??= at;
  walk.endedAt = null;
  walk.reason = null;
}

function compareHa(walk: Walk, doneHa: number, areaHa: number, isEnd: boolean, block: string, tell: Tell): void {
  const told = `${hectares(doneHa)} ha of ${block}`;
  if (doneHa > areaHa * (1 + areaTolerance)) {
    tell("moreThanBlock", `${told} are reported as done, which has ${hectares(areaHa)} ha.`);
  } else if (isEnd && doneHa < areaHa * (1 - areaTolerance)) {
    tell("lessThanBlock", `${block} is reported as finished with ${hectares(doneHa)} of its ${hectares(areaHa)} ha.`);
  }
  if (doneHa < walk.reportedHa && walk.state !== "finished") {
    tell("fewerThanBefore", `${told} are reported as done, and ${hectares(walk.reportedHa)} ha had been before.`);
  }
}
