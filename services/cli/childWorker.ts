import { type ChildProcess, fork } from "node:child_process";
import { fileURLToPath } from "node:url";
import type { Figures } from "../sight/metrics.ts";

const restartAfterMs = 1_000;
const closesWithinMs = 15_000;

export type ToChildWorker = "close" | "hurry" | "figures";

/** A worker that is busy starting, or gone, has no figures just now. */
const figuresWithinMs = 1_000;

export interface ChildWorker {
  /** What it counts; null: it does not say. */
  figures(): Promise<Figures | null>;
  /** Lets go on what runs for so long, or until `hurry` is aborted. */
  close(drainSeconds: number, hurry: AbortSignal): Promise<void>;
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
    const startAgain = (how: string) => {
      if (closing || started !== child) return;
      onRestart(how);
      clearTimeout(timer);
      timer = setTimeout(() => {
        child = start();
      }, restartAfterMs);
    };
    started.once("exit", (code, signal) => startAgain(signal ?? `code ${code}`));
    // Also of a message to one that is just ending, which its end follows.
    started.on("error", (error) => {
      if (started.pid === undefined) startAgain(error.message);
    });
    return started;
  }

  return {
    figures() {
      const asked = child;
      if (!asked.connected) return Promise.resolve(null);
      return new Promise((resolve) => {
        const hear = (message: unknown) => {
          if (isFigures(message)) end(message.figures);
        };
        const timer = setTimeout(() => end(null), figuresWithinMs);
        const end = (figures: Figures | null) => {
          clearTimeout(timer);
          asked.off("message", hear);
          resolve(figures);
        };
        asked.on("message", hear);
        asked.send("figures", (error) => {
          if (error) end(null);
        });
      });
    },
    async close(drainSeconds, hurry) {
      closing = true;
      clearTimeout(timer);
      if (child.pid === undefined || child.exitCode !== null || child.signalCode !== null) return;
      const ended = new Promise<void>((resolve) => child.once("exit", () => resolve()));
      const tell = (message: ToChildWorker) => {
        if (child.connected) child.send(message);
      };
      const onHurry = () => tell("hurry");
      tell("close");
      hurry.addEventListener("abort", onHurry);
      if (hurry.aborted) onHurry();
      const kill = setTimeout(() => child.kill("SIGKILL"), drainSeconds * 1000 + closesWithinMs);
      await ended;
      hurry.removeEventListener("abort", onHurry);
      clearTimeout(kill);
    },
  };
}

function isFigures(message: unknown): message is { figures: Figures } {
  return typeof message === "object" && message !== null && "figures" in message && Array.isArray(message.figures);
}
