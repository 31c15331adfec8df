import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import pg from "pg";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import { connectQueue } from "../../../services/queue/connect.ts";
import { partQueue, type WorkQueue } from "../../../services/queue/queue.ts";
import { connectStore } from "../../../services/store/connect.ts";
import { startsMax } from "../../../services/store/starts.ts";
import type { Store } from "../../../services/store/store.ts";
import { type Ending, endings, judge } from "../../../services/worker/endings.ts";
import { type Conclude, type PartWorker, startPartWorker } from "../../../services/worker/partWorker.ts";
import { untilStored } from "../../../services/worker/untilStored.ts";
import { hasEnded } from "../../../shared/contracts/planRequests.ts";
import { acting, madeBy } from "../../support/acting.ts";
import { smallOperation } from "../../support/operation.ts";
import { eventually, startTestDatabase, temporaryFolder } from "../../support/servers.ts";
import { troubledLine } from "../../support/troubledLine.ts";
import type { FaultyAsk } from "./threads/faultyPart.ts";

const asTheyAre: Conclude = (_input, parts) => ({ status: "done", result: parts });

let database: Awaited<ReturnType<typeof startTestDatabase>>;
/** Between the worker's store and the database; the test's own store does not go through it. */
let line: Awaited<ReturnType<typeof troubledLine>>;
let folder: ReturnType<typeof temporaryFolder>;
let store: Store;
let workersStore: Store;
let queue: WorkQueue;
let worker: PartWorker;
let told: string[] = [];
let fileCount = 0;
let operationId: string;
const onError = (error: Error) => void told.push(error.message);

beforeAll(async () => {
  database = await startTestDatabase();
  folder = temporaryFolder();
  const url = new URL(database.databaseUrl);
  line = await troubledLine(Number(url.port));
  url.port = String(line.port);
  store = await connectStore({ databaseUrl: database.databaseUrl, onConnectionError: () => undefined });
  workersStore = await connectStore({ databaseUrl: url.href, onConnectionError: () => undefined });
  operationId = (await store.importOperation(smallOperation({}), acting)).operation.id;
  const { databaseUrl } = database;
  queue = await connectQueue({ kind: partQueue(2), databaseUrl, redisUrl: null, onConnectionError: onError });
  const threadScript = new URL("./threads/faultyPart.ts", import.meta.url);
  worker = await startPartWorker({ store: workersStore, queue, threadScript, conclude: asTheyAre, onError });
});
afterEach(() => {
  told = [];
});
afterAll(async () => {
  await worker.close();
  await workersStore.close();
  await store.close();
  await line.close();
  await database.stop();
  folder.remove();
});

async function begin(ask: Omit<FaultyAsk, "notes">) {
  const notes = join(folder.folder, `notes-${fileCount++}`);
  const part: FaultyAsk = { ...ask, notes };
  const { id } = await madeBy(
    store.addStudy({ kind: "remedies", operationId, version: 1, ask: {}, parts: [part] }, acting),
  );
  await queue.add(`${id}.0`);
  return { id, begun: () => (existsSync(notes) ? readFileSync(notes, "utf8").length : 0) };
}
async function endOf({ id, begun }: Awaited<ReturnType<typeof begin>>) {
  const { result } = await eventually(async () => {
    const study = (await store.study(id))!;
    return hasEnded(study.status) ? study : null;
  }, 60_000);
  const [part] = result as { status: string; result?: unknown; failure?: { message: string } }[];
  return { status: part!.status, came: part!.result ?? part!.failure?.message, begun: begun(), row: await rowOf(id) };
}
async function rowOf(id: string) {
  const client = new pg.Client({ connectionString: database.databaseUrl });
  await client.connect();
  const { rows } = await client.query("select starts, alone from study_parts where study_id = $1", [id]);
  await client.end();
  return rows[0] as { starts: number; alone: boolean };
}

