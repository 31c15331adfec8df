import type { Fault, Path } from "../model/faults.ts";
import { knownWords } from "../model/misspelling.ts";

const none: readonly Fault[] = [];

interface Named {
  readonly id: string;
}

export function unknown(things: readonly Named[], id: string, path: Path): Fault[] {
  const known = things.map((thing) => thing.id);
  return known.includes(id) ? [] : [{ path, value: id, expected: knownWords([id], known) }];
}

export function withThing<Thing extends Named>(
  things: readonly Thing[],
  id: string,
  path: Path,
  change: (thing: Thing) => readonly Fault[],
): readonly Fault[] {
  const thing = things.find((one) => one.id === id);
  return thing === undefined ? unknown(things, id, path) : change(thing);
}

export function take(things: Named[], id: string, path: Path): Fault[] {
  const at = things.findIndex((thing) => thing.id === id);
  if (at < 0) return unknown(things, id, path);
  things.splice(at, 1);
  return [];
}

export function move<Thing extends Named & { baseId: unknown }>(
  things: readonly Thing[],
  id: string,
  baseId: Thing["baseId"],
  path: Path,
) {
  return withThing(things, id, path, (thing) => {
    thing.baseId = baseId;
    return none;
  });
}

export function give<Thing extends Named>(things: Thing[], id: string, set: object, path: Path) {
  return withThing(things, id, path, (thing) => {
    things[things.indexOf(thing)] = merged(thing, set);
    return none;
  });
}

/** Objects are merged member by member, everything else takes the other's place; null takes a member away. */
export function merged<Thing extends object>(thing: Thing, set: object): Thing {
  const result = { ...copyOf(thing) } as Record<string, unknown>;
  for (const [key, value] of Object.entries(set)) {
    const before = result[key];
    if (value === null) delete result[key];
    else result[key] = isPlain(value) && isPlain(before) ? merged(before, value) : value;
  }
  return result as Thing;
}

/** Plain data through and through, shared with nobody. (`structuredClone` is not known where there is neither Node nor browser.) */
export function copyOf<Data>(data: Data): Data {
  if (Array.isArray(data)) return data.map(copyOf) as Data;
  if (!isPlain(data)) return data;
  return Object.fromEntries(Object.entries(data).map(([key, value]) => [key, copyOf(value)])) as Data;
}

function isPlain(value: unknown): value is object {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

const idLongest = 64;

/** Not taken: the id of what it is like with -new, -new-2 and so on behind it. */
export function newId<Id extends string>(things: readonly { readonly id: Id }[], like: string): Id {
  const taken = new Set<string>(things.map(({ id }) => id));
  for (let count = 1; ; count++) {
    const end = count === 1 ? "-new" : `-new-${count}`;
    const id = `${like.slice(0, idLongest - end.length)}${end}`;
    if (!taken.has(id)) return id as Id;
  }
}
