import { type Kysely, sql } from "kysely";
import { type AuditPage, type AuditQuery, auditPageSchema } from "../../shared/contracts/audit.ts";
import type { Tables } from "./tables.ts";

export interface AuditTrailStore {
  auditTrail(query: AuditQuery): Promise<AuditPage>;
}

export function createAuditTrail(db: Kysely<Tables>): AuditTrailStore {
  return {
    async auditTrail({ operation, who, action, from, cursor, limit }) {
      let rows = db.selectFrom("audit").selectAll();
      if (operation !== undefined) rows = rows.where("operation_id", "=", operation);
      if (who !== undefined) rows = rows.where((is) => is.or([is("by_id", "=", who), is("by_name", "=", who)]));
      if (action !== undefined) rows = rows.where("action", "=", action);
      if (from !== undefined) rows = rows.where("created_at", ">=", sql<Date>`${from}::timestamptz`);
      if (cursor !== undefined) rows = rows.where("id", "<", cursor);
      const found = await rows
        .orderBy("id", "desc")
        .limit(limit + 1)
        .execute();
      const entries = found.slice(0, limit).map((row) => ({
        id: row.id,
        at: row.created_at.toISOString(),
        by: { kind: row.by_kind, id: row.by_id, name: row.by_name },
        action: row.action,
        callId: row.call_id,
        operationId: row.operation_id,
        thingId: row.thing_id,
        details: row.details,
      }));
      return auditPageSchema.parse({ entries, next: found.length > limit ? entries.at(-1)!.id : null });
    },
  };
}
