import type { Operation } from "./operation.ts";
import { listResources } from "./resources.ts";

/** What of one kind of thing another document has more, less or otherwise, by what people call it. */
export interface ThingsChanged {
  /** As the resource is named in addresses. */
  readonly name: string;
  readonly added: readonly string[];
  readonly removed: readonly string[];
  readonly changed: readonly string[];
  readonly same: number;
}

type Keyed = ReadonlyMap<string, unknown>;

/** Both documents have passed the schema, which puts members in its order. */
const isEqual = (one: unknown, other: unknown) => JSON.stringify(one) === JSON.stringify(other);

/** What `after` has otherwise than `before`, kind by kind; kinds without a difference are left out. Null: there was nothing before. */
export function documentDifference(before: Operation | null, after: Operation): readonly ThingsChanged[] {
  const earlier = before === null ? null : thingsOf(before);
  return [...thingsOf(after)]
    .map(([name, present]) => thingsChanged(name, earlier?.get(name) ?? new Map(), present))
    .filter(({ added, changed, removed }) => added.length + removed.length + changed.length > 0);
}

function thingsChanged(name: string, before: Keyed, after: Keyed): ThingsChanged {
  const both = [...after.keys()].filter((key) => before.has(key));
  const changed = both.filter((key) => !isEqual(before.get(key), after.get(key)));
  return {
    name,
    added: [...after.keys()].filter((key) => !before.has(key)),
    removed: [...before.keys()].filter((key) => !after.has(key)),
    changed,
    same: both.length - changed.length,
  };
}

/** Settings by their members, weather by its stations, roads by their ends; all else as it is in addresses. */
function thingsOf(operation: Operation): ReadonlyMap<string, Keyed> {
  const lists = listResources.map(({ keyOf, name, path }) => {
    const entries = path.reduce<unknown>((at, step) => (at as Record<string, unknown>)[step], operation);
    return [name, new Map((entries as readonly unknown[]).map((entry) => [keyOf(entry), entry]))] as const;
  });
  // Both are lists of their own.
  const { bases: _, waterPoints: __, ...settings } = operation.settings;
  return new Map<string, Keyed>([
    ...lists,
    ["settings", new Map(Object.entries(settings).filter(([, value]) => value !== undefined))],
    ["weather", stepsByStation(operation)],
    ["roads", new Map(operation.roads.map((road) => [`${road.from} to ${road.to}`, road]))],
    ["hire", new Map((operation.fleet.hire ?? []).map((offer, at) => [`${offer.kind} ${at + 1}`, offer]))],
  ]);
}

function stepsByStation({ weather }: Operation): Keyed {
  const steps = new Map<string, unknown[]>();
  for (const step of weather) {
    const known = steps.get(step.stationId);
    if (known) known.push(step);
    else steps.set(step.stationId, [step]);
  }
  return steps;
}
