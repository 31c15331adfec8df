import type { Kysely } from "kysely";
import type { Acting } from "./acting.ts";
import { json } from "./sqlWords.ts";
import type { Tables } from "./tables.ts";

export interface Audited {
  readonly operationId?: string;
  /** Of what was changed. */
  readonly thingId?: string;
  /** What of it, before and after: enough to tell people. Never a secret. */
  readonly details?: object;
}

/** Written in the transaction of the change, so that there is neither without the other. */
export async function audit(tx: Kysely<Tables>, acting: Acting, audited: Audited): Promise<void> {
  const { by, action, callId } = acting;
  await tx
    .insertInto("audit")
    .values({
      by_kind: by.kind,
      by_id: by.id,
      by_name: by.name,
      action,
      call_id: callId,
      operation_id: audited.operationId ?? null,
      thing_id: audited.thingId ?? null,
      details: json<string>(audited.details ?? {}),
    })
    .execute();
}
