import type { PlanProgress } from "../../../../../shared/contracts/fieldwork.ts";
import type { CrewView, WeekView } from "../../../../../shared/plan/weekView.ts";

type StopStand = PlanProgress["stops"][number];

export interface CrewDayProgress {
  readonly crewId: string;
  readonly crewName: string;
  readonly date: string;
  readonly stops: number;
  readonly finished: number;
  readonly areaHa: number;
  readonly doneHa: number;
  readonly standing: Standing;
}

/** How a crew-day stands beside its plan. Minutes are behind it where positive, ahead where negative. */
export type Standing =
  | { readonly kind: "toCome" }
  /** A stop should have begun, and nobody has said that it did. */
  | { readonly kind: "silent"; readonly fieldName: string; readonly behindMin: number }
  | { readonly kind: "running"; readonly fieldName: string; readonly behindMin: number }
  | { readonly kind: "between"; readonly behindMin: number }
  | { readonly kind: "stopped"; readonly fieldName: string; readonly reason: StopStand["reason"] }
  | { readonly kind: "finished"; readonly behindMin: number };

/** Crew-days of the published plan that are of today, have been reported on, or should have been; by date and crew. */
export function crewDayProgress(
  { crews }: Pick<WeekView, "crews">,
  { stops }: Pick<PlanProgress, "stops">,
  nowMs: number,
  today: string,
): CrewDayProgress[] {
  const standOf = new Map(stops.map((stop) => [stop.blockId as string, stop]));
  return crews
    .flatMap((crew) => crew.days.flatMap((day) => rowOf(crew, day, standOf, nowMs, today)))
    .sort((a, b) => a.date.localeCompare(b.date) || a.crewName.localeCompare(b.crewName));
}

function rowOf(
  crew: CrewView,
  { crewDay, date }: CrewView["days"][number],
  standOf: ReadonlyMap<string, StopStand>,
  nowMs: number,
  today: string,
): CrewDayProgress[] {
  const planned = crewDay?.stops ?? [];
  if (planned.length === 0) return [];
  const stands = planned.map((stop) => ({ stop, stand: standOf.get(stop.blockId) }));
  const isTold = stands.some(({ stand }) => stand !== undefined && stand.state !== "notBegun");
  if (!isTold && date !== today) return [];
  const doneHa = stands.reduce((sum, { stand }) => sum + (stand?.doneHa ?? 0), 0);
  return [
    {
      crewId: crew.id,
      crewName: crew.name,
      date,
      stops: planned.length,
      finished: stands.filter(({ stand }) => stand?.state === "finished").length,
      areaHa: planned.reduce((sum, { areaHa }) => sum + areaHa, 0),
      doneHa,
      standing: standingOf(stands, nowMs),
    },
  ];
}

type PlannedStop = NonNullable<CrewView["days"][number]["crewDay"]>["stops"][number];
interface Stand {
  readonly stop: PlannedStop;
  readonly stand: StopStand | undefined;
}

function standingOf(stands: readonly Stand[], nowMs: number): Standing {
  const stopped = stands.findLast(({ stand }) => stand?.state === "stopped");
  const running = stands.findLast(({ stand }) => stand?.state === "running");
  if (running?.stand) {
    return {
      kind: "running",
      fieldName: running.stop.fieldName,
      behindMin: behind(running.stop.start.iso, running.stand.startedAt, nowMs),
    };
  }
  const finished = stands.filter(({ stand }) => stand?.state === "finished");
  const last = finished.at(-1);
  const waiting = stands.find(({ stand }) => stand === undefined || stand.state === "notBegun");
  // What was stopped and not gone on with is what the dispatcher has to see to first.
  if (stopped?.stand) return { kind: "stopped", fieldName: stopped.stop.fieldName, reason: stopped.stand.reason };
  if (waiting !== undefined) {
    const lateMin = (nowMs - Date.parse(waiting.stop.start.iso)) / 60_000;
    if (lateMin > 0) return { kind: "silent", fieldName: waiting.stop.fieldName, behindMin: Math.round(lateMin) };
    if (last?.stand) return { kind: "between", behindMin: behind(last.stop.end.iso, last.stand.endedAt, nowMs) };
    return { kind: "toCome" };
  }
  return { kind: "finished", behindMin: last?.stand ? behind(last.stop.end.iso, last.stand.endedAt, nowMs) : 0 };
}

function behind(plannedIso: string, reallyIso: string | null, nowMs: number): number {
  const reallyMs = reallyIso === null ? nowMs : Date.parse(reallyIso);
  return Math.round((reallyMs - Date.parse(plannedIso)) / 60_000);
}

/** Our choice: up to so many minutes are told as on time. */
export const onTimeMin = 10;

/** What needs a person's eye: stopped, silent, or far behind. */
export function needsEye({ standing }: CrewDayProgress): boolean {
  if (standing.kind === "stopped") return true;
  return "behindMin" in standing && standing.kind !== "finished" && standing.behindMin > 3 * onTimeMin;
}
