import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, expect } from "vitest";
import { createApp } from "../../../services/api/app.ts";
import { type Listening, listen } from "../../../services/api/listen.ts";
import { createMover, type Mover } from "../../../services/moves/mover.ts";
import { connectQueue } from "../../../services/queue/connect.ts";
import { partQueue, planQueue, type QueueKind, type WorkQueue } from "../../../services/queue/queue.ts";
import { connectStore } from "../../../services/store/connect.ts";
import type { Store } from "../../../services/store/store.ts";
import { createViewMaker, type ViewMaker } from "../../../services/views/viewMaker.ts";
import { concludeStudy } from "../../../services/worker/concludeStudy.ts";
import { type PartWorker, startPartWorker } from "../../../services/worker/partWorker.ts";
import { type PlanWorker, startPlanWorker } from "../../../services/worker/planWorker.ts";
import type { OperationSummary } from "../../../shared/contracts/operations.ts";
import type { CheckReport } from "../../../shared/plan/check/report.ts";
import type { Plan } from "../../../shared/plan/plan.ts";
import { access, acting, everybody, madeBy } from "../../support/acting.ts";
import { openApiJudge } from "../../support/openApiJudge.ts";
import { startTestDatabase, temporaryFolder } from "../../support/servers.ts";

const authenticate = async () => ({ status: "known", actor: everybody }) as const;

interface Told<T> {
  readonly status: number;
  readonly headers: Headers;
  readonly body: T;
}

/** An API with database, queue and worker for the tests of one file. */
export function serveApi() {
  let database: Awaited<ReturnType<typeof startTestDatabase>>;
  let page: ReturnType<typeof temporaryFolder>;
  let store: Store;
  let queue: WorkQueue;
  let runs: WorkQueue;
  let mover: Mover;
  let maker: ViewMaker;
  let worker: PlanWorker;
  let partWorker: PartWorker;
  let api: Listening;
  let origin: string;
  let judge: ReturnType<typeof openApiJudge>;
  const errors: unknown[] = [];
  const onError = (error: unknown) => errors.push(error);

  beforeAll(async () => {
    database = await startTestDatabase();
    page = temporaryFolder();
    mkdirSync(join(page.folder, "dist"));
    writeFileSync(join(page.folder, "dist", "index.html"), "<!doctype html><title>the page</title>");
    const { databaseUrl } = database;
    const open = (kind: QueueKind) => connectQueue({ kind, databaseUrl, redisUrl: null, onConnectionError: onError });
    store = await connectStore({ databaseUrl, onConnectionError: onError });
    queue = await open(planQueue);
    runs = await open(partQueue(1));
    const threadScript = new URL("../../../services/worker/planThread.ts", import.meta.url);
    worker = await startPlanWorker({
      store,
      queue: await open(planQueue),
      heldMeanwhile: { hold: () => undefined, release: () => undefined },
      threadScript,
      threads: 1,
      stopWithinMs: 5_000,
      onError,
    });
    partWorker = await startPartWorker({
      store,
      queue: await open(partQueue(2)),
      threadScript: new URL("../../../services/worker/partThread.ts", import.meta.url),
      conclude: concludeStudy,
      onError,
    });
    mover = createMover({ onError });
    maker = createViewMaker({ onError });
    const app = createApp({
      store,
      queue,
      runs,
      mover,
      maker,
      access,
      onError,
      authenticate,
      pageFolder: join(page.folder, "dist"),
    });
    const bound = await listen(app, { host: "127.0.0.1", port: 18_080, orNext: true });
    if (bound.status !== "listening") throw new Error("no free port");
    api = bound.api;
    origin = `http://127.0.0.1:${api.port}`;
    judge = openApiJudge((await (await fetch(`${origin}/api/openapi.json`)).json()) as Record<string, unknown>);
  });
  afterAll(async () => {
    await api.close();
    await mover.close();
    await maker.close();
    await worker.close();
    await partWorker.close();
    await queue.close();
    await runs.close();
    await store.close();
    await database.stop();
    page.remove();
    expect(errors).toEqual([]);
  });

  /** Every answer is judged by the OpenAPI document before it is looked at. */
  async function call<T>(method: "GET" | "POST" | "PUT" | "DELETE", path: string, init: RequestInit): Promise<Told<T>> {
    const response = await fetch(`${origin}${path}`, { method, ...init });
    const text = await response.text();
    judge(method, path, response, text);
    return { status: response.status, headers: response.headers, body: (text === "" ? null : JSON.parse(text)) as T };
  }
  const get = <T>(path: string) => call<T>("GET", path, {});
  const post = <T>(path: string, body: unknown) =>
    call<T>("POST", path, { body: JSON.stringify(body), headers: { "content-type": "application/json" } });

  /** `headers`: If-Match or If-None-Match. */
  const put = <T>(path: string, body: unknown, headers: Record<string, string>) =>
    call<T>("PUT", path, { body: JSON.stringify(body), headers: { "content-type": "application/json", ...headers } });

  const importOperation = (document: unknown) => post<{ operation: OperationSummary }>("/api/operations", document);

  /** As if a worker had made it. */
  async function storePlan({ id, version }: OperationSummary, plan: Plan, report: CheckReport): Promise<string> {
    const asked = { operationId: id, version, budget: { iterations: plan.iterations }, seed: plan.seed };
    const request = await madeBy(store.addPlanRequest(asked, acting));
    await store.startRequest(request.id);
    await store.finishRequest(request.id, { status: "done", plan, report });
    return request.id;
  }

  async function follow(path: string): Promise<{ event: string; data: unknown }[]> {
    const response = await fetch(`${origin}${path}`);
    const text = await response.text();
    judge("GET", path, response, text);
    return text
      .split("\n\n")
      .filter((block) => block.startsWith("event: "))
      .map((block) => {
        const [first, second] = block.split("\n");
        return { event: first!.slice("event: ".length), data: JSON.parse(second!.slice("data: ".length)) as unknown };
      });
  }

  return {
    call,
    get,
    post,
    put,
    follow,
    importOperation,
    storePlan,
    origin: () => origin,
    port: () => api.port,
    store: () => store,
    /** A second server of the same app. */
    listenAgain: (port: number, orNext: boolean) =>
      listen(createApp({ store, queue, runs, mover, maker, access, onError, authenticate, pageFolder: page.folder }), {
        host: "127.0.0.1",
        port,
        orNext,
      }),
  };
}
