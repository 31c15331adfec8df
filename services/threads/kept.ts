/** The things that were asked for last, so many of them. */
export interface Kept<Thing> {
  get(key: string): Thing | undefined;
  put(key: string, thing: Thing): void;
}

export function createKept<Thing>(most: number): Kept<Thing> {
  // A map keeps the order in which keys came: the first is the one that was asked for the longest ago.
  const things = new Map<string, Thing>();
  const put = (key: string, thing: Thing) => {
    things.delete(key);
    things.set(key, thing);
    for (const oldest of things.keys()) {
      if (things.size <= most) break;
      things.delete(oldest);
    }
  };
  return {
    get(key) {
      const thing = things.get(key);
      if (thing !== undefined) put(key, thing);
      return thing;
    },
    put,
  };
}
