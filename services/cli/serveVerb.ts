import { consoleLog } from "../sight/log.ts";
import { createMetrics } from "../sight/metrics.ts";
import { serveMetrics } from "../sight/metricsServer.ts";
import { BadInput, exitCodes } from "./output.ts";
import { serve } from "./serve.ts";
import { readSettings, type ServiceSettings } from "./settings.ts";
import { sightOf } from "./sight.ts";
import { runWorker } from "./worker.ts";

export function readServiceSettings(): ServiceSettings {
  const read = readSettings(process.env);
  if (!read.ok) throw new BadInput([read.message]);
  return read.settings;
}

export async function serveVerb({ worker }: { readonly worker: boolean }): Promise<number> {
  const settings = readServiceSettings();
  const { exitCode } = await serve({ settings, withWorker: worker, log: consoleLog(settings.logForm, "serve") });
  return exitCode;
}

/** Works until SIGINT or SIGTERM, then hands back what it has not finished. */
export async function workerVerb(): Promise<number> {
  const { databaseUrl, redisUrl, threads, runsAtOnce, logForm, metrics: metricsAt } = readServiceSettings();
  if (databaseUrl === null) {
    throw new BadInput(["DATABASE_URL is not set; expected the store that the API uses, as postgres://user@host/name"]);
  }
  const stop = new Promise<void>((resolve) => {
    for (const signal of ["SIGINT", "SIGTERM"] as const) process.once(signal, () => resolve());
  });
  const log = consoleLog(logForm, "worker");
  const metrics = createMetrics("worker", null);
  const metricsServer = metricsAt && (await serveMetrics(metricsAt.host, metricsAt.port, () => metrics.text([])));
  const worker = await runWorker({ databaseUrl, redisUrl, threads, runsAtOnce, ...sightOf(log, metrics) });
  log.say("The worker is ready.");
  await stop;
  await worker.close();
  await metricsServer?.close();
  return exitCodes.good;
}
