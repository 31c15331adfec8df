import { afterAll, beforeAll, expect, it } from "vitest";
import { type AppParts, createApp } from "../../../services/api/app.ts";
import { type Listening, listen } from "../../../services/api/listen.ts";
import { connectQueue } from "../../../services/queue/connect.ts";
import { planQueue, type WorkQueue } from "../../../services/queue/queue.ts";
import type { Store } from "../../../services/store/store.ts";
import { access, everybody } from "../../support/acting.ts";
import { eventually, freePort, startTestRedis, temporaryFolder } from "../../support/servers.ts";

let redis: Awaited<ReturnType<typeof startTestRedis>>;
let port: number;
let queue: WorkQueue;
let api: Listening;
const page = temporaryFolder();
beforeAll(async () => {
  port = await freePort();
  redis = await startTestRedis(port);
  queue = await connectQueue({
    kind: planQueue,
    databaseUrl: "",
    redisUrl: redis.redisUrl,
    onConnectionError: () => undefined,
  });
  const store = { isUpToDate: async () => true } as unknown as Store;
  const parts: Partial<AppParts> = {
    store,
    queue,
    runs: queue,
    access,
    onError: () => undefined,
    authenticate: async () => ({ status: "known", actor: everybody }),
    pageFolder: page.folder,
  };
  const bound = await listen(createApp(parts as AppParts), { host: "127.0.0.1", port: 18_580, orNext: true });
  if (bound.status !== "listening") throw new Error("no free port");
  api = bound.api;
});
afterAll(async () => {
  await api.close();
  await queue.close();
  await redis.stop();
  page.remove();
});

async function ready() {
  const began = performance.now();
  const response = await fetch(`http://127.0.0.1:${api.port}/health/ready`);
  const { status, queue: queued } = (await response.json()) as { status: string; queue: string };
  return { code: response.status, status, queued, ms: performance.now() - began };
}

it("a server whose queue is away says soon that it can do less, and is whole again by itself", async () => {
  expect(await ready()).toMatchObject({ code: 200, status: "ready", queued: "answers" });
  await redis.stop();
  const without = await ready();
  expect(without).toMatchObject({ code: 200, status: "degraded", queued: "doesNotAnswer" });
  expect(without.ms).toBeLessThan(3_000);
  redis = await startTestRedis(port);
  await eventually(async () => ((await ready()).status === "ready" ? true : null), 20_000);
}, 60_000);
