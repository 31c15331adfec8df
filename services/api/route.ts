import { z } from "zod";
import { featureCollectionSchema } from "../../shared/contracts/maps.ts";
import type { Problem } from "../../shared/contracts/problem.ts";
import type { AccessSettings } from "../access/accessSettings.ts";
import type { Mover } from "../moves/mover.ts";
import type { WorkQueue } from "../queue/queue.ts";
import type { Acting } from "../store/acting.ts";
import type { Store } from "../store/store.ts";
import type { ViewMaker } from "../views/viewMaker.ts";
import type { Actor } from "./caller.ts";
import { usualBodyBytes } from "./readBody.ts";
import type { Rendered, ViewCache } from "./viewCache.ts";

export interface ApiParts {
  readonly store: Store;
  /** Of plan requests. */
  readonly queue: WorkQueue;
  /** Of parts of studies. */
  readonly runs: WorkQueue;
  /** Judges and moves in a thread of its own. */
  readonly mover: Mover;
  /** Makes views and papers in threads of its own. */
  readonly maker: ViewMaker;
  readonly views: ViewCache;
  readonly access: AccessSettings;
  /** Told of what went wrong within us, and in which call; the caller only hears that something did. */
  readonly onError: (error: unknown, callId?: string) => void;
  /** Whether this server is about to stop, and should be sent no more callers. */
  readonly isClosing?: () => boolean;
  /** Told how many windows were worked out for a caller. */
  readonly onWindows?: (count: number) => void;
}

/** Sends one event; `end` closes the stream. The returned function is called when the stream is closed. */
export type EventSource = (send: (event: string, data: unknown) => void, end: () => void) => () => void;

export type Answer =
  | {
      readonly kind: "body";
      readonly status: number;
      readonly body: unknown;
      readonly location?: string;
      /** Without the quotes of the header. */
      readonly etag?: string;
      readonly headers?: Readonly<Record<string, string | string[]>>;
    }
  /** A view that is kept as it goes out; what it was made of has passed the route's schema. */
  | { readonly kind: "view"; readonly view: Rendered }
  | { readonly kind: "empty"; readonly etag?: string; readonly headers?: Readonly<Record<string, string | string[]>> }
  | { readonly kind: "events"; readonly source: EventSource }
  | { readonly kind: "problem"; readonly problem: Problem; readonly retryAfterS?: number };

export const ok = (body: unknown, etag?: string): Answer => ({
  kind: "body",
  status: 200,
  body,
  ...(etag === undefined ? {} : { etag }),
});

/** What of a thing has to be as the caller knows it: RFC 9110, section 13.1. */
export type Precondition = { readonly kind: "ifMatch"; readonly etags: readonly string[] } | { readonly kind: "ifNew" };

export type MediaType =
  | "application/json"
  | "text/event-stream"
  | "text/plain"
  | "text/csv"
  | "text/calendar"
  | "application/pdf"
  | "application/geo+json"
  | "application/vnd.google-earth.kml+xml"
  | "application/gpx+xml";

export interface AnswerSchema {
  readonly description: string;
  readonly schema: z.ZodType;
  readonly mediaType: MediaType;
  readonly locationHeader: boolean;
  readonly etagHeader: boolean;
}

export const eventStream: AnswerSchema = {
  description: "Server-sent events (WHATWG HTML, 9.2)",
  schema: z.string(),
  mediaType: "text/event-stream",
  locationHeader: false,
  etagHeader: false,
};

export const answers = (description: string, schema: z.ZodType): AnswerSchema => ({
  description,
  schema,
  mediaType: "application/json",
  locationHeader: false,
  etagHeader: false,
});

export const taggedAnswers = (description: string, schema: z.ZodType): AnswerSchema => ({
  ...answers(description, schema),
  etagHeader: true,
});

/** What is known of a file's content; all else is text in a form of its own. */
const fileSchemas: Readonly<Partial<Record<MediaType, z.ZodType>>> = {
  "application/pdf": z.unknown(),
  "application/geo+json": featureCollectionSchema,
};

/** A paper or a file: bytes in its own media type, under a name to be kept by. */
export const fileAnswers = (description: string, mediaType: MediaType): AnswerSchema => ({
  description,
  schema: fileSchemas[mediaType] ?? z.string(),
  mediaType,
  locationHeader: false,
  etagHeader: true,
});

/** One line of the API: what is served and what the OpenAPI document says of it come from here. */
export interface Route {
  readonly method: "get" | "post" | "put" | "delete";
  /** With parameters in braces, as in OpenAPI. */
  readonly path: string;
  readonly id: string;
  readonly summary: string;
  readonly params: z.ZodObject;
  readonly query: z.ZodObject;
  readonly body: z.ZodType | null;
  /** The body may be left out; then it is taken for {}. */
  readonly bodyOptional: boolean;
  /** More is refused before it is read. */
  readonly bodyBytesMax: number;
  /** Takes an Idempotency-Key: the same call sent twice under it counts once. */
  readonly once: boolean;
  /** Asks for If-Match or If-None-Match: *, so that nobody overwrites what somebody else has just changed. */
  readonly precondition: boolean;
  /** By status; 204 has no body. */
  readonly answers: Readonly<Record<number, AnswerSchema>>;
  /** Statuses of problems that are this route's own, beside those that any route may answer with. */
  readonly problems: readonly number[];
  readonly handle: (parts: ApiParts, input: RouteInput) => Promise<Answer>;
}

export interface RouteInput {
  readonly params: unknown;
  readonly query: unknown;
  readonly body: unknown;
  readonly call: Call;
}

/** What is known of a call beside what was sent. */
export interface Call {
  /** Null where nobody has signed in. */
  readonly actor: Actor | null;
  /** For the store: who does this. Where nobody has signed in it is the service. */
  readonly acting: Acting;
  /** Null where the route asks for none. */
  readonly precondition: Precondition | null;
  /** The caller's address, for throttling. */
  readonly address: string;
  header(name: string): string | undefined;
}

interface Shape<P extends z.ZodObject, Q extends z.ZodObject, B extends z.ZodType>
  extends Omit<
    Route,
    "params" | "query" | "body" | "bodyOptional" | "bodyBytesMax" | "once" | "precondition" | "handle"
  > {
  readonly once?: boolean;
  readonly precondition?: boolean;
  readonly bodyBytesMax?: number;
  readonly params: P;
  readonly query: Q;
  readonly body: { readonly schema: B; readonly optional: boolean } | null;
  readonly handle: (
    parts: ApiParts,
    input: { params: z.output<P>; query: z.output<Q>; body: z.output<B>; call: Call },
  ) => Promise<Answer>;
}

/** Ties the types of a handler's input to the schemas that it is parsed by. */
export function route<P extends z.ZodObject, Q extends z.ZodObject, B extends z.ZodType>(shape: Shape<P, Q, B>): Route {
  const { body, handle, query, ...rest } = shape;
  return {
    once: false,
    precondition: false,
    bodyBytesMax: usualBodyBytes,
    ...rest,
    // A name that nobody knows is told: what it was meant to do would else be left out in silence.
    query: query.strict(),
    body: body?.schema ?? null,
    bodyOptional: body?.optional ?? false,
    handle: (parts, input) =>
      handle(parts, {
        params: input.params as z.output<P>,
        query: input.query as z.output<Q>,
        body: input.body as z.output<B>,
        call: input.call,
      }),
  };
}
