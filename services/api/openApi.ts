import { z } from "zod";
import { problemMediaType } from "../../shared/contracts/problem.ts";
import { accessTable, personOnly } from "./access.ts";
import { examples } from "./examples.ts";
import { namedSchemas, schemaName } from "./namedSchemas.ts";
import type { AnswerSchema, Route } from "./route.ts";

type JsonSchema = Record<string, unknown>;

/** What any route may answer when it is called wrongly or something breaks. */
const commonProblems: Readonly<Record<number, string>> = {
  400: "What was sent cannot be read",
  401: "Nobody has signed in, or what was shown holds no more",
  403: "This is not the caller's to see or do, or the call comes from another site's page",
  413: "What was sent is too large",
  415: "What was sent is not JSON",
  421: "The host in the request is not ours",
  500: "Something went wrong on our side",
  503: "Not just now: the database does not answer, is too busy or full, or we are stopping; Retry-After says when again",
};
const ownProblems: Readonly<Record<number, string>> = {
  409: "It cannot be done as things stand",
  412: "It has been changed since it was read, or is there already",
  428: "If-Match or If-None-Match is missing",
  429: "Too often; Retry-After says when again",
  404: "There is no such thing",
  422: "What was sent is faulty; `faults` lists everything that is wrong",
};

/** OpenAPI 3.1.0, whose schemas are JSON Schema 2020-12, which is what zod writes. */
export function openApiDocument(routes: readonly Route[]): JsonSchema {
  const paths: Record<string, JsonSchema> = {};
  for (const route of routes) {
    paths[route.path] = { ...paths[route.path], [route.method]: operationObject(route) };
  }
  return {
    openapi: "3.1.0",
    info: {
      title: "Calmhour",
      version: "0.1.0",
      description:
        "Plans a week of aerial spraying and spreading. Times are whole minutes since local midnight of the operation's first day, or ISO 8601.",
    },
    servers: [{ url: "/" }],
    paths,
    components: { schemas: namedComponents(paths), responses: problemComponents(), securitySchemes },
  };
}

const securitySchemes = {
  token: { type: "http", scheme: "bearer", description: "A token made at /api/tokens" },
  session: {
    type: "apiKey",
    in: "cookie",
    name: "calmhour",
    description: "Set on signing in; over https it is named __Host-calmhour",
  },
  csrf: {
    type: "apiKey",
    in: "header",
    name: "X-CSRF-Token",
    description: "csrfToken of /api/session, beside the cookie wherever something is changed",
  },
};

/** Any one of these will do. */
function securityOf({ id, method }: Route): JsonSchema[] {
  if (accessTable[id]?.nobody === "yes") return [];
  const session = method === "get" ? { session: [] } : { session: [], csrf: [] };
  return personOnly.has(id) ? [session] : [{ token: [] }, session];
}

function operationObject(route: Route): JsonSchema {
  const parameters = [
    ...parametersOf(route.params, "path"),
    ...parametersOf(route.query, "query"),
    ...headersOf(route),
  ];
  return {
    operationId: route.id,
    summary: route.summary,
    security: securityOf(route),
    ...(parameters.length > 0 ? { parameters } : {}),
    ...(route.body
      ? {
          requestBody: {
            required: !route.bodyOptional,
            content: {
              "application/json": { schema: jsonSchema(route.body, "input"), ...exampleOf(examples[route.id]?.body) },
            },
          },
        }
      : {}),
    responses: {
      ...Object.fromEntries(
        Object.entries(route.answers).map(([status, answer]) => [
          status,
          status === "204" ? { description: answer.description } : responseObject(route, status, answer),
        ]),
      ),
      ...(isKept(route) ? { 304: { description: "The caller has it already: If-None-Match names its ETag" } } : {}),
      ...problemResponses(route),
    },
  };
}

/** What is read under a tag need not be sent again: RFC 9110, section 13.1.2. Express gives one to whatever has none. */
const isKept = ({ method, answers }: Route) =>
  method === "get" && Object.values(answers).every(({ mediaType }) => mediaType !== "text/event-stream");

function parametersOf(schema: z.ZodObject, place: "path" | "query"): JsonSchema[] {
  const { properties, required } = jsonSchema(schema, "input") as {
    properties: Record<string, JsonSchema>;
    required?: string[];
  };
  return Object.entries(properties).map(([name, property]) => ({
    name,
    in: place,
    required: place === "path" || (required ?? []).includes(name),
    schema: property,
  }));
}

/** RFC 9110, section 13.1; Idempotency-Key as in draft-ietf-httpapi-idempotency-key-header-07. */
function headersOf(route: Route): JsonSchema[] {
  const header = (name: string, description: string) => ({
    name,
    in: "header",
    required: false,
    description,
    schema: { type: "string" },
  });
  return [
    ...(isKept(route)
      ? [header("If-None-Match", "the ETag of what the caller has: it is not sent again while it is the same")]
      : []),
    ...(route.precondition
      ? [
          header("If-Match", "the ETag of what is changed, as it was read; this or If-None-Match"),
          header("If-None-Match", "* where there is nothing yet that is changed"),
        ]
      : []),
    ...(route.once
      ? [
          header(
            "Idempotency-Key",
            "a text of your own, 1 to 200 visible characters: the same call sent again under it counts once",
          ),
        ]
      : []),
  ];
}

