import type { Operation } from "../../../../../shared/model/operation.ts";
import { optionsIn, withIds } from "../form/context.ts";
import { entriesOf, keyOf, type ThingName } from "./things.ts";

/** What people call the things of a kind, by their keys: names; ids where there is none, or where two have the same. */
export function titlesOf(kind: ThingName, operation: Operation): ReadonlyMap<string, string> {
  const bases = optionsIn(operation, "bases");
  const types = optionsIn(operation, "aircraft-types");
  const wordsIn = (options: typeof bases, id: string) => options.find(({ value }) => value === id)?.words ?? id;
  const titled = entriesOf(kind, operation).map((entry) => {
    const key = keyOf(kind, entry);
    if (kind === "battery-stocks") {
      const { aircraftTypeId, baseId } = entry as Operation["fleet"]["batteryStocks"][number];
      return { value: key, words: `${wordsIn(types, aircraftTypeId)}, ${wordsIn(bases, baseId)}` };
    }
    const { name, properties } = entry as { name?: string; properties?: { name?: string } };
    return { value: key, words: name ?? properties?.name ?? key };
  });
  return new Map(withIds(titled).map(({ value, words }) => [value, words]));
}
