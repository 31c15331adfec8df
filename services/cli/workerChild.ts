import type { ToChildWorker } from "./childWorker.ts";
import { readSettings } from "./settings.ts";
import { runWorker } from "./worker.ts";

/** The worker as serve starts it: it closes when it is told to, and never outlives the process that started it. */
process.on("disconnect", () => process.exit(1));
// Ctrl-C reaches every process of the terminal; the parent decides in which order they close.
process.on("SIGINT", () => undefined);
process.on("SIGTERM", () => undefined);
const hurry = new AbortController();
const closeWanted = new Promise<void>((resolve) => {
  process.on("message", (message: ToChildWorker) => {
    if (message === "hurry") hurry.abort();
    resolve();
  });
});

const onError = (error: Error) => process.stderr.write(`worker: ${error.message}\n`);
const read = readSettings(process.env);
if (!read.ok || read.settings.databaseUrl === null) throw new Error("the worker is started without a database");
const { databaseUrl, redisUrl, threads, runsAtOnce, drainSeconds } = read.settings;
const worker = await runWorker({ databaseUrl, redisUrl, threads, runsAtOnce, drainSeconds, onError });
await closeWanted;
await worker.close(hurry.signal);
process.exit(0);
