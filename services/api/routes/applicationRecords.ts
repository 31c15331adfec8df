import { z } from "zod";
import {
  applicationRecordListSchema,
  applicationRecordSchema,
  recordChangeSchema,
  recordKeySchema,
} from "../../../shared/contracts/applicationRecords.ts";
import {
  crewIdSchema,
  fieldIdSchema,
  localDateSchema,
  orderIdSchema,
  productIdSchema,
} from "../../../shared/model/quantities.ts";
import type { RecordFilter } from "../../store/applicationRecords.ts";
import type { Store } from "../../store/store.ts";
import { faultyCursor, type PageAsked, pageOf, pageQuery, stretchOf } from "../paging.ts";
import { changedMeanwhile, refuseWhole, unknownThing } from "../problems.ts";
import { type Answer, answers, ok, type Route, route } from "../route.ts";
import { unstorableTexts } from "../storableText.ts";
import { toldRecord } from "../toldRecord.ts";
import { crewParams, none, operationParams, versionSchema } from "./parameters.ts";

export const recordParams = crewParams.extend({ recordId: recordKeySchema });
/** The date and the id of the entry before. */
const placeSchema = z.string().regex(/^\d{4}-\d\d-\d\d [0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/);
export const recordFilter = z.object({
  fieldId: fieldIdSchema.optional(),
  orderId: orderIdSchema.optional(),
  productId: productIdSchema.optional(),
  grower: z
    .string()
    .min(1)
    .max(500)
    .refine((text) => unstorableTexts(text).length === 0, "text without U+0000")
    .optional(),
  from: localDateSchema.optional().describe("first local date"),
  to: localDateSchema.optional().describe("last local date"),
});
const listQuery = pageQuery.extend(recordFilter.shape);
const oneRecord = { ...answers("The record", applicationRecordSchema), etagHeader: true };
export const unknownRecord = unknownThing("application record");

async function list(store: Store, operationId: string, filter: RecordFilter, asked: PageAsked): Promise<Answer> {
  const stretch = stretchOf(asked, placeSchema);
  if (stretch === undefined) return faultyCursor;
  const found = await store.applicationRecords(operationId, filter, stretch);
  const { entries, next } = pageOf(asked, found, ({ facts, id }) => `${facts.date} ${id}`);
  return ok({ applicationRecords: entries.map(toldRecord), next });
}

interface RecordPath {
  readonly operationId: string;
  readonly crewId: string;
  readonly recordId: string;
}

/** A record is read by its own crew's address only: there it is decided whose it is. */
export async function recordAt(store: Store, { operationId, crewId, recordId }: RecordPath, version: number | null) {
  const kept = await store.applicationRecord(recordId, version);
  return kept?.operationId === operationId && kept.crewId === crewId ? kept : null;
}

export const applicationRecordRoutes: readonly Route[] = [
  route({
    method: "get",
    path: "/api/operations/{operationId}/application-records",
    id: "listApplicationRecords",
    summary: "Records of applications, by date",
    params: operationParams,
    query: listQuery.extend({ crewId: crewIdSchema.optional() }),
    body: null,
    answers: { 200: answers("The records", applicationRecordListSchema) },
    problems: [],
    handle: ({ store }, { params, query }) => list(store, params.operationId, query, query),
  }),

  route({
    method: "get",
    path: "/api/operations/{operationId}/crews/{crewId}/application-records",
    id: "listCrewRecords",
    summary: "Records of a crew's applications, by date",
    params: crewParams,
    query: listQuery,
    body: null,
    answers: { 200: answers("The records", applicationRecordListSchema) },
    problems: [],
    handle: ({ store }, { params, query }) =>
      list(store, params.operationId, { ...query, crewId: params.crewId }, query),
  }),

  route({
    method: "get",
    path: "/api/operations/{operationId}/crews/{crewId}/application-records/{recordId}",
    id: "applicationRecord",
    summary:
      "The record of an application: what was reported, what is missing under which rule, where each field comes from",
    params: recordParams,
    query: none,
    body: null,
    answers: { 200: oneRecord },
    problems: [404],
    async handle({ store }, { params }) {
      const kept = await recordAt(store, params, null);
      return kept ? ok(toldRecord(kept), String(kept.version)) : unknownRecord;
    },
  }),

  route({
    method: "get",
    path: "/api/operations/{operationId}/crews/{crewId}/application-records/{recordId}/versions/{version}",
    id: "applicationRecordVersion",
    summary: "The record as it was",
    params: recordParams.extend({ version: versionSchema }),
    query: none,
    body: null,
    answers: { 200: answers("The record", applicationRecordSchema) },
    problems: [404],
    async handle({ store }, { params }) {
      const kept = await recordAt(store, params, params.version);
      return kept ? ok(toldRecord(kept)) : unknownRecord;
    },
  }),

  route({
    method: "put",
    path: "/api/operations/{operationId}/crews/{crewId}/application-records/{recordId}",
    id: "changeApplicationRecord",
    summary: "Complete a record or put it right; the earlier version stays readable",
    params: recordParams,
    query: none,
    body: { schema: recordChangeSchema, optional: false },
    precondition: true,
    answers: { 200: oneRecord },
    problems: [404, 422],
    async handle({ store }, { params, body, call }) {
      const before = await recordAt(store, params, null);
      if (!before) return unknownRecord;
      const ids = new Set<string>(before.facts.products.map(({ productId }) => productId));
      const others = (body.byHand.products ?? []).flatMap(({ productId }, at) =>
        ids.has(productId)
          ? []
          : [{ path: ["byHand", "products", at], value: productId, expected: "a product of the record" }],
      );
      const faults = [...unstorableTexts(body), ...others];
      if (faults.length > 0) return refuseWhole(faults);
      // A record is never new here, so If-None-Match: * never holds.
      const etags = call.precondition?.kind === "ifMatch" ? call.precondition.etags : [];
      const changed = await store.changeRecord(params.recordId, etags, body, call.acting);
      if (changed.outcome === "unknown") return unknownRecord;
      if (changed.outcome === "changedMeanwhile") return changedMeanwhile;
      const { record } = changed;
      return ok(toldRecord(record), String(record.version));
    },
  }),
];
