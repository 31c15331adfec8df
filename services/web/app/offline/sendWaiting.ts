import type { CrewKey } from "../../../../shared/contracts/access.ts";
import type { ReportOutcome } from "../../../../shared/contracts/fieldwork.ts";
import type { WorkReport } from "../../../../shared/done/workReport.ts";
import { Refusal } from "../api/call.ts";
import { type CrewDayKey, entriesIn, nextBatch, settle } from "./outbox.ts";
import type { PhoneStore } from "./phoneStore.ts";

export type SendReports = (day: CrewDayKey, reports: readonly WorkReport[]) => Promise<readonly ReportOutcome[]>;

/**
 * Sends what waits, in order, until nothing does. A batch is settled before the next one goes; one that was cut off in between goes again, and the server knows its reports by their ids.
 * Throws what kept a batch from going: then all of it waits on.
 */
export async function sendWaiting(
  store: PhoneStore,
  send: SendReports,
  mayReport: (crew: CrewKey) => boolean,
): Promise<void> {
  for (;;) {
    const batch = nextBatch(await entriesIn(store), mayReport);
    const [first] = batch;
    if (first === undefined) return;
    const reports = batch.map(({ report }) => report);
    const outcomes = await send(first, reports).catch((error: unknown) => {
      if (!(error instanceof Refusal) || mayGoLater(error.status)) throw error;
      // The call as a whole was no good: nothing of it would be taken another time either.
      return batch.map(() => ({ outcome: "refused" as const, why: error.message }));
    });
    await settle(store, batch, outcomes);
  }
}

/** Not signed in, not allowed just now, too slow, too often, or the server's own trouble (RFC 9110). */
function mayGoLater(status: number): boolean {
  return status >= 500 || [401, 403, 408, 409, 421, 425, 429].includes(status);
}
