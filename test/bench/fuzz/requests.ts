import * as fc from "fast-check";
import { arbitraryOf, type Json } from "./arbitraryOf.ts";
import { hostileBodies, hostileHeaders, hostilePaths, hostileTexts, hostileValues, otherMethods } from "./hostile.ts";

export interface Sent {
  /** For the table of what was sent. */
  readonly kind: Kind;
  /** The route that it is made of, by the document; null where it is none. */
  readonly route: string | null;
  readonly method: string;
  readonly path: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly body: string | Buffer | null;
}
export const kinds = ["valid", "nearly valid", "garbage", "hostile", "elsewhere"] as const;
export type Kind = (typeof kinds)[number];

/** What is there to be named: values of path parameters and ETags, as the server has told them. */
export interface Seen {
  readonly params: ReadonlyMap<string, readonly string[]>;
  /** By path, as it was read or written last. */
  readonly etags: ReadonlyMap<string, string>;
  /** Answers by path, which may be sent back there. */
  readonly bodies: ReadonlyMap<string, string>;
}

/** Stands for the ETag that the path has when the request is sent. */
export const latestEtag = "the latest";

interface Operation {
  readonly id: string;
  readonly method: string;
  readonly template: string;
  readonly parameters: readonly { name: string; in: string; required?: boolean; schema: Json }[];
  readonly body: { readonly schema: Json; readonly example: unknown; readonly required: boolean } | null;
}

/** Requests made of the document: what it allows, what is a step beside it, and what nobody should send. */
export function requestsOf(document: Json): (seen: Seen) => fc.Arbitrary<Sent> {
  const made = arbitraryOf(document);
  const operations = operationsOf(document);

  return (seen) => {
    const valid = fc.constantFrom(...operations).chain((operation) => validOf(operation, seen, "valid"));
    return fc.oneof(
      { weight: 34, arbitrary: valid },
      { weight: 28, arbitrary: valid.chain(nearly) },
      { weight: 12, arbitrary: valid.chain(garbled) },
      { weight: 18, arbitrary: valid.chain((sent) => hostileOf(sent, seen)) },
      { weight: 8, arbitrary: elsewhere },
    );
  };

  function validOf({ id, method, template, parameters, body }: Operation, seen: Seen, kind: Kind): fc.Arbitrary<Sent> {
    const entries = parameters.map((parameter) => {
      const known = seen.params.get(parameter.name) ?? [];
      const fresh = made(parameter.schema).map(String);
      const one =
        known.length > 0
          ? fc.oneof({ weight: 9, arbitrary: fc.constantFrom(...known) }, { weight: 1, arbitrary: fresh })
          : fresh;
      if (parameter.in === "path") return one;
      if (parameter.name === "If-Match") {
        const others = [...seen.etags.values()];
        const stale = others.length > 0 ? fc.constantFrom(...others) : fresh;
        return fc.oneof({ weight: 8, arbitrary: fc.constant(latestEtag) }, { weight: 1, arbitrary: stale });
      }
      if (parameter.name === "If-None-Match") return fc.option(fc.constant("*"), { freq: 2 });
      return parameter.required ? fresh : fc.option(fresh, { freq: 2 });
    });
    const bodyValue =
      body === null
        ? fc.constant(undefined)
        : body.example === undefined
          ? made(body.schema)
          : fc.oneof({ weight: 2, arbitrary: fc.constant(body.example) }, { weight: 1, arbitrary: made(body.schema) });
    return fc.tuple(fc.tuple(...entries), bodyValue, fc.boolean()).map(([values, sentBody, sendsBack]) => {
      let path = template;
      const query = new URLSearchParams();
      const headers: Record<string, string> = {};
      parameters.forEach((parameter, at) => {
        const value = values[at];
        if (value === null || value === undefined) return;
        if (parameter.in === "path") path = path.replace(`{${parameter.name}}`, encoded(value));
        else if (parameter.in === "query") query.set(parameter.name, value);
        else headers[parameter.name.toLowerCase()] = value.replace(/[^\x20-\x7e]/g, "");
      });
      if (body !== null) headers["content-type"] = "application/json";
      const search = query.size > 0 ? `?${query}` : "";
      return {
        kind,
        route: id,
        method,
        path: path + search,
        headers,
        body: body === null ? null : ((sendsBack ? seen.bodies.get(path) : undefined) ?? JSON.stringify(sentBody)),
      };
    });
  }

  /** One to three places of a body, or one of the path, are not what they should be. */
  function nearly(sent: Sent): fc.Arbitrary<Sent> {
    if (sent.body === null)
      return fc.constantFrom(...hostileTexts).map((text) => ({ ...withPathPart(sent, text), kind: "nearly valid" }));
    return fc
      .array(fc.tuple(fc.nat(), fc.constantFrom("drop", "replace", "add", "twice"), hostileValues), {
        minLength: 1,
        maxLength: 3,
      })
      .map((steps) => {
        let value: unknown = JSON.parse(String(sent.body));
        for (const [seed, how, hostile] of steps) value = changed(value, seed, how, hostile);
        return { ...sent, kind: "nearly valid" as const, body: JSON.stringify(value) ?? "" };
      });
  }

  function garbled(sent: Sent): fc.Arbitrary<Sent> {
    return fc
      .oneof(
        fc.uint8Array({ maxLength: 200 }).map((bytes) => Buffer.from(bytes)),
        fc.string({ maxLength: 200, unit: "binary" }),
        fc
          .nat()
          .map((at) => (sent.body === null ? "x" : String(sent.body).slice(0, at % (String(sent.body).length + 1)))),
        fc.json(),
      )
      .map((body) => ({
        ...sent,
        kind: "garbage",
        body,
        headers: { ...sent.headers, "content-type": "application/json" },
      }));
  }

  function hostileOf(sent: Sent, _seen: Seen): fc.Arbitrary<Sent> {
    return fc.oneof(
      fc.constantFrom(...hostileBodies).map((body) => ({
        ...sent,
        kind: "hostile" as const,
        body: body(),
        headers: { ...sent.headers, "content-type": "application/json" },
      })),
      fc
        .constantFrom(...hostileHeaders)
        .map((headers) => ({ ...sent, kind: "hostile" as const, headers: { ...sent.headers, ...headers } })),
      fc.constantFrom(...hostileTexts).map((text) => ({ ...withPathPart(sent, text), kind: "hostile" as const })),
      fc.constantFrom(...otherMethods).map((method) => ({ ...sent, kind: "hostile" as const, method })),
    );
  }
}

