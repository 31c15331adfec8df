import type { OperationSummary } from "../../../shared/contracts/operations.ts";
import type { PlanProgress, PlanRequest } from "../../../shared/contracts/planRequests.ts";
import type { Problem } from "../../../shared/contracts/problem.ts";
import type { SessionFacts } from "../../../shared/contracts/session.ts";
import type { CrewSheet } from "../../../shared/plan/crewSheet.ts";
import type { WeekView } from "../../../shared/plan/weekView.ts";

/** What the server refused, in its own words. */
export class Refusal extends Error {}

/** The server does not know who calls (any more). */
export class SignedOut extends Refusal {}

/** Nobody answered. */
export class NoAnswer extends Error {}

const patienceMs = 20_000;

/** Of the session; without it the server takes nothing that changes something. */
let csrfToken: string | null = null;

async function ask<Answer>(path: string, init: RequestInit): Promise<Answer> {
  const headers = new Headers(init.headers);
  if (csrfToken !== null && init.method !== undefined) headers.set("x-csrf-token", csrfToken);
  const response = await fetch(path, { ...init, headers, signal: AbortSignal.timeout(patienceMs) }).catch(() => {
    throw new NoAnswer();
  });
  const body: unknown = await response.json().catch(() => null);
  if (!response.ok) throw new (response.status === 401 ? SignedOut : Refusal)(refusalWords(response, body));
  return body as Answer;
}

function refusalWords(response: Response, body: unknown): string {
  const { title, detail, faults = [] } = (body ?? {}) as Partial<Problem>;
  const first = faults[0];
  // Of something that stands in the body as a whole; what is judged on its own has a sentence of its own.
  const expected = detail === "Faulty body." && first ? `${first.path.join(".")}: expected ${first.expected}` : detail;
  return [title ?? `The server answered ${response.status}`, expected].filter(Boolean).join(": ");
}

const get = <Answer>(path: string) => ask<Answer>(path, { headers: { accept: "application/json" } });
const part = encodeURIComponent;
const post = <Answer>(path: string, body: unknown) =>
  ask<Answer>(path, {
    method: "POST",
    headers: { "content-type": "application/json" },
    body: JSON.stringify(body),
  });

async function begun(session: Promise<SessionFacts>): Promise<SessionFacts> {
  const facts = await session;
  csrfToken = facts.csrfToken;
  return facts;
}

/** Null: nobody has signed in. */
export function fetchSession(): Promise<SessionFacts | null> {
  return begun(get<SessionFacts>("/api/session")).catch((error) => {
    if (error instanceof SignedOut) return null;
    throw error;
  });
}

export const signIn = (name: string, password: string) => begun(post("/api/session", { name, password }));
export const makeFirstPerson = (link: string, name: string, shownName: string, password: string) =>
  begun(post("/api/first-start", { link, name, shownName, password }));
export const setPassword = (link: string, password: string) =>
  begun(post("/api/password-links/use", { link, password }));
export const changePassword = (current: string, password: string) =>
  begun(post("/api/session/password", { current, password }));
export const openCrewLink = (link: string) => begun(post("/api/crew-links/open", { link }));
export const signOut = () => ask("/api/session", { method: "DELETE" });

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
  return post(`/api/operations/${part(operationId)}/plans`, { seconds, seed });
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
