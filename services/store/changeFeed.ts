import pg from "pg";

export const changeChannel = "changed";
const reconnectMs = 500;
const connectWithinMs = 3_000;
/** Notices may be lost while a connection is being renewed: every watcher is asked to look again this often. */
const lookAgainMs = 2000;

export interface ChangeFeed {
  watch(id: string, onChange: () => void): () => void;
  close(): Promise<void>;
}

/** Listens on a connection of its own for the notices that the store sends with every change of a plan request or study. */
export function createChangeFeed(options: {
  databaseUrl: string;
  onConnectionError: (error: Error) => void;
}): ChangeFeed {
  const watchers = new Map<string, Set<() => void>>();
  let client: pg.Client | null = null;
  let closed = false;
  let retry: NodeJS.Timeout | undefined;
  const tellAll = () => {
    for (const set of watchers.values()) for (const onChange of set) onChange();
  };

  function listen(): void {
    if (client || closed) return;
    const fresh = new pg.Client({
      connectionString: options.databaseUrl,
      keepAlive: true,
      connectionTimeoutMillis: connectWithinMs,
    });
    client = fresh;
    const renew = (error: Error) => {
      if (client !== fresh) return;
      client = null;
      fresh.end().catch(() => undefined);
      if (closed) return;
      options.onConnectionError(error);
      retry = setTimeout(listen, reconnectMs);
    };
    fresh.on("error", renew);
    fresh.on("end", () => renew(new Error("the connection for notices has ended")));
    fresh.on("notification", ({ payload }) => {
      for (const onChange of watchers.get(payload ?? "") ?? []) onChange();
    });
    fresh
      .connect()
      .then(() => fresh.query(`listen ${changeChannel}`))
      .then(tellAll, renew);
  }

  const lookAgain = setInterval(tellAll, lookAgainMs);
  lookAgain.unref();

  return {
    watch(id, onChange) {
      const set = watchers.get(id) ?? new Set();
      watchers.set(id, set.add(onChange));
      listen();
      return () => {
        set.delete(onChange);
        if (set.size === 0 && watchers.get(id) === set) watchers.delete(id);
      };
    },
    async close() {
      closed = true;
      clearInterval(lookAgain);
      clearTimeout(retry);
      watchers.clear();
      await client?.end().catch(() => undefined);
    },
  };
}
