import { useSyncExternalStore } from "react";
import type { ReportOutcome } from "../../../../shared/contracts/fieldwork.ts";
import type { SessionFacts } from "../../../../shared/contracts/session.ts";
import { ask, NoAnswer, pathOf, Refusal, SignedOut } from "../api/call.ts";
import { fetchSession } from "../api/session.ts";
import { tellSignedOut } from "../session/signedOut.ts";
import { type Entry, entriesIn, throwAwayOld } from "./outbox.ts";
import { phoneStore } from "./phoneStore.ts";
import { type SendReports, sendWaiting } from "./sendWaiting.ts";

/** Why nothing goes out; null: nothing stands in the way. */
export type Hindrance = "noNetwork" | "signedOut" | "notAllowed" | "serverTrouble" | "noStore" | null;

export interface Outbox {
  readonly entries: readonly Entry[];
  readonly hindrance: Hindrance;
}

const firstPauseMs = 2_000;
const longestPauseMs = 60_000;
/** A tab that the phone has put to sleep may hold the lock for ever; sending twice costs nothing but an answer. */
const lockPatienceMs = 30_000;

let seen: Outbox = { entries: [], hindrance: null };
let session: SessionFacts | null = null;
let isSending = false;
let sendAgain = false;
let pauseMs = firstPauseMs;
let timer: ReturnType<typeof setTimeout> | undefined;
const hearers = new Set<() => void>();
const otherTabs = typeof BroadcastChannel === "undefined" ? null : new BroadcastChannel("calmhour-outbox");

function tell(change: Partial<Outbox>): void {
  seen = { ...seen, ...change };
  for (const hear of hearers) hear();
}

async function look(): Promise<void> {
  try {
    tell({ entries: await entriesIn(await phoneStore()) });
  } catch {
    tell({ hindrance: "noStore" });
  }
}

/** The reports of this phone as they stand, in the order in which they were made. */
export const useOutbox = (): Outbox =>
  useSyncExternalStore(
    (hear) => {
      hearers.add(hear);
      return () => hearers.delete(hear);
    },
    () => seen,
  );

/** After every change of the outbox, here or in another tab. */
export async function outboxChanged(): Promise<void> {
  otherTabs?.postMessage("changed");
  await look();
  pauseMs = firstPauseMs;
  void sendNow();
}

/** Who is signed in now; null: nobody. */
export function sendAs(present: SessionFacts | null): void {
  session = present;
  void look();
  void sendNow();
}

/** Sends what waits for as long as the page is open; the returned function ends it. */
export function keepSending(): () => void {
  const onOnline = () => {
    pauseMs = firstPauseMs;
    void sendNow();
  };
  const onVisible = () => {
    if (document.visibilityState === "visible") onOnline();
  };
  const onOtherTab = () => void look();
  window.addEventListener("online", onOnline);
  document.addEventListener("visibilitychange", onVisible);
  otherTabs?.addEventListener("message", onOtherTab);
  phoneStore()
    .then((store) => throwAwayOld(store, Date.now()))
    .then(look, () => tell({ hindrance: "noStore" }));
  return () => {
    window.removeEventListener("online", onOnline);
    document.removeEventListener("visibilitychange", onVisible);
    otherTabs?.removeEventListener("message", onOtherTab);
    clearTimeout(timer);
  };
}

async function sendNow(): Promise<void> {
  sendAgain = isSending;
  if (isSending || session === null) return;
  isSending = true;
  clearTimeout(timer);
  try {
    await alone(sendAll);
    pauseMs = firstPauseMs;
    tell({ hindrance: null });
  } catch (error) {
    tell({ hindrance: hindranceOf(error) });
    if (error instanceof SignedOut) tellSignedOut();
    else timer = setTimeout(() => void sendNow(), pauseMs);
    pauseMs = Math.min(pauseMs * 2, longestPauseMs);
  }
  isSending = false;
  if (sendAgain) void sendNow();
}

/** One tab at a time, so that reports go out in order (Web Locks API). */
async function alone(work: () => Promise<void>): Promise<void> {
  if (navigator.locks === undefined) return work();
  const name = "calmhour-outbox";
  const waited = AbortSignal.timeout(lockPatienceMs);
  try {
    await navigator.locks.request(name, { signal: waited }, work);
  } catch (error) {
    if (error !== waited.reason) throw error;
    await navigator.locks.request(name, { steal: true }, work);
  }
}

async function sendAll(): Promise<void> {
  const caller = session;
  if (caller === null) return;
  const store = await phoneStore();
  const mayReport = (crew: { operationId: string; crewId: string }) =>
    caller.crews.some(({ crewId, operationId }) => crewId === crew.crewId && operationId === crew.operationId);
  const sendOnce: SendReports = async (day, reports) => {
    const path = pathOf`/api/operations/${day.operationId}/crews/${day.crewId}/days/${day.date}/reports`;
    const { body } = await ask<{ reports: ReportOutcome[] }>(path, { method: "POST", body: { reports } });
    return body.reports;
  };
  const send: SendReports = async (day, reports) => {
    try {
      return await sendOnce(day, reports);
    } catch (error) {
      if (!(error instanceof Refusal) || error.status !== 403) throw error;
      // Somebody may have signed in anew in another tab, or we came up without the server: then calls are let in by something else now.
      await fetchSession();
      return sendOnce(day, reports);
    }
  };
  try {
    await sendWaiting(store, send, mayReport);
  } finally {
    otherTabs?.postMessage("changed");
    await look();
  }
}

function hindranceOf(error: unknown): Hindrance {
  if (error instanceof NoAnswer) return "noNetwork";
  if (error instanceof SignedOut) return "signedOut";
  if (error instanceof Refusal && error.status === 403) return "notAllowed";
  return error instanceof DOMException ? "noStore" : "serverTrouble";
}
