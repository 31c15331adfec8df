import { z } from "zod";
import type { Operation } from "../../shared/model/operation.ts";
import type { ListResource } from "../../shared/model/resource.ts";
import { soughtSchema } from "./paging.ts";

type Path = readonly string[];
type Members = Readonly<Record<string, unknown>>;

/** What stands there is a list, since the document fits its schema. */
export function entriesAt(document: Operation, path: ListResource["path"]): readonly unknown[] {
  return (path as Path).reduce<unknown>((at, step) => (at as Members)[step], document) as readonly unknown[];
}

/** The document with other entries; nothing of the given one is changed. */
export function withEntriesAt(document: object, [first, ...rest]: Path, entries: readonly unknown[]): object {
  const inner = (document as Members)[first!];
  return { ...document, [first!]: rest.length === 0 ? entries : withEntriesAt(inner as object, rest, entries) };
}

/** An entry put in the place of the one with its key, or else at the end; undefined, which no body can be: taken away. */
export function withEntry({ keyOf }: ListResource, entries: readonly unknown[], key: string, sent: unknown): unknown[] {
  const at = entries.findIndex((entry) => keyOf(entry) === key);
  const put = sent === undefined ? [] : [sent];
  return at < 0 ? [...entries, ...put] : [...entries.slice(0, at), ...put, ...entries.slice(at + 1)];
}

/** Whether some text of the entry has `wanted` in it, whatever the case. */
export function hasText(entry: unknown, wanted: string): boolean {
  if (typeof entry === "string") return entry.toLowerCase().includes(wanted.toLowerCase());
  return typeof entry === "object" && entry !== null && Object.values(entry).some((inner) => hasText(inner, wanted));
}

/** What a list may be asked for, beside its page. */
export function filterQuery({ filters }: ListResource) {
  return z.object({
    text: soughtSchema.describe("those in which some text has this in it, whatever the case"),
    ...Object.fromEntries(filters.map(({ name, description }) => [name, soughtSchema.describe(description)])),
  });
}

export type Wanted = Readonly<Record<string, string | undefined>>;

export function isWanted({ filters }: ListResource, document: Operation, { text, ...wanted }: Wanted) {
  return (entry: unknown): boolean =>
    (text === undefined || hasText(entry, text)) &&
    filters.every(({ name, holds }) => {
      const value = wanted[name];
      return value === undefined || holds(entry, value, document);
    });
}
