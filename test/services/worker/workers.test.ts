import { type ChildProcess, spawn } from "node:child_process";
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { connect as dial } from "node:net";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import pg from "pg";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import { connectQueue } from "../../../services/queue/connect.ts";
import { partPiece } from "../../../services/queue/pieces.ts";
import { partQueue, type WorkQueue } from "../../../services/queue/queue.ts";
import { connectStore } from "../../../services/store/connect.ts";
import { silentAfterS } from "../../../services/store/starts.ts";
import type { Store } from "../../../services/store/store.ts";
import { hasEnded } from "../../../shared/contracts/planRequests.ts";
import type { Study } from "../../../shared/contracts/studies.ts";
import { acting, madeBy } from "../../support/acting.ts";
import { isInstalled, nameNeeding } from "../../support/needs.ts";
import { smallOperation } from "../../support/operation.ts";
import { eventually, startTestDatabase, startTestRedis, temporaryFolder } from "../../support/servers.ts";
import type { GatedAsk } from "./threads/gatedPart.ts";

const holderScript = fileURLToPath(new URL("./holdParts.ts", import.meta.url));
const told: string[] = [];
const onError = (error: Error) => void told.push(error.message);

let database: Awaited<ReturnType<typeof startTestDatabase>>;
let folder: ReturnType<typeof temporaryFolder>;
let store: Store;
let operationId: string;
let workers: ChildProcess[] = [];
let queues: WorkQueue[] = [];
let fileCount = 0;

beforeAll(async () => {
  database = await startTestDatabase();
  folder = temporaryFolder();
  store = await connectStore({ databaseUrl: database.databaseUrl, onConnectionError: onError });
  operationId = (await store.importOperation(smallOperation({}), acting)).operation.id;
});
afterAll(async () => {
  await store.close();
  await database.stop();
  folder.remove();
});
afterEach(async () => {
  for (const worker of workers) worker.kill("SIGKILL");
  workers = [];
  await Promise.all(queues.map((queue) => queue.close()));
  queues = [];
});

async function startWorker(redisUrl: string | null): Promise<ChildProcess> {
  const loader = ["--import", import.meta.resolve("tsx")];
  const given = [database.databaseUrl, redisUrl ?? "", "1"];
  const worker = spawn(process.execPath, [...loader, holderScript, ...given], { stdio: ["ignore", "pipe", "ignore"] });
  workers.push(worker);
  await new Promise<void>((resolve) => worker.stdout!.once("data", () => resolve()));
  return worker;
}
async function openQueue(redisUrl: string | null): Promise<WorkQueue> {
  const { databaseUrl } = database;
  const queue = await connectQueue({ kind: partQueue(1), databaseUrl, redisUrl, onConnectionError: onError });
  queues.push(queue);
  return queue;
}
function files() {
  const notes = join(folder.folder, `notes-${fileCount}`);
  const gate = join(folder.folder, `gate-${fileCount++}`);
  const begun = () => (existsSync(notes) ? readFileSync(notes, "utf8").trim().split("\n").map(Number) : []);
  return { notes, gate, begun, open: () => writeFileSync(gate, "") };
}
async function newStudy(count: number, ask: Omit<GatedAsk, "number">, queue: WorkQueue): Promise<Study> {
  const parts = Array.from({ length: count }, (_, number): GatedAsk => ({ number, ...ask }));
  const study = await madeBy(store.addStudy({ kind: "cases", operationId, version: 1, ask: {}, parts }, acting));
  await queue.addInTurn((await store.turnsOf(study.id)).map(partPiece));
  return study;
}
const ended = (studyId: string) =>
  eventually(async () => {
    const study = (await store.study(studyId))!;
    return hasEnded(study.status) ? study : null;
  }, 60_000);
const doubled = (study: Study) =>
  (study.result as { result: { doubled: number } }[]).map(({ result }) => result.doubled);

async function startsOf(studyId: string): Promise<number[]> {
  const client = new pg.Client({ connectionString: database.databaseUrl });
  await client.connect();
  const { rows } = await client.query<{ starts: number }>(
    "select starts from study_parts where study_id = $1 order by part",
    [studyId],
  );
  await client.end();
  return rows.map(({ starts }) => starts);
}

