import { sleep } from "./processes.ts";
import type { RunningServer } from "./server.ts";

/** Our choice: a server that ends so often in a row, each time soon after its start, is given up: some nine minutes, in which a full disk may be seen to. */
const restartsMax = 24;
const wellAfterMs = 60_000;
const firstPauseMs = 250;
const longestPauseMs = 30_000;

/** Starts a server again whenever it ends unasked, with longer and longer pauses. `again` starts it where the first one stood, so that who is connected finds it again. */
export function keepRunning(
  first: RunningServer,
  again: () => Promise<RunningServer>,
  onEnd: (what: string) => void,
): RunningServer {
  let server = first;
  let stopping = false;
  let starting: Promise<void> | null = null;

  const died = (async () => {
    let inARow = 0;
    for (;;) {
      const startedMs = performance.now();
      await server.died;
      if (stopping) return new Promise<void>(() => undefined);
      if (performance.now() - startedMs > wellAfterMs) inARow = 0;
      let isUp = false;
      while (!isUp) {
        if (inARow === restartsMax) return;
        onEnd("The database has ended; starting it again.");
        starting = (async () => {
          await sleep(Math.min(longestPauseMs, firstPauseMs * 2 ** inARow));
          if (!stopping) server = await again();
        })();
        isUp = await starting.then(
          () => true,
          (error: Error) => {
            onEnd(error.message);
            return false;
          },
        );
        starting = null;
        inARow++;
        if (stopping) return new Promise<void>(() => undefined);
      }
      onEnd("The database is there again.");
    }
  })();

  return {
    databaseUrl: first.databaseUrl,
    died,
    async stop() {
      stopping = true;
      await starting?.catch(() => undefined);
      await server.stop();
    },
  };
}
