import type { z } from "zod";
import type { Operation } from "./operation.ts";

/** A member of the document. */
export type PartName = keyof Operation;

export interface ResourceFilter {
  readonly name: string;
  readonly description: string;
  readonly holds: (entry: unknown, wanted: string, parts: Operation) => boolean;
}

/** A list of the operation whose entries are read and changed one by one. */
export interface ListResource {
  readonly kind: "list";
  /** In addresses: what people call several of it. */
  readonly name: string;
  readonly one: string;
  /** Name of the key in addresses. */
  readonly keyName: string;
  readonly keySchema: z.ZodType<string>;
  readonly entrySchema: z.ZodType;
  readonly keyOf: (entry: unknown) => string;
  readonly path: readonly [PartName, ...string[]];
  /** Parts that filters look at beside the list's own. */
  readonly beside: readonly PartName[];
  readonly filters: readonly ResourceFilter[];
}

/** What is read and changed as a whole. */
export interface WholeResource {
  readonly kind: "whole";
  readonly name: string;
  readonly one: string;
  readonly parts: readonly PartName[];
  readonly schema: z.ZodType;
  /** What is asked of a body before the document that comes of it is judged as a whole. */
  readonly sentSchema: z.ZodType;
  readonly read: (parts: Operation) => unknown;
  readonly write: (document: Operation, sent: unknown) => unknown;
}

interface ListShape<Entry> {
  readonly one: string;
  readonly keyName: string;
  readonly keySchema: z.ZodType<string>;
  readonly entrySchema: z.ZodType<Entry>;
  readonly keyOf: (entry: Entry) => string;
  readonly path: ListResource["path"];
  readonly beside?: readonly PartName[];
  readonly filters?: Readonly<Record<string, Filter<Entry>>>;
}
type Filter<Entry> = readonly [description: string, holds: (entry: Entry, wanted: string, parts: Operation) => boolean];

/** What stands at the list's path fits its schema, as the document that it is read from does. */
export function list<Entry>(name: string, { filters = {}, ...shape }: ListShape<Entry>): ListResource {
  return {
    kind: "list",
    name,
    beside: [],
    ...shape,
    keyOf: (entry) => shape.keyOf(entry as Entry),
    filters: Object.entries(filters).map(([filterName, [description, holds]]) => ({
      name: filterName,
      description,
      holds: (entry, wanted, parts) => holds(entry as Entry, wanted, parts),
    })),
  };
}

/** A thing that is its document's only one of its kind. */
export function whole<Sent>(
  name: string,
  shape: Omit<WholeResource, "kind" | "name" | "write"> & {
    readonly sentSchema: z.ZodType<Sent>;
    readonly write: (document: Operation, sent: Sent) => unknown;
  },
): WholeResource {
  return { kind: "whole", name, ...shape, write: (document, sent) => shape.write(document, sent as Sent) };
}
