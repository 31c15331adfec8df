import { crewIdSchema } from "../../../shared/model/quantities.ts";
import { fileName } from "../../papers/fileName.ts";
import { recordTable } from "../../papers/record/recordTable.ts";
import type { KeptRecord, RecordFilter } from "../../store/applicationRecords.ts";
import type { Store } from "../../store/store.ts";
import { type Answer, type ApiParts, fileAnswers, type Route, route } from "../route.ts";
import { toldRecord } from "../toldRecord.ts";
import { render } from "../viewCache.ts";
import { recordAt, recordFilter, recordParams, unknownRecord } from "./applicationRecords.ts";
import { lookQuery } from "./papers.ts";
import { crewParams, operationParams } from "./parameters.ts";
import { viewOr } from "./plans.ts";

/** Read piece by piece: a season has thousands. */
const pieceOf = 500;

async function allRecords(store: Store, operationId: string, filter: RecordFilter): Promise<KeptRecord[]> {
  const all: KeptRecord[] = [];
  for (;;) {
    const last = all.at(-1);
    const after = last === undefined ? null : `${last.facts.date} ${last.id}`;
    const piece = await store.applicationRecords(operationId, filter, { most: pieceOf, after });
    all.push(...piece);
    if (piece.length < pieceOf) return all;
  }
}

async function tableOf({ store }: ApiParts, operationId: string, filter: RecordFilter): Promise<Answer> {
  const records = await allRecords(store, operationId, filter);
  const text = recordTable(records.map(toldRecord));
  return {
    kind: "view",
    view: await render({ bytes: Buffer.from(text), fileName: fileName(["application records"], "csv") }),
  };
}

export const recordPaperRoutes: readonly Route[] = [
  route({
    method: "get",
    path: "/api/operations/{operationId}/application-records.csv",
    id: "applicationRecordsCsv",
    summary: "Records of applications as a table, a row for every product",
    params: operationParams,
    query: recordFilter.extend({ crewId: crewIdSchema.optional() }),
    body: null,
    answers: { 200: fileAnswers("The table (RFC 4180)", "text/csv") },
    problems: [],
    handle: (parts, { params, query }) => tableOf(parts, params.operationId, query),
  }),

  route({
    method: "get",
    path: "/api/operations/{operationId}/crews/{crewId}/application-records.csv",
    id: "crewRecordsCsv",
    summary: "Records of a crew's applications as a table, a row for every product",
    params: crewParams,
    query: recordFilter,
    body: null,
    answers: { 200: fileAnswers("The table (RFC 4180)", "text/csv") },
    problems: [],
    handle: (parts, { params, query }) => tableOf(parts, params.operationId, { ...query, crewId: params.crewId }),
  }),

  route({
    method: "get",
    path: "/api/operations/{operationId}/crews/{crewId}/application-records/{recordId}/record.pdf",
    id: "applicationRecordPdf",
    summary: "The record of an application on paper",
    params: recordParams,
    query: lookQuery,
    body: null,
    answers: { 200: fileAnswers("The record", "application/pdf") },
    problems: [404],
    async handle({ store, views, maker }, { params, query }) {
      const kept = await recordAt(store, params, null);
      if (!kept) return unknownRecord;
      const view = await views.get(`record ${kept.id} ${kept.version} ${query.size} ${query.units}`, () =>
        maker.record({ told: toldRecord(kept), ...query }),
      );
      return viewOr(view, "record");
    },
  }),
];