const elsewhere: fc.Arbitrary<Sent> = fc
  .tuple(fc.constantFrom("GET", "POST", ...otherMethods), fc.oneof(fc.constantFrom(...hostilePaths), fc.webPath()))
  .map(([method, path]) => ({
    kind: "elsewhere",
    route: null,
    method,
    path: path === "" ? "/" : path,
    headers: {},
    body: null,
  }));

function operationsOf(document: Json): Operation[] {
  const paths = document.paths as Record<string, Record<string, Json>>;
  return Object.entries(paths).flatMap(([template, methods]) =>
    Object.entries(methods).map(([method, operation]): Operation => {
      const request = operation.requestBody as
        | { required?: boolean; content: Record<string, { schema: Json; example?: unknown }> }
        | undefined;
      const content = request?.content["application/json"];
      return {
        id: String(operation.operationId),
        method: method.toUpperCase(),
        template,
        parameters: (operation.parameters ?? []) as Operation["parameters"],
        body: content
          ? {
              schema: content.schema,
              example: content.example,
              required: request?.required ?? false,
            }
          : null,
      };
    }),
  );
}

function withPathPart(sent: Sent, text: string): Sent {
  const [path, search] = sent.path.split("?") as [string, string | undefined];
  const parts = path.split("/");
  parts[parts.length - 1 - (text.length % 2)] = encoded(text);
  return { ...sent, path: parts.join("/") + (search === undefined ? "" : `?${search}`) };
}

/** Halves of surrogate pairs have no UTF-8 and go out as U+FFFD. */
const encoded = (text: string) => encodeURIComponent(Buffer.from(text).toString());

/** One place of a value, found by a number. */
function changed(value: unknown, seed: number, how: string, hostile: unknown): unknown {
  if (Array.isArray(value) && value.length > 0) {
    const at = seed % value.length;
    if (how === "drop" && seed % 3 === 0) return value.toSpliced(at, 1);
    if (how === "twice" && seed % 3 === 0) return [...value, value[at]];
    return value.with(at, changed(value[at], Math.floor(seed / value.length), how, hostile));
  }
  if (typeof value === "object" && value !== null && Object.keys(value).length > 0) {
    const keys = Object.keys(value);
    const key = keys[seed % keys.length]!;
    const deeper = Math.floor(seed / keys.length);
    if (how === "add" && deeper % 2 === 0) return { ...value, [String(hostile).slice(0, 50)]: hostile };
    if (how === "drop" && deeper % 2 === 0) {
      const { [key]: _, ...rest } = value as Json;
      return rest;
    }
    return { ...value, [key]: changed((value as Json)[key], deeper, how, hostile) };
  }
  return hostile;
}
