import { consoleLog } from "../sight/log.ts";
import { createMetrics } from "../sight/metrics.ts";
import { readSettings } from "./settings.ts";
import { sightOf } from "./sight.ts";
import { runWorker } from "./worker.ts";

/** The worker as serve starts it: it closes when it is told to, and never outlives the process that started it. */
process.on("disconnect", () => process.exit(1));
// Ctrl-C reaches every process of the terminal; the parent decides in which order they close.
process.on("SIGINT", () => undefined);
process.on("SIGTERM", () => undefined);
const closeWanted = new Promise<void>((resolve) => {
  process.on("message", (message) => {
    if (message === "close") resolve();
  });
});

const read = readSettings(process.env);
if (!read.ok || read.settings.databaseUrl === null) throw new Error("the worker is started without a database");
const { databaseUrl, redisUrl, threads, runsAtOnce, logForm } = read.settings;
const metrics = createMetrics("worker", null);
process.on("message", async (message) => {
  if (message === "figures") process.send?.({ figures: await metrics.figures() });
});
const sight = sightOf(consoleLog(logForm, "worker"), metrics);
const worker = await runWorker({ databaseUrl, redisUrl, threads, runsAtOnce, ...sight });
await closeWanted;
await worker.close();
process.exit(0);
