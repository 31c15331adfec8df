import { consoleLog } from "../sight/log.ts";
import { createMetrics } from "../sight/metrics.ts";
import type { ToChildWorker } from "./childWorker.ts";
import { readSettings } from "./settings.ts";
import { sightOf } from "./sight.ts";
import { runWorker } from "./worker.ts";

/** The worker as serve starts it: it closes when it is told to, and never outlives the process that started it. */
process.on("disconnect", () => process.exit(1));
// Ctrl-C reaches every process of the terminal; the parent decides in which order they close.
process.on("SIGINT", () => undefined);
process.on("SIGTERM", () => undefined);
const hurry = new AbortController();
const closeWanted = new Promise<void>((resolve) => {
  process.on("message", (message: ToChildWorker) => {
    if (message === "figures") return;
    if (message === "hurry") hurry.abort();
    resolve();
  });
});

const read = readSettings(process.env);
if (!read.ok || read.settings.databaseUrl === null) throw new Error("the worker is started without a database");
const { databaseUrl, redisUrl, threads, runsAtOnce, drainSeconds, logForm } = read.settings;
const metrics = createMetrics("worker", null);
process.on("message", async (message: ToChildWorker) => {
  if (message === "figures") process.send?.({ figures: await metrics.figures() });
});
const sight = sightOf(consoleLog(logForm, "worker"), metrics);
const worker = await runWorker({ databaseUrl, redisUrl, threads, runsAtOnce, drainSeconds, ...sight });
await closeWanted;
await worker.close(hurry.signal);
process.exit(0);
