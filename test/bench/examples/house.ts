import { createApp } from "../../../services/api/app.ts";
import { createAuthentication } from "../../../services/api/authenticate.ts";
import { listen } from "../../../services/api/listen.ts";
import { createMover } from "../../../services/moves/mover.ts";
import { connectQueue } from "../../../services/queue/connect.ts";
import { partQueue, planQueue, type QueueKind } from "../../../services/queue/queue.ts";
import { connectStore } from "../../../services/store/connect.ts";
import type { Store } from "../../../services/store/store.ts";
import { createViewMaker } from "../../../services/views/viewMaker.ts";
import { concludeStudy } from "../../../services/worker/concludeStudy.ts";
import { startPartWorker } from "../../../services/worker/partWorker.ts";
import { startPlanWorker } from "../../../services/worker/planWorker.ts";
import { access, everybody } from "../../support/acting.ts";
import { startTestDatabase, temporaryFolder } from "../../support/servers.ts";

/** Who calls with this token may do everything; all others are known as they always are. */
export const everybodysToken = "everybody";

/** All of the service in one process, on an empty store. */
export async function openHouse(): Promise<{ origin: string; store: Store; close(): Promise<void> }> {
  const database = await startTestDatabase();
  const { databaseUrl } = database;
  const onError = (error: unknown) => console.error(error);
  const open = (kind: QueueKind) => connectQueue({ kind, databaseUrl, redisUrl: null, onConnectionError: onError });
  const store = await connectStore({ databaseUrl, onConnectionError: onError });
  const [queue, runs, mover] = [await open(planQueue), await open(partQueue(1)), createMover({ onError })];
  const maker = createViewMaker({ onError });
  const worker = await startPlanWorker({
    store,
    queue: await open(planQueue),
    heldMeanwhile: { hold: () => undefined, release: () => undefined },
    threadScript: new URL("../../../services/worker/planThread.ts", import.meta.url),
    threads: 1,
    stopWithinMs: 5_000,
    onError,
  });
  const partWorker = await startPartWorker({
    store,
    queue: await open(partQueue(2)),
    threadScript: new URL("../../../services/worker/partThread.ts", import.meta.url),
    conclude: concludeStudy,
    onError,
  });
  const page = temporaryFolder();
  const asAlways = createAuthentication(store, access);
  const app = createApp({
    store,
    queue,
    runs,
    mover,
    maker,
    access,
    onError,
    pageFolder: page.folder,
    authenticate: async (request) =>
      request.get("authorization") === `Bearer ${everybodysToken}`
        ? { status: "known", actor: { ...everybody, name: "First Person" } }
        : asAlways(request),
  });
  const bound = await listen(app, { host: "127.0.0.1", port: 19_280, orNext: true });
  if (bound.status !== "listening") throw new Error("no free port");
  return {
    origin: `http://127.0.0.1:${bound.api.port}`,
    store,
    async close() {
      await bound.api.close();
      for (const one of [mover, maker, worker, partWorker, queue, runs, store]) await one.close();
      await database.stop();
      page.remove();
    },
  };
}
