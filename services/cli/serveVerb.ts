import { consoleLog } from "../sight/log.ts";
import { createMetrics } from "../sight/metrics.ts";
import { serveMetrics } from "../sight/metricsServer.ts";
import { endSignals } from "./endSignals.ts";
import { BadInput, exitCodes } from "./output.ts";
import { serve } from "./serve.ts";
import { readServiceSettings } from "./serviceSettings.ts";
import { sightOf } from "./sight.ts";
import { runWorker } from "./worker.ts";

export async function serveVerb({ worker }: { readonly worker: boolean }): Promise<number> {
  const settings = readServiceSettings();
  const { exitCode } = await serve({ settings, withWorker: worker, log: consoleLog(settings.logForm, "serve") });
  return exitCode;
}

/** Works until SIGINT or SIGTERM, then lets what runs end for a while, and hands back what it has not finished; on a second one at once. */
export async function workerVerb(): Promise<number> {
  const { databaseUrl, redisUrl, threads, runsAtOnce, drainSeconds, logForm, metrics: at } = readServiceSettings();
  if (databaseUrl === null) {
    throw new BadInput(["DATABASE_URL is not set; expected the store that the API uses, as postgres://user@host/name"]);
  }
  const { stopWanted, hurry } = endSignals();
  const log = consoleLog(logForm, "worker");
  const metrics = createMetrics("worker", null);
  const metricsServer = at && (await serveMetrics(at.host, at.port, () => metrics.text([])));
  const sight = sightOf(log, metrics);
  const worker = await runWorker({ databaseUrl, redisUrl, threads, runsAtOnce, drainSeconds, ...sight });
  log.say("The worker is ready.");
  await stopWanted;
  await worker.close(hurry);
  await metricsServer?.close();
  return exitCodes.good;
}
