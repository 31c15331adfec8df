import type { Kysely } from "kysely";
import type { OperationVersion } from "../../shared/contracts/operations.ts";
import type { Operation } from "../../shared/model/operation.ts";
import type { Acting } from "./acting.ts";
import { audit } from "./audit.ts";
import { addVersion, type VersionOutcome } from "./newVersion.ts";
import { document, latestVersion } from "./operationVersions.ts";
import { toVersion } from "./rows.ts";
import type { Tables } from "./tables.ts";

/** What shall come of the latest version, or why nothing shall. */
export type Judged<Refusal> =
  | { readonly outcome: "changed"; readonly document: Operation }
  | { readonly outcome: "refused"; readonly refusal: Refusal };

export type ChangeOutcome<Refusal> =
  | VersionOutcome
  | { readonly outcome: "refused"; readonly refusal: Refusal }
  | { readonly outcome: "unknown" };

/** Nobody else makes a version of the operation between its being read for `judge` and the new one. The name stays: by it the operation is known. */
export function changeOperation<Refusal>(
  db: Kysely<Tables>,
  operationId: string,
  judge: (latest: OperationVersion) => Judged<Refusal>,
  acting: Acting,
  /** What is changed, for the audit trail. */
  details: object,
): Promise<ChangeOutcome<Refusal>> {
  return db.transaction().execute(async (tx) => {
    const operation = await tx
      .selectFrom("operations")
      .select(["id", "name"])
      .where("id", "=", operationId)
      .forUpdate()
      .executeTakeFirst();
    if (!operation) return { outcome: "unknown" };
    const latest = await latestVersion(tx, operationId).select(document).executeTakeFirstOrThrow();
    const judged = judge(toVersion(latest));
    if (judged.outcome === "refused") return judged;
    const made = await addVersion(tx, { operation, document: judged.document, derived: false }, latest);
    if (made.outcome === "newVersion") {
      const { version } = made.operation;
      await audit(tx, acting, { operationId, thingId: operationId, details: { version, ...details } });
    }
    return made;
  });
}
