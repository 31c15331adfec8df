import { z } from "zod";
import { pageDefault, pageMax } from "../../shared/contracts/paging.ts";
import type { Stretch } from "../store/stretch.ts";

/** What a list is asked by; `after`: what its entries are known by. */
export function pageQuery(after: z.ZodType<string>) {
  const isCursor = (cursor: string) => after.safeParse(textOf(cursor)).success;
  return z.object({
    limit: z.coerce
      .number()
      .int()
      .min(1)
      .max(pageMax)
      .default(pageDefault)
      .describe(`entries at most; ${pageDefault} when left out`),
    cursor: z
      .string()
      .max(2000)
      .refine(isCursor, "`next` of an answer of this list")
      .optional()
      .describe("`next` of an answer: what follows it"),
  });
}

export interface PageAsked {
  readonly limit: number;
  readonly cursor?: string | undefined;
}

/** One more than is told, to know whether something follows. */
export function stretchOf({ limit, cursor }: PageAsked): Stretch {
  return { most: limit + 1, after: cursor === undefined ? null : textOf(cursor) };
}

export function pageOf<Entry>(
  { limit }: PageAsked,
  entries: readonly Entry[],
  keyOf: (entry: Entry) => string,
): { readonly entries: readonly Entry[]; readonly next: string | null } {
  const told = entries.slice(0, limit);
  return { entries: told, next: entries.length > limit ? cursorOf(keyOf(told.at(-1)!)) : null };
}

const cursorOf = (key: string) => Buffer.from(key).toString("base64url");
const textOf = (cursor: string) => Buffer.from(cursor, "base64url").toString();
