import { z } from "zod";
import { importAnswerSchema } from "../../../shared/contracts/operations.ts";
import { resourceListSchema } from "../../../shared/contracts/resources.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import type { ListResource, WholeResource } from "../../../shared/model/resource.ts";
import { listResources, wholeResources } from "../../../shared/model/resources.ts";
import { changeResource } from "../changeResource.ts";
import { etagOf } from "../etags.ts";
import { entriesAt, filterQuery, isWanted, type Wanted, withEntriesAt, withEntry } from "../listEntries.ts";
import { faultyCursor, type PageAsked, pageOf, pageQuery, stretchOf } from "../paging.ts";
import { refuse, unknownThing } from "../problems.ts";
import { wholeBodyBytes } from "../readBody.ts";
import { listRouteIds, wholeRouteIds } from "../resourceIds.ts";
import { answers, ok, type Route, route } from "../route.ts";
import { none, operationParams } from "./parameters.ts";

const withEtag = (description: string, schema: z.ZodType) => ({ ...answers(description, schema), etagHeader: true });
const changed = "The version that has come of it, or the latest where nothing has changed";

/** What may be sent is told by the thing's schema; it is judged with the document that comes of it, and faults are told by their places there. */
const judgedLater = (schema: z.ZodType) => ({ schema: z.unknown().meta({ standsFor: schema }), optional: false });

function listRoutes(resource: ListResource): Route[] {
  const { name, one, keyName, path, entrySchema, keyOf } = resource;
  const ids = listRouteIds(resource);
  const address = `/api/operations/{operationId}/${name}`;
  const entryAddress = `${address}/{${keyName}}`;
  // The name of the key is known only here, so the type of the parameters does not tell it.
  const entryParams = operationParams.extend({
    [keyName]: resource.keySchema,
  }) as z.ZodObject as typeof operationParams;
  const keyIn = (params: object) => (params as Record<string, string>)[keyName]!;
  const find = (document: Operation, key: string) => entriesAt(document, path).find((entry) => keyOf(entry) === key);
  const made = (key: string, sent: unknown) => (document: Operation) =>
    withEntriesAt(document, path, withEntry(resource, entriesAt(document, path), key, sent));

  return [
    route({
      method: "get",
      path: address,
      id: ids.list,
      summary: `The ${name.replaceAll("-", " ")} of the latest version, in the order of the document`,
      params: operationParams,
      query: pageQuery.extend(filterQuery(resource).shape),
      body: null,
      answers: { 200: answers("They, each with its ETag", resourceListSchema(entrySchema)) },
      problems: [404],
      async handle({ store }, { params: { operationId }, query }) {
        const latest = await store.latestParts(operationId, [path[0], ...resource.beside]);
        if (!latest) return unknownThing("operation");
        const { limit, cursor, ...wanted } = query as PageAsked & Wanted;
        const stretch = stretchOf({ limit, cursor }, resource.keySchema);
        if (!stretch) return faultyCursor;
        const { most, after } = stretch;
        const all = entriesAt(latest.parts, path);
        const before = after === null ? -1 : all.findIndex((entry) => keyOf(entry) === after);
        if (after !== null && before < 0) {
          return refuse(400, "What the cursor stands at is gone: read the list from its beginning.", []);
        }
        const fits = isWanted(resource, latest.parts, wanted);
        const page = pageOf(
          { limit },
          all
            .slice(before + 1)
            .filter(fits)
            .slice(0, most),
          keyOf,
        );
        return ok({
          version: latest.operation.version,
          total: all.filter(fits).length,
          entries: page.entries.map((entry) => ({ key: keyOf(entry), etag: etagOf(entry), entry })),
          next: page.next,
        });
      },
    }),

    route({
      method: "get",
      path: entryAddress,
      id: ids.read,
      summary: `One ${one} of the latest version`,
      params: entryParams,
      query: none,
      body: null,
      answers: { 200: withEtag(`The ${one}`, entrySchema) },
      problems: [404],
      async handle({ store }, { params }) {
        const latest = await store.latestParts(params.operationId, [path[0]]);
        const entry = latest ? find(latest.parts, keyIn(params)) : undefined;
        return entry === undefined ? unknownThing(one) : ok(entry, etagOf(entry));
      },
    }),

    route({
      method: "put",
      path: entryAddress,
      id: ids.put,
      summary: `Change one ${one}, or add one: a new version of the operation, judged as a whole`,
      params: entryParams,
      query: none,
      precondition: true,
      body: judgedLater(entrySchema),
      answers: { 200: withEtag(changed, importAnswerSchema), 201: withEtag(changed, importAnswerSchema) },
      problems: [404, 422],
      async handle({ store }, { params, body, call }) {
        const key = keyIn(params);
        const parsed = entrySchema.safeParse(body);
        if (parsed.success && keyOf(parsed.data) !== key) {
          const fault = { path: [], value: keyOf(parsed.data), expected: `${key}, as in the address` };
          return refuse(422, "This would be another one.", [fault]);
        }
        return changeResource(
          store,
          params.operationId,
          {
            details: { resource: name, key },
            present: (document) => find(document, key),
            put: { sent: body, schema: entrySchema },
            made: made(key, body),
          },
          call,
        );
      },
    }),

    route({
      method: "delete",
      path: entryAddress,
      id: ids.remove,
      summary: `Take one ${one} away: a new version of the operation, judged as a whole`,
      params: entryParams,
      query: none,
      precondition: true,
      body: null,
      answers: { 200: answers(changed, importAnswerSchema) },
      problems: [404, 422],
      handle: ({ store }, { params, call }) =>
        changeResource(
          store,
          params.operationId,
          {
            details: { resource: name, key: keyIn(params) },
            present: (document) => find(document, keyIn(params)),
            put: null,
            made: made(keyIn(params), undefined),
          },
          call,
        ),
    }),
  ];
}

function wholeRoutes(resource: WholeResource): Route[] {
  const { name, one, parts, schema, sentSchema, read, write } = resource;
  const ids = wholeRouteIds(resource);
  const address = `/api/operations/{operationId}/${name}`;
  return [
    route({
      method: "get",
      path: address,
      id: ids.read,
      summary: `The ${one} of the latest version`,
      params: operationParams,
      query: none,
      body: null,
      answers: { 200: withEtag(`The ${one}`, schema) },
      problems: [404],
      async handle({ store }, { params }) {
        const latest = await store.latestParts(params.operationId, parts);
        if (!latest) return unknownThing("operation");
        const thing = read(latest.parts);
        return ok(thing, etagOf(thing));
      },
    }),

    route({
      method: "put",
      path: address,
      id: ids.put,
      summary: `Other ${one}: a new version of the operation, judged as a whole`,
      params: operationParams,
      query: none,
      precondition: true,
      bodyBytesMax: wholeBodyBytes,
      body: { schema: sentSchema.meta({ standsFor: schema }), optional: false },
      answers: { 200: withEtag(changed, importAnswerSchema) },
      problems: [404, 422],
      handle: ({ store }, { params, body, call }) =>
        changeResource(
          store,
          params.operationId,
          {
            details: { resource: name },
            present: read,
            put: { sent: body, schema },
            made: (document) => write(document, body),
          },
          call,
        ),
    }),
  ];
}

export const resourceRoutes: readonly Route[] = [
  ...listResources.flatMap(listRoutes),
  ...wholeResources.flatMap(wholeRoutes),
];
