/** Why the store cannot be used just now, though nothing is wrong with what was asked; and when it may be worth asking again. */
export interface StoreTrouble {
  readonly kind: "unreachable" | "busy" | "full";
  readonly retryAfterS: number;
}

const troubles = {
  unreachable: { kind: "unreachable", retryAfterS: 5 },
  busy: { kind: "busy", retryAfterS: 2 },
  full: { kind: "full", retryAfterS: 60 },
} as const;

/** PostgreSQL manual, appendix A: class 08 is the connection, 53 too few resources, 57P its end by an operator or a crash. */
const codes: Readonly<Record<string, StoreTrouble>> = {
  "53100": troubles.full,
  "53200": troubles.busy,
  "53300": troubles.busy,
  "53400": troubles.busy,
  // Writing or reading a file has failed, as on a full or broken disk.
  "58030": troubles.full,
  // A server that only reads: a replica, or one that its operator has stopped from growing.
  "25006": troubles.unreachable,
  // Sessions ended because they stood idle in a transaction.
  "25P03": troubles.busy,
  "25P04": troubles.busy,
  // Two that wait for each other, a lock or a statement that took too long.
  "40001": troubles.busy,
  "40P01": troubles.busy,
  "55P03": troubles.busy,
  "57014": troubles.busy,
  ECONNREFUSED: troubles.unreachable,
  ECONNRESET: troubles.unreachable,
  ENOTFOUND: troubles.unreachable,
  EAI_AGAIN: troubles.unreachable,
  EHOSTUNREACH: troubles.unreachable,
  ENETUNREACH: troubles.unreachable,
  ETIMEDOUT: troubles.unreachable,
  EPIPE: troubles.unreachable,
};

/** What pg says without a code (lib/client.js and pg-pool, 8.23). */
const words: readonly (readonly [RegExp, StoreTrouble])[] = [
  [/^Connection terminated/, troubles.unreachable],
  [/^Client (has encountered a connection error|was closed) and is not queryable/, troubles.unreachable],
  [/^Query read timeout/, troubles.unreachable],
  [/^timeout expired/, troubles.unreachable],
  [/^timeout exceeded when trying to connect/, troubles.busy],
];

/** Null: the error is another one. The one place that knows how the database's troubles look. */
export function storeTrouble(error: unknown): StoreTrouble | null {
  if (!(error instanceof Error)) return null;
  const { code } = error as { code?: unknown };
  if (typeof code === "string") {
    const known = codes[code] ?? (/^(08|57P)/.test(code) ? troubles.unreachable : null);
    if (known) return known;
  }
  const said = words.find(([pattern]) => pattern.test(error.message));
  if (said) return said[1];
  // Where a name has several addresses, each attempt's error lies within.
  const within = error instanceof AggregateError ? [...error.errors, error.cause] : [error.cause];
  return within.map(storeTrouble).find((trouble) => trouble !== null) ?? null;
}
