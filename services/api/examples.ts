import { readFileSync } from "node:fs";

/** What was sent to a route and what it answered, on the small scenario; `npm run bench -- examples` writes them. */
interface Example {
  readonly body?: unknown;
  readonly answer?: { readonly status: number; readonly body: unknown };
}

const file = new URL("../../scenarios/api-examples.json", import.meta.url);

/** By the route's id. */
export const examples = JSON.parse(readFileSync(file, "utf8")) as Readonly<Record<string, Example>>;