/** What two processes do to the same pieces, whatever the queue lies in. */
function together(redis: () => string | null): void {
  it("share a study, and begin no part twice", async () => {
    const { notes, begun } = files();
    const front = await openQueue(redis());
    await startWorker(redis());
    await startWorker(redis());
    const { id } = await newStudy(12, { notes }, front);
    expect(doubled(await ended(id))).toEqual(Array.from({ length: 12 }, (_, number) => number * 2));
    expect(begun().toSorted((a, b) => a - b)).toEqual(Array.from({ length: 12 }, (_, number) => number));
    expect(new Set(await startsOf(id))).toEqual(new Set([1]));
  });

  it("take over from one that was frozen, and when that wakes nothing is stored twice; it works on", async () => {
    const { notes, gate, begun, open } = files();
    const front = await openQueue(redis());
    const frozen = await startWorker(redis());
    const { id } = await newStudy(1, { notes, gate }, front);
    await eventually(() => (begun().length === 1 ? true : null), 30_000);
    frozen.kill("SIGSTOP");
    const frozenMs = performance.now();
    const awake = await startWorker(redis());
    await eventually(() => (begun().length === 2 ? true : null), 60_000);
    // Not sooner: it might have been slow only. It had told last up to a second and a bit before.
    expect(performance.now() - frozenMs).toBeGreaterThan((silentAfterS - 2) * 1000);
    frozen.kill("SIGCONT");
    await new Promise((resolve) => setTimeout(resolve, 2_500));
    // Woken while the other has it, it leaves it to that one.
    expect((await store.study(id))!.status).toBe("running");
    open();
    const study = await ended(id);
    expect(doubled(study)).toEqual([0]);
    expect(await startsOf(id)).toEqual([2]);
    await new Promise((resolve) => setTimeout(resolve, 1_000));
    expect(await store.study(id)).toEqual(study);

    awake.kill("SIGKILL");
    const { id: next } = await newStudy(2, {}, front);
    expect(doubled(await ended(next))).toEqual([0, 2]);
  });
}

describe("workers in processes of their own, the queue in Postgres", { timeout: 120_000 }, () => together(() => null));

const onRedis = nameNeeding("redis-server", "workers in processes of their own, the queue in Redis");
describe.runIf(isInstalled("redis-server"))(onRedis, { timeout: 120_000 }, () => {
  let redis: Awaited<ReturnType<typeof startTestRedis>>;
  const port = () => Number(new URL(redis.redisUrl).port);
  beforeAll(async () => {
    redis = await startTestRedis();
  });
  afterAll(() => redis.stop());
  together(() => redis.redisUrl);

  it("lose the whole queue, and everything that was open is done all the same, what ran not begun again", async () => {
    const { notes, gate, begun, open } = files();
    const front = await openQueue(redis.redisUrl);
    await startWorker(redis.redisUrl);
    const { id } = await newStudy(3, { notes, gate }, front);
    await eventually(() => (begun().length === 1 ? true : null), 30_000);
    // RESP inline command, redis.io/docs/latest/develop/reference/protocol-spec.
    await new Promise<void>((resolve, reject) => {
      const line = dial({ host: "127.0.0.1", port: port() }, () => line.write("FLUSHALL\r\n"));
      line.once("data", () => resolve(line.destroy() as never));
      line.once("error", reject);
    });
    await startWorker(redis.redisUrl);
    // The second worker fills the queue when it starts, and takes the parts that waited, not the one that runs.
    await eventually(() => (begun().length === 2 ? true : null), 30_000);
    await new Promise((resolve) => setTimeout(resolve, 3_000));
    expect(begun()).toHaveLength(2);
    open();
    expect(doubled(await ended(id))).toEqual([0, 2, 4]);
    expect(await startsOf(id)).toEqual([1, 1, 1]);
  });

  it("miss Redis: adding neither hangs nor is lost, and the work is done when an empty one is back", async () => {
    const front = await openQueue(redis.redisUrl);
    await startWorker(redis.redisUrl);
    const { gate, notes, begun, open } = files();
    const { id: running } = await newStudy(1, { notes, gate }, front);
    await eventually(() => (begun().length === 1 ? true : null), 30_000);
    const at = port();
    await redis.stop();
    told.length = 0;
    const beforeMs = performance.now();
    const { id } = await newStudy(1_200, {}, front);
    await front.cancel("anything");
    expect(performance.now() - beforeMs).toBeLessThan(6_000);
    expect(told.join("\n")).toContain("adding to the queue");
    await store.cancelStudy(id, acting);
    const { id: added } = await newStudy(2, {}, front);
    // More than are seen to at a time: none may be left out.
    const { id: large } = await newStudy(700, {}, front);
    redis = await startTestRedis(at);
    const held = () => front.size().catch(() => 0);
    await eventually(async () => ((await held()) >= 702 ? true : null), 30_000);
    await store.cancelStudy(large, acting);
    open();
    expect(doubled(await ended(running))).toEqual([0]);
    expect(doubled(await ended(added))).toEqual([0, 2]);
    expect(await startsOf(running)).toEqual([1]);
  });
});
