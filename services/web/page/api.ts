import type { OperationSummary } from "../../../shared/contracts/operations.ts";
import type { PlanProgress, PlanRequest } from "../../../shared/contracts/planRequests.ts";
import type { CrewSheet } from "../../../shared/plan/crewSheet.ts";
import type { WeekView } from "../../../shared/plan/weekView.ts";

/** What the server refused, in its own words. */
export class Refusal extends Error {}

/** Nobody answered. */
export class NoAnswer extends Error {}

const patienceMs = 20_000;

async function ask<Answer>(path: string, init: RequestInit): Promise<Answer> {
  const response = await fetch(path, { ...init, signal: AbortSignal.timeout(patienceMs) }).catch(() => {
    throw new NoAnswer();
  });
  const body: unknown = await response.json().catch(() => null);
  if (!response.ok) throw new Refusal(refusalWords(response, body));
  return body as Answer;
}

function refusalWords(response: Response, body: unknown): string {
  const problem = (body ?? {}) as { title?: string; detail?: string };
  return [problem.title ?? `The server answered ${response.status}`, problem.detail].filter(Boolean).join(": ");
}

const get = <Answer>(path: string) => ask<Answer>(path, { headers: { accept: "application/json" } });
const part = encodeURIComponent;

export async function fetchOperations(): Promise<readonly OperationSummary[]> {
  return (await get<{ operations: OperationSummary[] }>("/api/operations")).operations;
}

export async function fetchPlanRequests(operationId: string): Promise<readonly PlanRequest[]> {
  return (await get<{ planRequests: PlanRequest[] }>(`/api/operations/${part(operationId)}/plans`)).planRequests;
}

export function fetchPlanRequest(requestId: string): Promise<PlanRequest> {
  return get(`/api/plan-requests/${part(requestId)}`);
}

export function fetchWeek(planId: string): Promise<WeekView> {
  return get(`/api/plans/${part(planId)}/week`);
}

export function fetchSheet(planId: string, crewId: string, date: string): Promise<CrewSheet> {
  return get(`/api/plans/${part(planId)}/crews/${part(crewId)}/days/${part(date)}`);
}

export function requestPlan(operationId: string, seconds: number, seed: number): Promise<PlanRequest> {
  return ask(`/api/operations/${part(operationId)}/plans`, {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify({ seconds, seed }),
  });
}

export function cancelPlan(requestId: string): Promise<unknown> {
  return ask(`/api/plan-requests/${part(requestId)}/cancel`, { method: "POST" });
}

/** Follow a request until the server says that it has ended; resolves with how it ended. */
export function followPlan(
  requestId: string,
  onProgress: (progress: PlanProgress) => void,
  onSilence: () => void,
): Promise<PlanRequest> {
  return new Promise((resolve, reject) => {
    const events = new EventSource(`/api/plan-requests/${part(requestId)}/events`);
    events.addEventListener("progress", (event) => onProgress(JSON.parse(event.data) as PlanProgress));
    const end = () => {
      events.close();
      fetchPlanRequest(requestId).then(resolve, reject);
    };
    events.addEventListener("done", end);
    // The browser reconnects by itself after a lost connection; only a closed stream is the end of it.
    events.addEventListener("error", () => {
      if (events.readyState === EventSource.CLOSED) end();
      else onSilence();
    });
  });
}
