import { type ChildProcess, fork } from "node:child_process";
import { fileURLToPath } from "node:url";

const restartAfterMs = 1_000;
const closesWithinMs = 15_000;

export interface ChildWorker {
  close(): Promise<void>;
}

/** Runs the worker in a process of its own, started again whenever it ends, until it is closed. */
export function startChildWorker(
  connections: { readonly databaseUrl: string; readonly redisUrl: string | null },
  onRestart: (how: string) => void,
): ChildWorker {
  const script = fileURLToPath(new URL("./workerChild.ts", import.meta.url));
  const loader = import.meta.resolve("tsx");
  let closing = false;
  let timer: NodeJS.Timeout | undefined;
  let child = start();

  function start(): ChildProcess {
    const { databaseUrl, redisUrl } = connections;
    // By the environment, because everybody on the machine can read a command line.
    const env = { ...process.env, DATABASE_URL: databaseUrl, REDIS_URL: redisUrl ?? "", CALMHOUR_SECRET: "" };
    const started = fork(script, { execArgv: ["--import", loader], env });
    started.once("exit", (code, signal) => {
      if (closing) return;
      onRestart(signal ?? `code ${code}`);
      timer = setTimeout(() => {
        child = start();
      }, restartAfterMs);
    });
    return started;
  }

  return {
    async close() {
      closing = true;
      clearTimeout(timer);
      if (child.exitCode !== null || child.signalCode !== null) return;
      const ended = new Promise<void>((resolve) => child.once("exit", () => resolve()));
      if (child.connected) child.send("close");
      const kill = setTimeout(() => child.kill("SIGKILL"), closesWithinMs);
      await ended;
      clearTimeout(kill);
    },
  };
}