const exampleOf = (example: unknown) => (example === undefined ? {} : { example });

function responseObject(route: Route, status: string, answer: AnswerSchema): JsonSchema {
  const shown = examples[route.id]?.answer;
  const headers = {
    ...(answer.locationHeader ? { Location: { schema: { type: "string" }, description: "Where to read it" } } : {}),
    ...(answer.etagHeader
      ? { ETag: { schema: { type: "string" }, description: "Names what is read, for If-Match" } }
      : {}),
  };
  return {
    description: answer.description,
    ...(Object.keys(headers).length > 0 ? { headers } : {}),
    content: {
      [answer.mediaType]: {
        schema: jsonSchema(answer.schema, "output"),
        ...exampleOf(shown?.status === Number(status) ? shown.body : undefined),
      },
    },
  };
}

const retryAfter = { "Retry-After": { schema: { type: "integer" }, description: "Seconds" } };

function problemResponses(route: Route): JsonSchema {
  const isStream = Object.values(route.answers).some(({ mediaType }) => mediaType === "text/event-stream");
  const asked = [
    ...(route.precondition ? [412, 428] : []),
    ...(route.path.includes("{") ? [404] : []),
    ...(isStream ? [429] : []),
    ...(route.once ? [422] : []),
  ];
  const all = [...Object.keys(commonProblems), ...asked, ...route.problems].map(String);
  return Object.fromEntries(all.map((status) => [status, { $ref: `#/components/responses/${problemName(status)}` }]));
}

const problemName = (status: string | number) => `Problem${status}`;

function problemComponents(): Record<string, JsonSchema> {
  return Object.fromEntries(
    Object.entries({ ...commonProblems, ...ownProblems }).map(([status, description]) => [
      problemName(status),
      {
        description,
        ...(status === "503" || status === "429" ? { headers: retryAfter } : {}),
        content: { [problemMediaType]: { schema: { $ref: "#/components/schemas/Problem" } } },
      },
    ]),
  );
}

/** Schemas with a name stand once in the document; what is sent has fewer members that must be there than what is answered. */
function jsonSchema(schema: z.ZodType, io: "input" | "output"): JsonSchema {
  return schemaOf(schema, io, null);
}

const componentName = (name: string, io: "input" | "output") => (io === "input" ? `${name}Sent` : name);

/** Those that something in the document is told by. */
function namedComponents(paths: object): Record<string, JsonSchema> {
  const ways = namedSchemas.flatMap((schema) => (["output", "input"] as const).map((io) => ({ schema, io })));
  const all = new Map(
    ways.map(({ schema, io }) => [componentName(schemaName(schema)!.name, io), schemaOf(schema, io, schema)] as const),
  );
  const used = new Map<string, JsonSchema>([["Problem", all.get("Problem")!]]);
  const use = (told: object) => {
    for (const [, name] of JSON.stringify(told).matchAll(/"#\/components\/schemas\/(\w+)"/g)) {
      if (used.has(name!)) continue;
      used.set(name!, all.get(name!)!);
      use(all.get(name!)!);
    }
  };
  use(paths);
  return Object.fromEntries(used);
}

/** `self`: the schema whose own component is being written. */
function schemaOf(schema: z.ZodType, io: "input" | "output", self: z.ZodType | null): JsonSchema {
  const { $schema: _, ...rest } = z.toJSONSchema(standIn(schema) ?? schema, {
    io,
    unrepresentable: "any",
    override: ({ zodSchema, jsonSchema: target }) => {
      const named = schemaName(zodSchema as unknown as z.ZodType);
      if (named !== null && named.named !== self) {
        const { description } = target;
        for (const key of Object.keys(target)) delete (target as JsonSchema)[key];
        Object.assign(target, { $ref: `#/components/schemas/${componentName(named.name, io)}` });
        if (description !== undefined) target.description = description;
        return;
      }
      const told = standIn(zodSchema as unknown as z.ZodType);
      if (told) {
        delete target.standsFor;
        Object.assign(target, schemaOf(told, io, self));
      }
      // Our transforms only brand a text; what goes in comes out.
      if (zodSchema instanceof z.ZodPipe && zodSchema.out instanceof z.ZodTransform) {
        Object.assign(target, schemaOf(zodSchema.in as z.ZodType, io, self));
      }
    },
  });
  return rest;
}

/** What is judged elsewhere is told by another schema than the one that it is parsed by. */
function standIn(schema: z.ZodType): z.ZodType | null {
  const { standsFor } = schema.meta?.() ?? {};
  return standsFor instanceof z.ZodType ? standsFor : null;
}
