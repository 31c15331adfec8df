import { z } from "zod";
import {
  importAnswerSchema,
  operationListSchema,
  operationSummarySchema,
  operationVersionListSchema,
  operationVersionSchema,
} from "../../../shared/contracts/operations.ts";
import { operationSchema } from "../../../shared/model/operation.ts";
import { versionEtag } from "../etags.ts";
import { judgeDocument } from "../judgeDocument.ts";
import { faultyCursor, pageOf, pageQuery, soughtSchema, stretchOf } from "../paging.ts";
import { unknownThing } from "../problems.ts";
import { wholeBodyBytes } from "../readBody.ts";
import { replaceOperation } from "../replaceOperation.ts";
import { answers, ok, type Route, route } from "../route.ts";
import { none, operationParams, versionSchema } from "./parameters.ts";

/** What may be sent is told by the model's schema; it is judged by validateOperation, which sees more than a schema. */
const documentSchema = z.unknown().meta({ standsFor: operationSchema });

export const operationRoutes: readonly Route[] = [
  route({
    method: "post",
    path: "/api/operations",
    id: "importOperation",
    summary: "Import an operation: a new version of the one of that name, unless it equals the latest",
    params: none,
    query: none,
    bodyBytesMax: wholeBodyBytes,
    body: { schema: documentSchema, optional: false },
    answers: {
      200: {
        ...answers("The same document as the latest version; nothing has changed", importAnswerSchema),
        etagHeader: true,
      },
      201: { ...answers("A new version", importAnswerSchema), locationHeader: true, etagHeader: true },
    },
    problems: [422],
    async handle({ store }, { body, call }) {
      const judged = judgeDocument(body, body, null);
      if (!judged.ok) return judged.refusal;
      const { outcome, operation } = await store.importOperation(judged.operation, call.acting);
      return {
        kind: "body",
        status: outcome === "newVersion" ? 201 : 200,
        body: { operation, defaultsUsed: judged.defaultsUsed },
        location: `/api/operations/${operation.id}/versions/${operation.version}`,
        etag: versionEtag(operation),
      };
    },
  }),

  route({
    method: "get",
    path: "/api/operations",
    id: "listOperations",
    summary: "Operations with their latest versions, by name",
    params: none,
    query: pageQuery.extend({
      text: soughtSchema.describe("those with this in their names, whatever the case"),
    }),
    body: null,
    answers: { 200: answers("The operations", operationListSchema) },
    problems: [],
    async handle({ store }, { query }) {
      const stretch = stretchOf(query, operationSummarySchema.shape.name);
      if (!stretch) return faultyCursor;
      const found = await store.listOperations({ ...stretch, text: query.text ?? null });
      const { entries, next } = pageOf(query, found, ({ name }) => name);
      return ok({ operations: entries, next });
    },
  }),

  route({
    method: "get",
    path: "/api/operations/{operationId}",
    id: "latestOperation",
    summary: "The latest version of an operation",
    params: operationParams,
    query: none,
    body: null,
    answers: { 200: { ...answers("The operation", operationVersionSchema), etagHeader: true } },
    problems: [404],
    async handle({ store }, { params }) {
      const found = await store.latestOperation(params.operationId);
      return found ? ok(found, versionEtag(found)) : unknownThing("operation");
    },
  }),

  route({
    method: "put",
    path: "/api/operations/{operationId}",
    id: "replaceOperation",
    summary: "Another document in the place of the latest version, judged as a whole",
    params: operationParams,
    query: none,
    precondition: true,
    bodyBytesMax: wholeBodyBytes,
    body: { schema: documentSchema, optional: false },
    answers: {
      200: {
        ...answers("The version that has come of it, or the latest where nothing has changed", importAnswerSchema),
        etagHeader: true,
      },
    },
    problems: [404, 422],
    handle: ({ store }, { params, body, call }) => replaceOperation(store, params.operationId, body, call),
  }),

  route({
    method: "get",
    path: "/api/operations/{operationId}/versions",
    id: "operationVersions",
    summary: "The versions of an operation, newest first: who made them, and what each has changed",
    params: operationParams,
    query: pageQuery,
    body: null,
    answers: { 200: answers("The versions", operationVersionListSchema) },
    problems: [404],
    async handle({ store }, { params, query }) {
      const stretch = stretchOf(query, z.string().regex(/^[1-9][0-9]{0,8}$/));
      if (!stretch) return faultyCursor;
      const found = await store.versionsOf(params.operationId, stretch);
      if (found.length === 0 && query.cursor === undefined) return unknownThing("operation");
      const { entries, next } = pageOf(query, found, ({ version }) => String(version));
      return ok({ versions: entries, next });
    },
  }),

  route({
    method: "get",
    path: "/api/operations/{operationId}/versions/{version}",
    id: "operationVersion",
    summary: "One version of an operation",
    params: operationParams.extend({ version: versionSchema }),
    query: none,
    body: null,
    answers: { 200: { ...answers("The operation", operationVersionSchema), etagHeader: true } },
    problems: [404],
    async handle({ store }, { params }) {
      const found = await store.operationVersion(params.operationId, params.version);
      return found ? ok(found, versionEtag(found)) : unknownThing("version of an operation");
    },
  }),
];
