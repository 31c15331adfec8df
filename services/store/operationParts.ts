import type { Kysely } from "kysely";
import type { OperationSummary } from "../../shared/contracts/operations.ts";
import { type Operation, operationSchema } from "../../shared/model/operation.ts";
import { latestVersion } from "./operationVersions.ts";
import { toSummary } from "./rows.ts";
import type { Tables } from "./tables.ts";

export interface LatestParts<Name extends keyof Operation> {
  readonly operation: OperationSummary;
  readonly parts: Pick<Operation, Name>;
}

/** Some members of the latest version's document, as if all of it had been read. */
export async function latestParts<Name extends keyof Operation>(
  db: Kysely<Tables>,
  operationId: string,
  names: readonly Name[],
): Promise<LatestParts<Name> | null> {
  const latest = await latestVersion(db, operationId).executeTakeFirst();
  if (!latest) return null;
  const rows = await db
    .selectFrom("operation_version_parts as h")
    .innerJoin("operation_parts as p", "p.digest", "h.digest")
    .select(["h.part", "p.body"])
    .where("h.operation_id", "=", operationId)
    .where("h.version", "=", latest.version)
    .where("h.part", "in", names)
    .execute();
  const bodies = new Map(rows.map(({ part, body }) => [part, body]));
  // A part that an older release knew nothing of is filled in as in the whole document.
  const parts = names.map((name) => [name, operationSchema.shape[name].parse(bodies.get(name))]);
  return { operation: toSummary(latest), parts: Object.fromEntries(parts) as Pick<Operation, Name> };
}
