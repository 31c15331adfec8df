import { randomUUID } from "node:crypto";
import type { Transaction } from "kysely";
import type { Acting } from "./acting.ts";
import type { Tables } from "./tables.ts";

/** `again`: the same call was made before, and this is the thing that came of it. `otherCall`: the key was used for another call. */
export type OnceOutcome =
  | { readonly outcome: "made" | "again"; readonly id: string }
  | { readonly outcome: "otherCall" };

/**
 * Makes a thing, or finds the one that the same call has made before. Of calls that come at the same time the second waits for the first, since both write the same row. Ids may be
 * found again, so `make` takes the one that it is given.
 */
export async function once(
  tx: Transaction<Tables>,
  { by, once: wanted }: Acting,
  make: (id: string) => Promise<void>,
): Promise<OnceOutcome> {
  const id = randomUUID();
  if (wanted !== null) {
    const { key, digest } = wanted;
    const caller = `${by.kind} ${by.id ?? by.name}`;
    const { numInsertedOrUpdatedRows } = await tx
      .insertInto("once_keys")
      .values({ caller, key, digest, thing_id: id })
      .onConflict((conflict) => conflict.columns(["caller", "key"]).doNothing())
      .executeTakeFirst();
    if (numInsertedOrUpdatedRows === 0n) {
      const known = await tx
        .selectFrom("once_keys")
        .select(["digest", "thing_id"])
        .where("caller", "=", caller)
        .where("key", "=", key)
        .executeTakeFirstOrThrow();
      return known.digest === digest ? { outcome: "again", id: known.thing_id } : { outcome: "otherCall" };
    }
  }
  await make(id);
  return { outcome: "made", id };
}
