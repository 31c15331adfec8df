/** Where a value stands in an operation: property names and places in lists. */
export type Path = (string | number)[];

/** One thing that is wrong with an input: where, what stands there, and what should. */
export interface Fault {
  path: Path;
  value: unknown;
  expected: string;
}

/** A path as people write it: orders[3].products[0].productId. */
export function pathText(path: Path): string {
  return path
    .map((step, at) => (typeof step === "number" || step === "*" ? `[${step}]` : at === 0 ? step : `.${step}`))
    .join("");
}

/** Another place that a fault speaks of: entries of a table are counted, since there they are rows. */
export function otherPlaceText(path: Path): string {
  return path.length <= 3 && typeof path[1] === "number" ? `entry ${path[1] + 1} of ${path[0]}` : pathText(path);
}

export function valueAt(root: unknown, path: Path): unknown {
  let at = root;
  for (const step of path) {
    if (typeof at !== "object" || at === null) return undefined;
    at = (at as Record<string | number, unknown>)[step];
  }
  return at;
}

const longestValue = 80;

/** A value in one line, cut short when it is long. */
export function valueText(value: unknown): string {
  if (value === undefined) return "nothing";
  const text = typeof value === "number" ? String(value) : JSON.stringify(value);
  return text.length <= longestValue ? text : `${text.slice(0, longestValue - 1)}…`;
}
