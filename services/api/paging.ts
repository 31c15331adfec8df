import { z } from "zod";
import type { Stretch } from "../store/stretch.ts";
import { refuse } from "./problems.ts";
import type { Answer } from "./route.ts";

/** Our choice. */
const usualLimit = 100;
const mostLimit = 500;

/** What lists are asked with. */
export const pageQuery = z.object({
  limit: z.coerce.number().int().min(1).max(mostLimit).default(usualLimit).describe("at most so many"),
  cursor: z.string().max(2000).optional().describe("`next` of the page before; left out: the first page"),
});
export interface PageAsked {
  readonly limit: number;
  readonly cursor?: string | undefined;
}

/** A place in a list as the caller is handed it: opaque, so that nobody counts on what it is made of. */
export const cursorOf = (place: unknown): string => Buffer.from(JSON.stringify(place)).toString("base64url");

/** The place that a cursor names; undefined where it names none. */
export function placeOf<Place>(schema: z.ZodType<Place>, cursor: string): Place | undefined {
  try {
    const parsed = schema.safeParse(JSON.parse(Buffer.from(cursor, "base64url").toString()));
    return parsed.success ? parsed.data : undefined;
  } catch {
    return undefined;
  }
}

export const faultyCursor: Answer = refuse(400, "cursor: expected `next` of the page before.", []);

/** What is looked for in texts: the store cannot look for control characters and halves of characters. */
export const soughtSchema = z
  .string()
  .regex(/^[^\p{Cc}\p{Cs}]{1,200}$/u, { error: "1 to 200 characters, none of them a control character" })
  .optional();

/** Of a list whose entries are known by a text: one more than is told, to know whether something follows. Undefined: the cursor is faulty. */
export function stretchOf({ limit, cursor }: PageAsked, key: z.ZodType<string>): Stretch | undefined {
  const after = cursor === undefined ? null : placeOf(key, cursor);
  // No key of ours has it, and the store could not even look for it.
  return after === undefined || after?.includes("\u0000") ? undefined : { most: limit + 1, after };
}

export function pageOf<Entry>(
  { limit }: PageAsked,
  entries: readonly Entry[],
  keyOf: (entry: Entry) => string,
): { readonly entries: readonly Entry[]; readonly next: string | null } {
  const told = entries.slice(0, limit);
  return { entries: told, next: entries.length > limit ? cursorOf(keyOf(told.at(-1)!)) : null };
}
