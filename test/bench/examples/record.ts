import { routeTable } from "../../../services/api/routeTable.ts";
import { everybodysToken } from "./house.ts";

export interface Example {
  body?: unknown;
  answer?: { status: number; body: unknown };
}
export type Examples = Record<string, Example>;

export interface Asked {
  /** For the parameters in the route's path, in their order. */
  readonly at?: readonly string[];
  readonly query?: string;
  readonly body?: unknown;
  readonly headers?: Readonly<Record<string, string>>;
  /** By whom; left out: by somebody who may do everything. */
  readonly as?: Readonly<Record<string, string>>;
}

export interface Told<Body> {
  readonly status: number;
  readonly headers: Headers;
  readonly body: Body;
}

/** Calls routes by their ids, and keeps what was sent and answered the first time that it went well. */
export function createRecorder(origin: string) {
  const examples: Examples = {};
  async function call<Body = unknown>(id: string, asked: Asked = {}): Promise<Told<Body>> {
    const route = routeTable.find((one) => one.id === id);
    if (!route) throw new Error(`there is no route ${id}`);
    const given = [...(asked.at ?? [])];
    const path = route.path.replace(/\{[^}]+\}/g, () => encodeURIComponent(given.shift()!));
    const response = await fetch(`${origin}${path}${asked.query ? `?${asked.query}` : ""}`, {
      method: route.method.toUpperCase(),
      headers: {
        ...(asked.as ?? { authorization: `Bearer ${everybodysToken}` }),
        ...(asked.body === undefined ? {} : { "content-type": "application/json" }),
        ...asked.headers,
      },
      ...(asked.body === undefined ? {} : { body: JSON.stringify(asked.body) }),
    });
    const text = await response.text();
    const isJson = response.headers.get("content-type")?.includes("json") ?? false;
    const body: unknown = isJson ? JSON.parse(text) : null;
    if (!response.ok) throw new Error(`${id} ${path}: ${response.status} ${text.slice(0, 1000)}`);
    if (examples[id] === undefined) {
      examples[id] = {
        ...(asked.body === undefined ? {} : { body: asked.body }),
        ...(isJson ? { answer: { status: response.status, body } } : {}),
      };
    }
    return { status: response.status, headers: response.headers, body: body as Body };
  }
  return { examples, call };
}
