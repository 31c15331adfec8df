import { randomUUID } from "node:crypto";
import { type Kysely, sql, type Transaction } from "kysely";
import {
  type ApplicationFacts,
  applicationFactsSchema,
  type ByHand,
  byHandSchema,
} from "../../shared/done/applicationRecord.ts";
import type { Acting } from "./acting.ts";
import { audit } from "./audit.ts";
import { asWritten } from "./sqlWords.ts";
import type { Stretch } from "./stretch.ts";
import type { Tables } from "./tables.ts";

/** A version of a record as it is kept: what is known, and what a person has put over it. */
export interface KeptRecord {
  readonly id: string;
  readonly operationId: string;
  readonly crewId: string;
  readonly version: number;
  readonly facts: ApplicationFacts;
  readonly byHand: ByHand;
  readonly reason: string;
  readonly byName: string;
  readonly createdAt: string;
}

export interface RecordFilter {
  readonly crewId?: string | undefined;
  readonly fieldId?: string | undefined;
  readonly orderId?: string | undefined;
  readonly grower?: string | undefined;
  readonly productId?: string | undefined;
  /** Local dates of crew-days, both included. */
  readonly from?: string | undefined;
  readonly to?: string | undefined;
}

export type ChangeRecordOutcome =
  | { readonly outcome: "changed"; readonly record: KeptRecord }
  | { readonly outcome: "changedMeanwhile" }
  | { readonly outcome: "unknown" };

export interface ApplicationRecordStore {
  /** Latest versions, by date and id; `after`: the date and id of an entry, parted by a space. */
  applicationRecords(operationId: string, filter: RecordFilter, page: Stretch): Promise<KeptRecord[]>;
  /** The latest version, or the one asked for. */
  applicationRecord(recordId: string, version: number | null): Promise<KeptRecord | null>;
  /** A new version; `known`: the versions that the caller may have read. Earlier ones stay. */
  changeRecord(
    recordId: string,
    known: readonly string[],
    change: { readonly byHand: ByHand; readonly reason: string },
    acting: Acting,
  ): Promise<ChangeRecordOutcome>;
}

export function createApplicationRecords(db: Kysely<Tables>): ApplicationRecordStore {
  return {
    async applicationRecords(operationId, filter, { most, after }) {
      const { crewId, fieldId, orderId, grower, productId, from, to } = filter;
      const [afterDate, afterId] = after?.split(" ") ?? [];
      const rows = await latestRecords(db)
        .where("r.operation_id", "=", operationId)
        .$if(crewId !== undefined, (query) => query.where("r.crew_id", "=", crewId!))
        .$if(orderId !== undefined, (query) => query.where("r.order_id", "=", orderId!))
        .$if(from !== undefined, (query) => query.where("r.date", ">=", from!))
        .$if(to !== undefined, (query) => query.where("r.date", "<=", to!))
        .$if(fieldId !== undefined, (query) => query.where(sql`v.facts ->> 'fieldId'`, "=", fieldId!))
        .$if(grower !== undefined, (query) =>
          query.where(sql`coalesce(v.by_hand ->> 'grower', v.facts ->> 'grower')`, "=", grower!),
        )
        .$if(productId !== undefined, (query) =>
          query.where(sql<boolean>`(v.facts -> 'products')::jsonb @> ${JSON.stringify([{ productId }])}::jsonb`),
        )
        .$if(afterId !== undefined, (query) =>
          query.where(sql<boolean>`(r.date, r.id) > (${afterDate}, ${afterId}::uuid)`),
        )
        .orderBy("r.date")
        .orderBy("r.id")
        .limit(most)
        .execute();
      return rows.map(toRecord);
    },

    async applicationRecord(recordId, version) {
      const row = await (version === null ? latestRecords(db) : recordVersions(db).where("v.version", "=", version))
        .where("r.id", "=", recordId)
        .executeTakeFirst();
      return row ? toRecord(row) : null;
    },

    changeRecord: (recordId, known, { byHand, reason }, acting) =>
      db.transaction().execute(async (tx) => {
        await lockRecord(tx, recordId);
        const row = await latestRecords(tx).where("r.id", "=", recordId).executeTakeFirst();
        if (!row) return { outcome: "unknown" };
        const before = toRecord(row);
        if (!known.includes(String(before.version))) return { outcome: "changedMeanwhile" };
        await addRecordVersion(tx, recordId, before, { facts: before.facts, byHand, reason }, acting);
        const after = await latestRecords(tx).where("r.id", "=", recordId).executeTakeFirstOrThrow();
        return { outcome: "changed", record: toRecord(after) };
      }),
  };
}

