import { randomUUID } from "node:crypto";
import { type Kysely, sql } from "kysely";
import {
  type CaseSetSummary,
  type CaseSetVersion,
  caseSetSummarySchema,
  caseSetVersionSchema,
} from "../../shared/contracts/caseSets.ts";
import type { Acting } from "./acting.ts";
import { audit } from "./audit.ts";
import { digestOf } from "./digest.ts";
import { everything, type Stretch } from "./stretch.ts";
import type { Tables } from "./tables.ts";

export interface NewCaseSet {
  readonly operationId: string;
  readonly name: string;
  readonly document: unknown;
}

export type CaseSetOutcome = { readonly outcome: "newVersion" | "sameDocument"; readonly caseSet: CaseSetSummary };

/** Sets of cases are versioned as operations are (importOperation.ts): the name says which set of its operation it is. */
export interface CaseSetStore {
  importCaseSet(set: NewCaseSet, acting: Acting): Promise<CaseSetOutcome>;
  /** By name. */
  caseSetsOf(operationId: string, stretch?: Stretch): Promise<CaseSetSummary[]>;
  latestCaseSet(caseSetId: string): Promise<CaseSetVersion | null>;
  caseSetVersion(caseSetId: string, version: number): Promise<CaseSetVersion | null>;
}

export function createCaseSets(db: Kysely<Tables>): CaseSetStore {
  const versions = () =>
    db
      .selectFrom("case_set_versions as v")
      .innerJoin("case_sets as s", "s.id", "v.case_set_id")
      .select(["s.id", "s.operation_id", "s.name", "v.version", "v.digest", "v.created_at"]);
  return {
    importCaseSet: (set, acting) => importCaseSet(db, set, acting),

    async caseSetsOf(operationId, { most, after } = everything) {
      const rows = await versions()
        .distinctOn("s.name")
        .where("s.operation_id", "=", operationId)
        .$if(after !== null, (query) => query.where("s.name", ">", after!))
        .limit(most)
        .orderBy("s.name")
        .orderBy("v.version", "desc")
        .execute();
      return rows.map((row) => caseSetSummarySchema.parse(told(row)));
    },

    async latestCaseSet(caseSetId) {
      const row = await versions()
        .select("v.document")
        .where("s.id", "=", caseSetId)
        .orderBy("v.version", "desc")
        .limit(1)
        .executeTakeFirst();
      return row ? caseSetVersionSchema.parse(told(row)) : null;
    },

    async caseSetVersion(caseSetId, version) {
      const row = await versions()
        .select("v.document")
        .where("s.id", "=", caseSetId)
        .where("v.version", "=", version)
        .executeTakeFirst();
      return row ? caseSetVersionSchema.parse(told(row)) : null;
    },
  };
}

function importCaseSet(
  db: Kysely<Tables>,
  { operationId, name, document }: NewCaseSet,
  acting: Acting,
): Promise<CaseSetOutcome> {
  const digest = digestOf(document);
  return db.transaction().execute(async (tx) => {
    await tx
      .insertInto("case_sets")
      .values({ id: randomUUID(), operation_id: operationId, name })
      .onConflict((conflict) => conflict.columns(["operation_id", "name"]).doNothing())
      .execute();
    // The row's lock makes imports of the same set follow each other.
    const { id } = await tx
      .selectFrom("case_sets")
      .select("id")
      .where("operation_id", "=", operationId)
      .where("name", "=", name)
      .forUpdate()
      .executeTakeFirstOrThrow();
    const latest = await tx
      .selectFrom("case_set_versions")
      .select(["version", "digest", "created_at"])
      .where("case_set_id", "=", id)
      .orderBy("version", "desc")
      .limit(1)
      .executeTakeFirst();
    const whose = { id, operation_id: operationId, name };
    if (latest?.digest === digest) {
      return { outcome: "sameDocument", caseSet: caseSetSummarySchema.parse(told({ ...whose, ...latest })) } as const;
    }
    const row = await tx
      .insertInto("case_set_versions")
      .values({
        case_set_id: id,
        version: (latest?.version ?? 0) + 1,
        document: sql<string>`${JSON.stringify(document)}::jsonb`,
        digest,
      })
      .returning(["version", "digest", "created_at"])
      .executeTakeFirstOrThrow();
    await audit(tx, acting, { operationId, thingId: id, details: { name, version: row.version } });
    return { outcome: "newVersion", caseSet: caseSetSummarySchema.parse(told({ ...whose, ...row })) } as const;
  });
}

function told<Row extends { operation_id: string; created_at: Date }>({ operation_id, created_at, ...rest }: Row) {
  return { ...rest, operationId: operation_id, createdAt: created_at.toISOString() };
}
