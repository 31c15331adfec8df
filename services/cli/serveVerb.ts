import { endSignals } from "./endSignals.ts";
import { BadInput, exitCodes, print, remark } from "./output.ts";
import { serve } from "./serve.ts";
import { readSettings, type ServiceSettings } from "./settings.ts";
import { runWorker } from "./worker.ts";

export function readServiceSettings(): ServiceSettings {
  const read = readSettings(process.env);
  if (!read.ok) throw new BadInput([read.message]);
  return read.settings;
}

export async function serveVerb({ worker }: { readonly worker: boolean }): Promise<number> {
  const { exitCode } = await serve({ settings: readServiceSettings(), withWorker: worker, say: print });
  return exitCode;
}

/** Works until SIGINT or SIGTERM, then lets what runs end for a while, and hands back what it has not finished; on a second one at once. */
export async function workerVerb(): Promise<number> {
  const { databaseUrl, redisUrl, threads, runsAtOnce, drainSeconds } = readServiceSettings();
  if (databaseUrl === null) {
    throw new BadInput(["DATABASE_URL is not set; expected the store that the API uses, as postgres://user@host/name"]);
  }
  const { stopWanted, hurry } = endSignals();
  const onError = (error: Error) => remark(`worker: ${error.message}`);
  const worker = await runWorker({ databaseUrl, redisUrl, threads, runsAtOnce, drainSeconds, onError });
  print("The worker is ready.");
  await stopWanted;
  await worker.close(hurry);
  return exitCodes.good;
}