/** What the reports of a stop come to now. `facts`: null where nothing was treated (any more). Reckoned again from the same reports it changes nothing. */
export async function recordStop(
  tx: Transaction<Tables>,
  stop: { operationId: string; crewId: string; date: string; orderId: string; blockId: string; ground: string },
  facts: ApplicationFacts | null,
  acting: Acting,
): Promise<void> {
  const { operationId, crewId, date, orderId, blockId, ground } = stop;
  const known = await tx
    .selectFrom("application_records")
    .select("id")
    .where("operation_id", "=", operationId)
    .where("crew_id", "=", crewId)
    .where("date", "=", date)
    .where("block_id", "=", blockId)
    .where("ground", "=", ground)
    .executeTakeFirst();
  if (!known) {
    if (!facts) return;
    const id = randomUUID();
    await tx
      .insertInto("application_records")
      .values({ id, operation_id: operationId, crew_id: crewId, date, order_id: orderId, block_id: blockId, ground })
      .execute();
    await addRecordVersion(tx, id, null, { facts, byHand: {}, reason: "reported" }, acting);
    return;
  }
  await lockRecord(tx, known.id);
  const before = toRecord(await latestRecords(tx).where("r.id", "=", known.id).executeTakeFirstOrThrow());
  // Parsed, so that its members stand in the same order.
  const now = applicationFactsSchema.parse(facts ?? { ...before.facts, state: "withdrawn" });
  if (JSON.stringify(now) === JSON.stringify(before.facts)) return;
  const { byHand } = before;
  await addRecordVersion(tx, known.id, before, { facts: now, byHand, reason: "reported" }, acting);
}

async function addRecordVersion(
  tx: Transaction<Tables>,
  recordId: string,
  before: KeptRecord | null,
  { facts, byHand, reason }: Pick<KeptRecord, "facts" | "byHand" | "reason">,
  acting: Acting,
): Promise<void> {
  const version = (before?.version ?? 0) + 1;
  await tx
    .insertInto("application_record_versions")
    .values({
      record_id: recordId,
      version,
      facts: asWritten(facts),
      by_hand: asWritten(byHand),
      reason,
      by_name: acting.by.name,
    })
    .execute();
  const record = await tx
    .selectFrom("application_records")
    .select("operation_id")
    .where("id", "=", recordId)
    .executeTakeFirstOrThrow();
  const details = { version, reason, byHandBefore: before?.byHand ?? {}, byHand, treatedHa: facts.treatedHa };
  await audit(tx, acting, { operationId: record.operation_id, thingId: recordId, details });
}

/** Rows only grow, so there is none to lock for writing: versions of one record follow each other by a lock of its name. */
async function lockRecord(tx: Transaction<Tables>, recordId: string): Promise<void> {
  await sql`select pg_advisory_xact_lock(hashtextextended(${`application record ${recordId}`}, 0))`.execute(tx);
}

const recordVersions = (db: Kysely<Tables>) =>
  db
    .selectFrom("application_records as r")
    .innerJoin("application_record_versions as v", "v.record_id", "r.id")
    .select(["r.id", "r.operation_id", "r.crew_id"])
    .select(["v.version", "v.facts", "v.by_hand", "v.reason", "v.by_name", "v.created_at"]);

const latestRecords = (db: Kysely<Tables>) =>
  recordVersions(db).where("v.version", "=", (where) =>
    where
      .selectFrom("application_record_versions as l")
      .select((select) => select.fn.max("l.version").as("latest"))
      .whereRef("l.record_id", "=", "r.id"),
  );

interface RecordRow {
  id: string;
  operation_id: string;
  crew_id: string;
  version: number;
  facts: unknown;
  by_hand: unknown;
  reason: string;
  by_name: string;
  created_at: Date;
}

function toRecord(row: RecordRow): KeptRecord {
  return {
    id: row.id,
    operationId: row.operation_id,
    crewId: row.crew_id,
    version: row.version,
    facts: applicationFactsSchema.parse(row.facts),
    byHand: byHandSchema.parse(row.by_hand),
    reason: row.reason,
    byName: row.by_name,
    createdAt: row.created_at.toISOString(),
  };
}
