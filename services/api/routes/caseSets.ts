import { z } from "zod";
import { caseSetDocumentSchema } from "../../../shared/cases/caseSet.ts";
import { judgeCaseSet } from "../../../shared/cases/judgeCaseSet.ts";
import {
  caseSetAnswerSchema,
  caseSetListSchema,
  caseSetSummarySchema,
  caseSetVersionSchema,
} from "../../../shared/contracts/caseSets.ts";
import { faultyCursor, pageOf, pageQuery, stretchOf } from "../paging.ts";
import { refuseWhole, shortened, unknownThing } from "../problems.ts";
import { wholeBodyBytes } from "../readBody.ts";
import { answers, ok, type Route, route } from "../route.ts";
import { unstorableTexts } from "../storableText.ts";
import { caseSetParams, none, operationParams, versionSchema } from "./parameters.ts";

/** What may be sent is told by its schema; it is judged by judgeCaseSet, which sees more than a schema. */
const documentSchema = z.unknown().meta({ standsFor: caseSetDocumentSchema });
export const caseSetRoutes: readonly Route[] = [
  route({
    method: "post",
    path: "/api/operations/{operationId}/case-sets",
    id: "importCaseSet",
    summary: "Store a set of cases: a new version of the one of that name, unless it equals the latest",
    params: operationParams,
    query: none,
    bodyBytesMax: wholeBodyBytes,
    body: { schema: documentSchema, optional: false },
    answers: {
      200: answers("The same set as the latest version; nothing has changed", caseSetAnswerSchema),
      201: { ...answers("A new version", caseSetAnswerSchema), locationHeader: true },
    },
    problems: [404, 422],
    async handle({ store }, { params, body, call }) {
      const operation = await store.latestOperation(params.operationId);
      if (!operation) return unknownThing("operation");
      const judged = judgeCaseSet(body, operation.document);
      const faults = [...unstorableTexts(body), ...(judged.ok ? [] : judged.faults.map(shortened))];
      if (!judged.ok || faults.length > 0) return refuseWhole(faults);
      const { document } = judged;
      const { outcome, caseSet } = await store.importCaseSet(
        { operationId: operation.id, name: document.name, document },
        call.acting,
      );
      return {
        kind: "body",
        status: outcome === "newVersion" ? 201 : 200,
        body: { caseSet },
        location: `/api/case-sets/${caseSet.id}/versions/${caseSet.version}`,
      };
    },
  }),

  route({
    method: "get",
    path: "/api/operations/{operationId}/case-sets",
    id: "listCaseSets",
    summary: "Sets of cases of an operation with their latest versions, by name",
    params: operationParams,
    query: pageQuery,
    body: null,
    answers: { 200: answers("The sets", caseSetListSchema) },
    problems: [],
    async handle({ store }, { params, query }) {
      const stretch = stretchOf(query, caseSetSummarySchema.shape.name);
      if (!stretch) return faultyCursor;
      const found = await store.caseSetsOf(params.operationId, stretch);
      const { entries, next } = pageOf(query, found, ({ name }) => name);
      return ok({ caseSets: entries, next });
    },
  }),

  route({
    method: "get",
    path: "/api/case-sets/{caseSetId}",
    id: "latestCaseSet",
    summary: "The latest version of a set of cases",
    params: caseSetParams,
    query: none,
    body: null,
    answers: { 200: answers("The set", caseSetVersionSchema) },
    problems: [404],
    async handle({ store }, { params }) {
      const found = await store.latestCaseSet(params.caseSetId);
      return found ? ok(found) : unknownThing("set of cases");
    },
  }),

  route({
    method: "get",
    path: "/api/case-sets/{caseSetId}/versions/{version}",
    id: "caseSetVersion",
    summary: "One version of a set of cases",
    params: caseSetParams.extend({ version: versionSchema }),
    query: none,
    body: null,
    answers: { 200: answers("The set", caseSetVersionSchema) },
    problems: [404],
    async handle({ store }, { params }) {
      const found = await store.caseSetVersion(params.caseSetId, params.version);
      return found ? ok(found) : unknownThing("version of a set of cases");
    },
  }),
];
