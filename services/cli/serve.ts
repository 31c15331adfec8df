import { existsSync } from "node:fs";
import { setTimeout as sleep } from "node:timers/promises";
import { fileURLToPath } from "node:url";
import { type AccessSettings, isHttps } from "../access/accessSettings.ts";
import { ownSecret } from "../access/ownSecret.ts";
import { createApp } from "../api/app.ts";
import { createAuthentication } from "../api/authenticate.ts";
import { listen } from "../api/listen.ts";
import { isLoopback, loopbackNames } from "../api/security.ts";
import { createMover } from "../moves/mover.ts";
import { connectQueue } from "../queue/connect.ts";
import { partQueue, planQueue } from "../queue/queue.ts";
import type { Log } from "../sight/log.ts";
import { createMetrics } from "../sight/metrics.ts";
import { serveMetrics } from "../sight/metricsServer.ts";
import { connectStore, NewerStore } from "../store/connect.ts";
import { FolderInUse, startEmbedded } from "../store/embedded.ts";
import type { Store } from "../store/store.ts";
import { createViewMaker } from "../views/viewMaker.ts";
import { type ChildWorker, startChildWorker } from "./childWorker.ts";
import { endSignals } from "./endSignals.ts";
import { firstStart } from "./firstStart.ts";
import { planDemo } from "./planDemo.ts";
import type { ServiceSettings } from "./settings.ts";
import { sightOf } from "./sight.ts";

export interface ServeOptions {
  readonly settings: ServiceSettings;
  /** False when workers run on their own, as in the containers. */
  readonly withWorker: boolean;
  readonly log: Log;
}

const pageFolder = fileURLToPath(new URL("../web/dist", import.meta.url));
/** Beside the time that a worker lets go on what runs. */
const closesWithinMs = 30_000;
/** Our choice: as long as most ask in between. */
const noticeMs = 5_000;

/** Runs everything until SIGINT or SIGTERM, then closes it in the order that nothing loses what it stands on. */
export async function serve({ settings, withWorker, log }: ServeOptions): Promise<{ readonly exitCode: number }> {
  const { say } = log;
  if (settings.databaseUrl !== null && settings.secret === null) {
    say(
      "Not started: CALMHOUR_SECRET is not set. With DATABASE_URL it has to be given: 32 random characters or more, the same for every server on that database.",
    );
    return { exitCode: 2 };
  }
  const toClose: (() => Promise<void>)[] = [];
  let store: Store | null = null;
  const metrics = createMetrics("api", {
    backlog: async () => (await store?.backlog().catch(() => null)) ?? null,
    pool: () => store?.poolUse() ?? { open: 0, idle: 0, waiting: 0 },
  });
  const { onError, onCall } = sightOf(log, metrics);
  let isClosing = false;
  const { stopWanted, hurry, stopListening } = endSignals();
  try {
    let databaseUrl = settings.databaseUrl;
    let databaseDied = new Promise<void>(() => undefined);
    if (databaseUrl === null) {
      const database = await startEmbedded(settings.dataFolder, say);
      toClose.push(database.stop);
      databaseUrl = database.databaseUrl;
      databaseDied = database.died;
      if (database.keptElsewhere !== null) {
        say(`The data is in ${database.keptElsewhere}: the database's account cannot get into ${settings.dataFolder}.`);
      }
    }
    const stored = await connectStore({ databaseUrl, onConnectionError: onError });
    store = stored;
    toClose.push(() => stored.close());
    const connections = { databaseUrl, redisUrl: settings.redisUrl, onConnectionError: onError };
    const queue = await connectQueue({ kind: planQueue, ...connections });
    toClose.push(() => queue.close());
    const runs = await connectQueue({ kind: partQueue(1), ...connections });
    toClose.push(() => runs.close());
    let worker: ChildWorker | null = null;
    if (withWorker) {
      worker = startChildWorker({ databaseUrl, redisUrl: settings.redisUrl }, (how) =>
        say(`The worker has ended (${how}); starting it again.`),
      );
      const { close } = worker;
      toClose.push(() => close(settings.drainSeconds, hurry));
    }
    if (settings.metrics) {
      const { host, port } = settings.metrics;
      const server = await serveMetrics(host, port, async () => {
        const figures = await worker?.figures();
        return metrics.text(figures ? [figures] : []);
      });
      toClose.push(server.close);
    }
    const mover = createMover({ onError });
    toClose.push(() => mover.close());
    const maker = createViewMaker({ onError });
    toClose.push(() => maker.close());
    const access: AccessSettings = {
      secret: settings.secret ?? ownSecret(settings.dataFolder),
      origin: settings.origin,
    };
    const app = createApp({
      store: stored,
      queue,
      runs,
      mover,
      maker,
      onError,
      onCall,
      onWindows: metrics.onWindows,
      isClosing: () => isClosing,
      pageFolder,
      access,
      authenticate: createAuthentication(stored, access),
      ...(isLoopback(settings.host) ? { hosts: ownNames(settings) } : {}),
    });
    const bound = await listen(app, { host: settings.host, port: settings.port, orNext: !settings.portGiven });
    if (bound.status === "portTaken") {
      say(`Port ${bound.port} is taken.`);
      return { exitCode: 1 };
    }
    toClose.push(() => bound.api.close());
    const address = settings.origin ?? `http://${namedHost(settings.host)}:${bound.api.port}`;
    say(`Calmhour is at ${address}`);
    if (!existsSync(pageFolder)) say("Its screens have not been built: npm run build. The API is there without them.");
    if (!isLoopback(settings.host) && !isHttps(access)) {
      say(
        "Other machines reach this address, and passwords go there unencrypted: put a server with https before it, and set CALMHOUR_ORIGIN.",
      );
    }
    await firstStart({ store: stored, address, say: log.sayHere });

    if (withWorker) planDemo({ store: stored, queue, say, stopWanted }).catch(onError);
    const why = await Promise.race([stopWanted, databaseDied.then(() => "databaseDied" as const)]);
    if (why === "databaseDied") say("The database has ended; stopping.");
    isClosing = true;
    // Who sends callers here learns of it from /health/ready, and sends them elsewhere.
    if (why === "signal" && !isLoopback(settings.host)) await sleep(noticeMs);
    return { exitCode: why === "databaseDied" ? 1 : 0 };
  } catch (error) {
    if (!(error instanceof FolderInUse || error instanceof NewerStore)) throw error;
    say(`Not started: ${error.message}.`);
    return { exitCode: 1 };
  } finally {
    // What hangs must not keep a stopped Calmhour alive.
    setTimeout(() => process.exit(1), closesWithinMs + settings.drainSeconds * 1000).unref();
    for (const close of toClose.reverse()) await close().catch(onError);
    stopListening();
  }
}

/** As it stands in an address; of every address of this machine the one that is sure to be there. */
function namedHost(host: string): string {
  if (host === "0.0.0.0" || host === "::") return "localhost";
  return host.includes(":") ? `[${host}]` : host;
}

function ownNames({ host, origin }: ServiceSettings): string[] {
  return [...loopbackNames, host, ...(origin === null ? [] : [new URL(origin).hostname])];
}