describe("what follows when work on a piece ends", () => {
  it("is fixed for every way in which it can end", () => {
    const at = (start: number) =>
      Object.fromEntries(Object.keys(endings).map((ending) => [ending, judge(ending as Ending, start).next]));
    const always = {
      done: "keep",
      threw: "fail",
      checkerFaulted: "fail",
      conclusionFailed: "fail",
      unreadable: "fail",
      resultRefused: "fail",
      storeAwayAtStart: "wait",
      storeAwayAtEnd: "leave",
      elsewhere: "wait",
      overtaken: "leave",
      cancelled: "cancel",
      shutdown: "back",
    };
    expect(at(1)).toEqual({ ...always, endedSilently: "again", outOfMemory: "again", workerDied: "again" });
    expect(at(2)).toEqual({ ...always, endedSilently: "fail", outOfMemory: "fail", workerDied: "again" });
    expect(at(startsMax)).toEqual({ ...always, endedSilently: "fail", outOfMemory: "fail", workerDied: "fail" });
    expect(judge("outOfMemory", 1)).toMatchObject({ alone: true });
    expect(judge("endedSilently", 1)).toMatchObject({ alone: false });
  });
});

describe("a piece", { timeout: 90_000 }, () => {
  it("whose thread throws fails at once: it would throw again", async () => {
    const end = await endOf(await begin({ fault: "throws", times: 1 }));
    expect(end).toMatchObject({ status: "failed", came: "a bug in a part", begun: 1 });
  });

  it("whose thread ends without a word is worked once more, and no more than once", async () => {
    const [once, always] = [await begin({ fault: "exits", times: 1 }), await begin({ fault: "exits", times: 9 })];
    expect(await endOf(once)).toEqual({ status: "done", came: "well", begun: 2, row: { starts: 2, alone: false } });
    expect(await endOf(always)).toMatchObject({ status: "failed", begun: 2 });
  });

  it("for which memory does not suffice is worked once more, alone", async () => {
    const [once, always] = [
      await begin({ fault: "fillsMemory", times: 1 }),
      await begin({ fault: "fillsMemory", times: 9 }),
    ];
    expect(await endOf(once)).toEqual({ status: "done", came: "well", begun: 2, row: { starts: 2, alone: true } });
    const end = await endOf(always);
    expect(end).toMatchObject({ status: "failed", begun: 2 });
    expect(end.came).toContain("memory");
  });

  it("whose result the store refuses fails, and tells why", async () => {
    const end = await endOf(await begin({ fault: "unstorable", times: 0 }));
    expect(end).toMatchObject({ status: "failed", begun: 1 });
    expect(end.came).toContain("cannot be stored");
  });

  it("that comes to its end while the store is away is stored when it is back, and not worked again", async () => {
    const gate = join(folder.folder, `gate-${fileCount++}`);
    const piece = await begin({ fault: "none", times: 0, gate });
    await eventually(() => (piece.begun() === 1 ? true : null), 30_000);
    await line.close();
    writeFileSync(gate, "");
    await eventually(() => (told.some((words) => words.includes("is kept until the store is back")) ? true : null));
    expect((await store.study(piece.id))!.status).toBe("running");
    await line.open();
    expect(await endOf(piece)).toEqual({ status: "done", came: "well", begun: 1, row: { starts: 1, alone: false } });
  });

  it("that is taken while the store is away is begun when it is back, and that does not count", async () => {
    await line.close();
    const piece = await begin({ fault: "none", times: 0 });
    await eventually(() => (told.length > 0 ? true : null));
    expect(piece.begun()).toBe(0);
    await line.open();
    expect(await endOf(piece)).toMatchObject({ status: "done", begun: 1, row: { starts: 1 } });
  });
});

describe("keeping a result", () => {
  const away = () => Promise.reject(Object.assign(new Error("away"), { code: "ECONNREFUSED" }));
  const options = { forMs: 60_000, giveUp: new AbortController().signal, onError: () => undefined };

  it("ends when its time is over, or when the process wants to end", async () => {
    expect(await untilStored(away, { ...options, forMs: 0 })).toEqual({ status: "storeAway" });
    const giveUp = new AbortController();
    const kept = untilStored(away, { ...options, giveUp: giveUp.signal });
    giveUp.abort();
    expect(await kept).toEqual({ status: "storeAway" });
  });

  it("hands on what is not the store being away, and does not write that again", async () => {
    let writes = 0;
    const refused = () => {
      writes++;
      return Promise.reject(new Error("refused"));
    };
    await expect(untilStored(refused, options)).rejects.toThrow("refused");
    expect(writes).toBe(1);
  });
});
