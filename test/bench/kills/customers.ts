import { randomUUID } from "node:crypto";

/** What the API has promised. */
export interface Acknowledged {
  readonly kind: "plan" | "study" | "report";
  readonly key: string;
  readonly id: string;
}

export interface Told {
  readonly acknowledged: Acknowledged[];
  /** How often which answer came: a status, or what became of the connection. */
  readonly answers: Map<string, number>;
  /** What must never come. */
  readonly faults: string[];
}

/** Our choice: whoever waits longer for an answer takes the line for dead. */
const hangsAfterMs = 15_000;
const againAfterMs = 300;

export const createTold = (): Told => ({ acknowledged: [], answers: new Map(), faults: [] });

/**
 * Sends one call until it is acknowledged, each time under the same key, as a caller must who has heard nothing. Some of what was acknowledged is sent once more, as by a caller whom the answer
 * did not reach: it has to come to the same thing.
 */
export async function insist(
  told: Told,
  kind: Acknowledged["kind"],
  url: string,
  body: object,
  headers: Readonly<Record<string, string>>,
  sendsAgain: boolean,
): Promise<Acknowledged> {
  const key = randomUUID();
  const send = async () => {
    const sent = { ...headers, "content-type": "application/json", "idempotency-key": key };
    const answer = await answerTo<{ id: string }>(told, url, {
      method: "POST",
      headers: sent,
      body: JSON.stringify(body),
    });
    return answer.id;
  };
  const acknowledged = { kind, key, id: await send() };
  told.acknowledged.push(acknowledged);
  if (sendsAgain) {
    const id = await send();
    if (id !== acknowledged.id) told.faults.push(`${kind} ${key} was made twice: ${acknowledged.id} and ${id}`);
  }
  return acknowledged;
}

/** A phone with a report of its own in the outbox, sent until it is told that it is kept. */
export async function report(
  told: Told,
  url: string,
  blockId: string,
  headers: Readonly<Record<string, string>>,
  sendsAgain: boolean,
): Promise<void> {
  const id = randomUUID();
  const loadDone = { kind: "loadDone", id, publication: 1, blockId, at: new Date().toISOString() };
  const body = JSON.stringify({ reports: [loadDone] });
  const init = { method: "POST", headers: { ...headers, "content-type": "application/json" }, body };
  for (const _ of sendsAgain ? [1, 2] : [1]) {
    const { reports } = await answerTo<{ reports: { outcome: string }[] }>(told, url, init);
    if (reports[0]?.outcome === "refused") told.faults.push(`a report was refused: ${JSON.stringify(reports[0])}`);
  }
  told.acknowledged.push({ kind: "report", key: id, id });
}

async function answerTo<Body>(told: Told, url: string, init: RequestInit): Promise<Body> {
  for (;;) {
    const beganMs = performance.now();
    try {
      const response = await fetch(url, { ...init, signal: AbortSignal.timeout(hangsAfterMs) });
      const text = await response.text();
      count(told, String(response.status));
      if (response.ok) return JSON.parse(text) as Body;
      if (response.status !== 503) told.faults.push(`${response.status} ${text}`);
      else if (response.headers.get("retry-after") === null) told.faults.push("503 without Retry-After");
    } catch (error) {
      const tookMs = performance.now() - beganMs;
      if (tookMs > hangsAfterMs - 500) told.faults.push(`no answer within ${hangsAfterMs} ms`);
      count(told, "no connection");
      if (!(error instanceof Error)) throw error;
    }
    await new Promise((resolve) => setTimeout(resolve, againAfterMs));
  }
}

function count({ answers }: Told, answer: string): void {
  answers.set(answer, (answers.get(answer) ?? 0) + 1);
}
