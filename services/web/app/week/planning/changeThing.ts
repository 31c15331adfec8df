import type { OperationSummary } from "../../../../../shared/contracts/operations.ts";
import { ask } from "../../api/call.ts";

/** Another state of one thing of the operation; null: it cannot be made so. */
type Changed<Thing> = (thing: Thing) => Thing | null;

/** Reads one thing, changes it and writes it back over what was read, never over what somebody else has changed in between. Null: it cannot be changed so. */
export async function changeThing<Thing>(path: string, changed: Changed<Thing>): Promise<OperationSummary | null> {
  const { body, etag } = await ask<Thing>(path);
  const next = changed(body);
  if (next === null) return null;
  const answer = await ask<{ operation: OperationSummary }>(path, { method: "PUT", body: next, ...matching(etag) });
  return answer.body.operation;
}

export async function takeThing(path: string): Promise<OperationSummary> {
  const { etag } = await ask(path);
  const answer = await ask<{ operation: OperationSummary }>(path, { method: "DELETE", ...matching(etag) });
  return answer.body.operation;
}

const matching = (etag: string | null) => (etag === null ? {} : { ifMatch: etag });
