import type { CrewKey } from "../../../../shared/contracts/access.ts";
import type { CrewDayList, Publication } from "../../../../shared/contracts/plans.ts";
import type { KeptReport } from "../../../../shared/done/workReport.ts";
import type { CrewSheet } from "../../../../shared/plan/crewSheet.ts";
import type { DayMap } from "../../../../shared/plan/dayMap.ts";
import { type Answered, ask, pathOf } from "../api/call.ts";

export type Told = Pick<Publication, "number" | "note" | "byName" | "createdAt">;
export interface PublishedSheet {
  readonly publication: Told;
  readonly sheet: CrewSheet;
}
export interface PublishedMap {
  readonly publication: Told;
  readonly map: DayMap;
}

const daysPath = ({ crewId, operationId }: CrewKey) => pathOf`/api/operations/${operationId}/crews/${crewId}/days`;
const dayPath = (crew: CrewKey, date: string) => `${daysPath(crew)}/${encodeURIComponent(date)}`;

export const askDays = (crew: CrewKey, signal: AbortSignal) => ask<CrewDayList>(daysPath(crew), { signal });
export const askSheet = (crew: CrewKey, date: string, signal: AbortSignal) =>
  ask<PublishedSheet>(dayPath(crew, date), { signal });
export const askMap = (crew: CrewKey, date: string, signal: AbortSignal) =>
  ask<PublishedMap>(`${dayPath(crew, date)}/map`, { signal });

/** All reports of the day, page by page. */
export async function askReports(
  crew: CrewKey,
  date: string,
  signal: AbortSignal,
): Promise<Answered<readonly KeptReport[]>> {
  const reports: KeptReport[] = [];
  let cursor: string | null = null;
  for (;;) {
    const query: string = cursor === null ? "" : `&cursor=${encodeURIComponent(cursor)}`;
    const { body, servedAtMs } = await ask<{ reports: KeptReport[]; next: string | null }>(
      `${dayPath(crew, date)}/reports?limit=200${query}`,
      { signal },
    );
    reports.push(...body.reports);
    cursor = body.next;
    if (cursor === null) return { body: reports, etag: null, servedAtMs };
  }
}
