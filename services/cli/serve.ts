import { fileURLToPath } from "node:url";
import type { AccessSettings } from "../access/accessSettings.ts";
import { ownSecret } from "../access/ownSecret.ts";
import { createApp } from "../api/app.ts";
import { createAuthentication } from "../api/authenticate.ts";
import { listen } from "../api/listen.ts";
import { createMover } from "../moves/mover.ts";
import { connectQueue } from "../queue/connect.ts";
import { partQueue, planQueue } from "../queue/queue.ts";
import { connectStore } from "../store/connect.ts";
import { FolderInUse, startEmbedded } from "../store/embedded.ts";
import { startChildWorker } from "./childWorker.ts";
import { endSignals } from "./endSignals.ts";
import { firstStart } from "./firstStart.ts";
import { planDemo } from "./planDemo.ts";
import type { ServiceSettings } from "./settings.ts";

export interface ServeOptions {
  readonly settings: ServiceSettings;
  /** False when workers run on their own, as in the containers. */
  readonly withWorker: boolean;
  readonly say: (line: string) => void;
}

const pageFolder = fileURLToPath(new URL("../web/dist", import.meta.url));
/** Beside the time that a worker lets go on what runs. */
const closesWithinMs = 30_000;

/** Runs everything until SIGINT or SIGTERM, then closes it in the order that nothing loses what it stands on. */
export async function serve({ settings, withWorker, say }: ServeOptions): Promise<{ readonly exitCode: number }> {
  if (settings.databaseUrl !== null && settings.secret === null) {
    say(
      "Not started: CALMHOUR_SECRET is not set. With DATABASE_URL it has to be given: 32 random characters or more, the same for every server on that database.",
    );
    return { exitCode: 2 };
  }
  const toClose: (() => Promise<void>)[] = [];
  const onError = (error: unknown) => say(`! ${error instanceof Error ? error.message : String(error)}`);
  const { stopWanted, hurry, stopListening } = endSignals();
  try {
    let databaseUrl = settings.databaseUrl;
    let databaseDied = new Promise<void>(() => undefined);
    if (databaseUrl === null) {
      const database = await startEmbedded(settings.dataFolder);
      toClose.push(database.stop);
      databaseUrl = database.databaseUrl;
      databaseDied = database.died;
      if (database.keptElsewhere !== null) {
        say(`The data is in ${database.keptElsewhere}: the database's account cannot get into ${settings.dataFolder}.`);
      }
    }
    const store = await connectStore({ databaseUrl, onConnectionError: onError });
    toClose.push(() => store.close());
    const connections = { databaseUrl, redisUrl: settings.redisUrl, onConnectionError: onError };
    const queue = await connectQueue({ kind: planQueue, ...connections });
    toClose.push(() => queue.close());
    const runs = await connectQueue({ kind: partQueue(1), ...connections });
    toClose.push(() => runs.close());
    if (withWorker) {
      const worker = startChildWorker({ databaseUrl, redisUrl: settings.redisUrl }, (how) =>
        say(`The worker has ended (${how}); starting it again.`),
      );
      toClose.push(() => worker.close(settings.drainSeconds, hurry));
    }
    const mover = createMover({ onError });
    toClose.push(() => mover.close());
    const access: AccessSettings = {
      secret: settings.secret ?? ownSecret(settings.dataFolder),
      origin: settings.origin,
    };
    const authenticate = createAuthentication(store, access);
    const app = createApp({ store, queue, runs, mover, access, onError, pageFolder, authenticate });
    const bound = await listen(app, { host: settings.host, port: settings.port, orNext: !settings.portGiven });
    if (bound.status === "portTaken") {
      say(`Port ${bound.port} is taken.`);
      return { exitCode: 1 };
    }
    toClose.push(() => bound.api.close());
    const address =
      settings.origin ??
      `http://${settings.host.includes(":") ? `[${settings.host}]` : settings.host}:${bound.api.port}`;
    say(`Calmhour is at ${address}`);
    await firstStart({ store, address, say });

    if (withWorker) planDemo({ store, queue, say, stopWanted }).catch(onError);
    const why = await Promise.race([stopWanted, databaseDied.then(() => "databaseDied" as const)]);
    if (why === "databaseDied") say("The database has ended; stopping.");
    return { exitCode: why === "databaseDied" ? 1 : 0 };
  } catch (error) {
    if (!(error instanceof FolderInUse)) throw error;
    say(`Not started: ${error.message}.`);
    return { exitCode: 1 };
  } finally {
    // What hangs must not keep a stopped Calmhour alive.
    setTimeout(() => process.exit(1), closesWithinMs + settings.drainSeconds * 1000).unref();
    for (const close of toClose.reverse()) await close().catch(onError);
    stopListening();
  }
}
