import { type Kysely, sql } from "kysely";
import type { OperationSummary } from "../../shared/contracts/operations.ts";
import type { Operation } from "../../shared/model/operation.ts";
import { digestsOf, type PartText } from "./digest.ts";
import { toSummary } from "./rows.ts";
import type { Tables } from "./tables.ts";

export interface NewVersion {
  /** The row is locked by the transaction, so that versions follow each other. */
  readonly operation: { readonly id: string; readonly name: string };
  readonly document: Operation;
  /** Made by the service of a version that people have told; it is never the latest. */
  readonly derived: boolean;
}

export type VersionOutcome = { readonly outcome: "newVersion" | "sameDocument"; readonly operation: OperationSummary };

/** A document that equals `latest` makes no version. Of one that does not, only the parts are written that no version has had before. */
export async function addVersion(
  tx: Kysely<Tables>,
  { operation, document, derived }: NewVersion,
  latest: { readonly version: number; readonly digest: string; readonly created_at: Date } | undefined,
): Promise<VersionOutcome> {
  const { whole, parts } = digestsOf(document);
  if (latest?.digest === whole) {
    return { outcome: "sameDocument", operation: toSummary({ ...operation, ...latest }) };
  }
  await addParts(tx, parts);
  const row = await tx
    .insertInto("operation_versions")
    .values({
      operation_id: operation.id,
      // Derived versions are counted with the others.
      version: sql<number>`(select coalesce(max(version), 0) + 1 from operation_versions where operation_id = ${operation.id})`,
      digest: whole,
      derived,
    })
    .returning(["version", "digest", "created_at"])
    .executeTakeFirstOrThrow();
  await tx
    .insertInto("operation_version_parts")
    .values(parts.map(({ part, digest }) => ({ operation_id: operation.id, version: row.version, part, digest })))
    .execute();
  return { outcome: "newVersion", operation: toSummary({ ...operation, ...row }) };
}

async function addParts(tx: Kysely<Tables>, parts: readonly PartText[]): Promise<void> {
  const digests = parts.map(({ digest }) => digest);
  const known = await tx.selectFrom("operation_parts").select("digest").where("digest", "in", digests).execute();
  const fresh = parts.filter(({ digest }) => known.every((one) => one.digest !== digest));
  for (const { digest, text } of fresh) {
    await tx
      .insertInto("operation_parts")
      .values({ digest, body: sql<string>`${text}::jsonb` })
      // Another operation may be given the same part at the same time.
      .onConflict((conflict) => conflict.column("digest").doNothing())
      .execute();
  }
}
