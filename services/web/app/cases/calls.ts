import type { CaseSetSummary, CaseSetVersion } from "../../../../shared/contracts/caseSets.ts";
import type { OperationVersion } from "../../../../shared/contracts/operations.ts";
import type { ListedPlan } from "../../../../shared/contracts/plans.ts";
import type { Study, StudyKind, StudySummary } from "../../../../shared/contracts/studies.ts";
import { ask, get, pathOf, post } from "../api/call.ts";

interface Page {
  readonly next: string | null;
}

/** All entries of a list that comes in stretches. */
async function allOf<Entry>(path: string, member: string, signal: AbortSignal): Promise<Entry[]> {
  const entries: Entry[] = [];
  for (let cursor: string | null = ""; cursor !== null; ) {
    const asked: string = cursor === "" ? path : `${path}?cursor=${encodeURIComponent(cursor)}`;
    const page: Page & Record<string, unknown> = await get(asked, signal);
    entries.push(...(page[member] as Entry[]));
    cursor = page.next;
  }
  return entries;
}

export const fetchCaseSets = (operationId: string, signal: AbortSignal) =>
  allOf<CaseSetSummary>(pathOf`/api/operations/${operationId}/case-sets`, "caseSets", signal);

export const fetchCaseSet = (id: string, version: string | null, signal?: AbortSignal) =>
  get<CaseSetVersion>(
    version === null ? pathOf`/api/case-sets/${id}` : pathOf`/api/case-sets/${id}/versions/${version}`,
    signal,
  );

export const saveCaseSet = async (operationId: string, document: unknown) =>
  (await post<{ caseSet: CaseSetSummary }>(pathOf`/api/operations/${operationId}/case-sets`, document)).caseSet;

export const fetchOperation = (id: string, version: number | null, signal?: AbortSignal) =>
  get<OperationVersion>(
    version === null ? pathOf`/api/operations/${id}` : pathOf`/api/operations/${id}/versions/${String(version)}`,
    signal,
  );

export interface StudyPage extends Page {
  readonly studies: readonly StudySummary[];
}
export function fetchStudies(operationId: string, cursor: string | null, signal?: AbortSignal): Promise<StudyPage> {
  const path = pathOf`/api/operations/${operationId}/studies`;
  return get(cursor === null ? path : `${path}?cursor=${encodeURIComponent(cursor)}`, signal);
}

export const fetchStudy = (id: string, signal?: AbortSignal) => get<Study>(pathOf`/api/studies/${id}`, signal);
export const cancelStudy = (id: string) => ask<Study>(pathOf`/api/studies/${id}/cancel`, { method: "POST" });

export interface CasesAsked {
  readonly iterations?: number;
  readonly seeds?: number;
  readonly weeks?: number;
}
export const beginCases = (caseSetId: string, asked: CasesAsked) =>
  post<Study>(pathOf`/api/case-sets/${caseSetId}/studies`, asked);
export const beginBottlenecks = (planId: string, tried: number) =>
  post<Study>(pathOf`/api/plans/${planId}/bottlenecks`, { tried });

export async function fetchPlans(operationId: string, signal?: AbortSignal): Promise<readonly ListedPlan[]> {
  return (await get<{ plans: ListedPlan[] }>(pathOf`/api/plans?operationId=${operationId}`, signal)).plans;
}

/** What people find first. */
export const shownKinds: readonly StudyKind[] = ["cases", "bottlenecks"];
