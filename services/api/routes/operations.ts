import { z } from "zod";
import {
  importAnswerSchema,
  operationListSchema,
  operationVersionSchema,
} from "../../../shared/contracts/operations.ts";
import { operationSchema } from "../../../shared/model/operation.ts";
import { validateOperation } from "../../../shared/model/validate.ts";
import { refuseWhole, shortened, unknownThing } from "../problems.ts";
import { answers, ok, type Route, route } from "../route.ts";
import { unstorableTexts } from "../storableText.ts";
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
    body: { schema: documentSchema, optional: false },
    answers: {
      200: answers("The same document as the latest version; nothing has changed", importAnswerSchema),
      201: { ...answers("A new version", importAnswerSchema), locationHeader: true },
    },
    problems: [422],
    async handle({ store }, { body, call }) {
      const texts = unstorableTexts(body);
      const judged = validateOperation(body);
      const faults = [...texts, ...(judged.ok ? [] : judged.faults.map(shortened))];
      if (!judged.ok || faults.length > 0) {
        return refuseWhole(faults);
      }
      const { outcome, operation } = await store.importOperation(judged.operation, call.acting);
      return {
        kind: "body",
        status: outcome === "newVersion" ? 201 : 200,
        body: { operation, defaultsUsed: judged.defaultsUsed },
        location: `/api/operations/${operation.id}/versions/${operation.version}`,
      };
    },
  }),

  route({
    method: "get",
    path: "/api/operations",
    id: "listOperations",
    summary: "All operations with their latest versions, by name",
    params: none,
    query: none,
    body: null,
    answers: { 200: answers("The operations", operationListSchema) },
    problems: [],
    handle: async ({ store }) => ok({ operations: await store.listOperations() }),
  }),

  route({
    method: "get",
    path: "/api/operations/{operationId}",
    id: "latestOperation",
    summary: "The latest version of an operation",
    params: operationParams,
    query: none,
    body: null,
    answers: { 200: answers("The operation", operationVersionSchema) },
    problems: [404],
    async handle({ store }, { params }) {
      const found = await store.latestOperation(params.operationId);
      return found ? ok(found) : unknownThing("operation");
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
    answers: { 200: answers("The operation", operationVersionSchema) },
    problems: [404],
    async handle({ store }, { params }) {
      const found = await store.operationVersion(params.operationId, params.version);
      return found ? ok(found) : unknownThing("version of an operation");
    },
  }),
];
