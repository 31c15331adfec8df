import { standing } from "../../../../shared/done/standing.ts";
import { comeTo, readReport, walkFromStart } from "../../../../shared/done/stopWalk.ts";
import type { KeptReport, StopReason, WorkReport } from "../../../../shared/done/workReport.ts";
import type { SheetStop } from "../../../../shared/plan/crewSheet.ts";
import type { StopProgress } from "../../../../shared/plan/stopProgress.ts";
import type { Entry } from "../offline/outbox.ts";

/** A report of the day as the phone knows it: the server has it, or it waits here. */
export interface DayReport {
  readonly report: WorkReport;
  readonly ground: string | null;
  /** stored: the server has it. */
  readonly state: "stored" | "waiting" | "refused";
  readonly why: string | null;
  /** Of this phone's outbox; null: it is from another phone. */
  readonly entry: Entry | null;
}

export interface StopStand {
  readonly state: StopProgress["state"];
  readonly arrivedAt: string | null;
  readonly startedAt: string | null;
  readonly endedAt: string | null;
  readonly loads: number;
  readonly loadsDone: number;
  readonly doneHa: number;
  readonly reason: StopReason | null;
  /** When something was last reported of its work; null: nothing. */
  readonly lastAt: string | null;
}

/** What the server has and what waits here, each report once. */
export function dayReports(stored: readonly KeptReport[], entries: readonly Entry[]): DayReport[] {
  const ofPhone = new Map(entries.map((entry) => [entry.id, entry]));
  const known = new Set(stored.map(({ report }) => report.id));
  return [
    ...stored.map(
      ({ ground, report }): DayReport => ({
        report,
        ground,
        state: "stored",
        why: null,
        entry: ofPhone.get(report.id) ?? null,
      }),
    ),
    ...entries.flatMap((entry): DayReport[] => {
      if (known.has(entry.id) || entry.state === "putAway") return [];
      const { ground, report, why } = entry;
      return [{ report, ground, state: entry.state === "sent" ? "stored" : entry.state, why, entry }];
    }),
  ].sort((a, b) => Date.parse(a.report.at) - Date.parse(b.report.at) || (a.report.id < b.report.id ? -1 : 1));
}

export const loadsOf = ({ mix }: Pick<SheetStop, "mix">): number => mix.full.loads + (mix.last?.loads ?? 0);

/** How a day's reports read by the same rules as the server's (shared/done): refused ones count for nothing, withdrawn ones neither. */
export function standsOf(
  stops: readonly Pick<SheetStop, "blockId" | "areaHa" | "mix">[],
  reports: readonly DayReport[],
  groundOfBlock: ReadonlyMap<string, string>,
): ReadonlyMap<string, StopStand> {
  const held = heldReports(reports);
  return new Map(
    stops.map((stop) => {
      const { areaHa, blockId } = stop;
      const ground = groundOfBlock.get(blockId) ?? null;
      const own = held.filter(
        (one) =>
          one.report.kind !== "correction" &&
          one.report.blockId === blockId &&
          // Another plan may have used the block's id for other ground.
          (ground === null || one.ground === null || one.ground === ground),
      );
      const walk = walkFromStart();
      for (const one of own) readReport(walk, one, areaHa, () => undefined);
      const loads = loadsOf(stop);
      const { doneHa, loadsDone } = comeTo(walk, areaHa, loads);
      const { arrivedAt, endedAt, reason, startedAt, state } = walk;
      const lastAt = own.filter(({ report }) => report.kind !== "conditions").at(-1)?.report.at ?? null;
      return [blockId, { state, arrivedAt, startedAt, endedAt, loads, loadsDone, doneHa, reason, lastAt }];
    }),
  );
}

/** Those that hold, in the order of their times. */
function heldReports(reports: readonly DayReport[]): readonly KeptReport[] {
  return standing(
    reports
      .filter(({ state }) => state !== "refused")
      .map(
        ({ ground, report }) =>
          ({
            report,
            ground,
            planId: "",
            crewId: "",
            date: "",
            receivedAt: report.at,
            byName: "",
          }) as unknown as KeptReport,
      ),
  ).reports;
}

/** Ids of reports that were taken back. */
export function takenBack(reports: readonly DayReport[]): ReadonlySet<string> {
  const held = new Set(heldReports(reports).map(({ report }) => report.id));
  return new Set(
    reports
      .filter(({ report, state }) => state !== "refused" && report.kind !== "correction" && !held.has(report.id))
      .map(({ report }) => report.id),
  );
}

/** The stop that the crew is at: where something was last reported and it is not finished, else the next one that has not begun; null when all are finished. */
export function presentStop(
  stops: readonly Pick<SheetStop, "blockId">[],
  stands: ReadonlyMap<string, StopStand>,
): string | null {
  const left = stops.filter(({ blockId }) => stands.get(blockId)?.state !== "finished");
  const touched = left
    .filter(({ blockId }) => stands.get(blockId)?.lastAt != null)
    .sort((a, b) => Date.parse(stands.get(b.blockId)!.lastAt!) - Date.parse(stands.get(a.blockId)!.lastAt!));
  return touched[0]?.blockId ?? left[0]?.blockId ?? null;
}

/** What was last reported of a stop and holds; null: nothing. */
export function lastOf(reports: readonly DayReport[], blockId: string): DayReport | null {
  const back = takenBack(reports);
  const own = reports.filter(
    ({ report, state }) =>
      state !== "refused" && report.kind !== "correction" && report.blockId === blockId && !back.has(report.id),
  );
  return own.at(-1) ?? null;
}
