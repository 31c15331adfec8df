import type { Fault, Problem } from "../../../../shared/contracts/problem.ts";

/** What the server refused, in its own words. */
export class Refusal extends Error {
  readonly status: number;
  readonly faults: readonly Fault[];
  readonly breaches: readonly { readonly rule: string; readonly sentence: string }[];

  constructor(status: number, problem: Partial<Problem>) {
    super(refusalWords(status, problem));
    this.status = status;
    this.faults = problem.faults ?? [];
    this.breaches = problem.breaches ?? [];
  }
}

/** The server does not know who calls (any more). */
export class SignedOut extends Refusal {}

/** Nobody answered. */
export class NoAnswer extends Error {}

const usualPatienceMs = 20_000;

/** Of the session; without it the server takes nothing that changes something. */
let csrfToken: string | null = null;
export function knowCsrf(token: string | null): void {
  csrfToken = token;
}

export interface Answered<Body> {
  readonly body: Body;
  /** With its quotes, for If-Match; null where the answer has none. */
  readonly etag: string | null;
  /** The server's clock when it answered (RFC 9110, section 6.6.1), to the second; null where it does not tell. */
  readonly servedAtMs: number | null;
}

export interface Ask {
  readonly method?: "GET" | "POST" | "PUT" | "DELETE";
  readonly body?: unknown;
  /** What was read of the thing: a change of what somebody else has changed since is refused with 412. */
  readonly ifMatch?: string;
  /** The thing is new: one that is there already is not overwritten. */
  readonly ifNew?: boolean;
  /** The same call sent again under it counts once. */
  readonly idempotencyKey?: string;
  readonly signal?: AbortSignal;
  /** Of what takes the server longer than a reading. */
  readonly patienceMs?: number;
}

/** Throws Refusal, SignedOut or NoAnswer. */
export async function ask<Body>(path: string, asked: Ask = {}): Promise<Answered<Body>> {
  const { body, idempotencyKey, ifMatch, ifNew, method = "GET", patienceMs = usualPatienceMs, signal } = asked;
  const headers = new Headers({ accept: "application/json" });
  if (csrfToken !== null && method !== "GET") headers.set("x-csrf-token", csrfToken);
  if (body !== undefined) headers.set("content-type", "application/json");
  if (ifMatch !== undefined) headers.set("if-match", ifMatch);
  if (ifNew) headers.set("if-none-match", "*");
  if (idempotencyKey !== undefined) headers.set("idempotency-key", idempotencyKey);
  const patience = AbortSignal.timeout(patienceMs);
  const response = await fetch(path, {
    method,
    headers,
    ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    signal: signal ? AbortSignal.any([signal, patience]) : patience,
  }).catch((error: unknown) => {
    if (signal?.aborted) throw error;
    throw new NoAnswer();
  });
  const answer: unknown = response.status === 204 ? null : await response.json().catch(() => null);
  if (!response.ok) {
    throw new (response.status === 401 ? SignedOut : Refusal)(response.status, (answer ?? {}) as Partial<Problem>);
  }
  const date = response.headers.get("date");
  const servedAtMs = date === null ? null : Date.parse(date);
  return { body: answer as Body, etag: response.headers.get("etag"), servedAtMs };
}

export const get = async <Body>(path: string, signal?: AbortSignal): Promise<Body> =>
  (await ask<Body>(path, signal ? { signal } : {})).body;
/** Something that is started, once however often it is sent. */
export const post = async <Body>(path: string, body: unknown = {}): Promise<Body> =>
  (await ask<Body>(path, { method: "POST", body, idempotencyKey: crypto.randomUUID() })).body;
export const remove = async (path: string): Promise<void> => void (await ask(path, { method: "DELETE" }));

/** A path of parts that are no words of ours. */
export const pathOf = (parts: TemplateStringsArray, ...values: readonly string[]): string =>
  String.raw({ raw: parts }, ...values.map(encodeURIComponent));

function refusalWords(status: number, { detail, faults = [], title }: Partial<Problem>): string {
  const first = faults[0];
  // Of something that stands in the body as a whole; what is judged on its own has a sentence of its own.
  const expected = detail === "Faulty body." && first ? `${first.path.join(".")}: expected ${first.expected}` : detail;
  return [title ?? `The server answered ${status}`, expected].filter(Boolean).join(": ");
}
