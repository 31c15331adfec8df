import type { CrewKey } from "../../../../shared/contracts/access.ts";
import type { ReportOutcome } from "../../../../shared/contracts/fieldwork.ts";
import type { WorkReport } from "../../../../shared/done/workReport.ts";
import type { PhoneStore } from "./phoneStore.ts";

export interface CrewDayKey extends CrewKey {
  readonly date: string;
}

/** putAway: refused, and somebody has read why. */
export type EntryState = "waiting" | "sent" | "refused" | "putAway";

/** A report that was made on this phone. */
export interface Entry extends CrewDayKey {
  /** Given by the store, in the order in which reports were made. */
  readonly place: number;
  readonly id: string;
  readonly report: WorkReport;
  /** Names the ground of its block; null where it is not known. */
  readonly ground: string | null;
  readonly madeAtMs: number;
  readonly state: EntryState;
  /** Why it was refused. */
  readonly why: string | null;
}

/** As many as go out together. Our choice: a batch comes through a poor connection, and costs one answer. */
const togetherMost = 25;
/** Our choice: what was sent stays for a while, so that the day is whole without a network. */
const sentKeptMs = 8 * 24 * 3600_000;

/** Ends when the report is on the disk: only then may anybody be told that it is kept. Reports made together are kept together. */
export async function putIn(
  store: PhoneStore,
  day: CrewDayKey,
  made: readonly { readonly report: WorkReport; readonly ground: string | null }[],
  nowMs: number,
): Promise<void> {
  const { crewId, date, operationId } = day;
  await store.change(["outbox"], (of) => {
    for (const { ground, report } of made) {
      const entry: Omit<Entry, "place"> = {
        operationId,
        crewId,
        date,
        id: report.id,
        report,
        ground,
        madeAtMs: nowMs,
        state: "waiting",
        why: null,
      };
      of("outbox").add(entry);
    }
  });
}

export const entriesIn = (store: PhoneStore): Promise<Entry[]> => store.all<Entry>("outbox");

/** Those that go out next: in order, of one crew-day. `mayReport`: reports of other crews wait until somebody of theirs signs in. */
export function nextBatch(entries: readonly Entry[], mayReport: (crew: CrewKey) => boolean): Entry[] {
  const waiting = entries.filter((entry) => entry.state === "waiting" && mayReport(entry));
  const [first] = waiting;
  if (first === undefined) return [];
  const end = waiting.findIndex((entry) => !isOfDay(entry, first));
  return waiting.slice(0, Math.min(end < 0 ? waiting.length : end, togetherMost));
}

export const isOfDay = (one: CrewDayKey, day: CrewDayKey): boolean =>
  one.operationId === day.operationId && one.crewId === day.crewId && one.date === day.date;

/** Writes down what became of a batch; the outcomes are in its order. */
export async function settle(
  store: PhoneStore,
  batch: readonly Entry[],
  outcomes: readonly Pick<ReportOutcome, "outcome" | "why">[],
): Promise<void> {
  if (outcomes.length !== batch.length) throw new Error("the server told of other reports than it was sent");
  await store.change(["outbox"], (of) => {
    batch.forEach((entry, at) => {
      const { outcome, why } = outcomes[at]!;
      of("outbox").put({ ...entry, state: outcome === "refused" ? "refused" : "sent", why });
    });
  });
}

/** Of a refused one: to be sent again, or put away. */
export async function setState(store: PhoneStore, entry: Entry, state: "waiting" | "putAway"): Promise<void> {
  await store.change(["outbox"], (of) => of("outbox").put({ ...entry, state }));
}

/** Only what the server has, or somebody has put away, is ever thrown away. */
export async function throwAwayOld(store: PhoneStore, nowMs: number): Promise<void> {
  const old = (await entriesIn(store)).filter(
    ({ madeAtMs, state }) => (state === "sent" || state === "putAway") && madeAtMs < nowMs - sentKeptMs,
  );
  if (old.length === 0) return;
  await store.change(["outbox"], (of) => {
    for (const { place } of old) of("outbox").delete(place);
  });
}

/** What the server does not have yet. */
export const isUnsent = ({ state }: Entry): boolean => state === "waiting" || state === "refused";

export const countUnsent = async (store: PhoneStore): Promise<number> =>
  (await entriesIn(store)).filter(isUnsent).length;
