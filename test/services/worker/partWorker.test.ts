import { type ChildProcess, spawn } from "node:child_process";
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { connectQueue } from "../../../services/queue/connect.ts";
import { partId } from "../../../services/queue/pieces.ts";
import { partQueue, type WorkQueue } from "../../../services/queue/queue.ts";
import { connectStore } from "../../../services/store/connect.ts";
import { startsMax } from "../../../services/store/starts.ts";
import type { Store } from "../../../services/store/store.ts";
import { type Conclude, type PartWorker, startPartWorker } from "../../../services/worker/partWorker.ts";
import { hasEnded } from "../../../shared/contracts/planRequests.ts";
import type { Study } from "../../../shared/contracts/studies.ts";
import { acting, madeBy } from "../../support/acting.ts";
import { smallOperation } from "../../support/operation.ts";
import { eventually, startTestDatabase, temporaryFolder } from "../../support/servers.ts";
import { silenceWorkers } from "../../support/silence.ts";
import type { GatedAsk } from "./threads/gatedPart.ts";

const threadScript = new URL("./threads/gatedPart.ts", import.meta.url);
const holderScript = fileURLToPath(new URL("./holdParts.ts", import.meta.url));
const onError = () => undefined;
const asTheyAre: Conclude = (_input, parts) => ({ status: "done", result: parts });

let database: Awaited<ReturnType<typeof startTestDatabase>>;
let folder: ReturnType<typeof temporaryFolder>;
let store: Store;
let front: WorkQueue;
let workers: PartWorker[] = [];
let holders: ChildProcess[] = [];
let operationId: string;
let fileCount = 0;

beforeAll(async () => {
  database = await startTestDatabase();
  folder = temporaryFolder();
});
afterAll(async () => {
  await database.stop();
  folder.remove();
});
beforeEach(async () => {
  store = await connectStore({ databaseUrl: database.databaseUrl, onConnectionError: onError });
  front = await openQueue(1);
  operationId = (await store.importOperation(smallOperation({}), acting)).operation.id;
});
afterEach(async () => {
  for (const holder of holders) holder.kill("SIGKILL");
  holders = [];
  await Promise.all(workers.map((worker) => worker.close()));
  workers = [];
  await front.close();
  await store.close();
});

const openQueue = (atOnce: number) =>
  connectQueue({
    kind: partQueue(atOnce),
    databaseUrl: database.databaseUrl,
    redisUrl: null,
    onConnectionError: onError,
  });

async function startWorker(atOnce: number, conclude = asTheyAre): Promise<PartWorker> {
  const queue = await openQueue(atOnce);
  const worker = await startPartWorker({ store, queue, threadScript, conclude, onError });
  workers.push(worker);
  return worker;
}

async function startHolder(atOnce: number): Promise<ChildProcess> {
  const loader = ["--import", import.meta.resolve("tsx")];
  const holder = spawn(process.execPath, [...loader, holderScript, database.databaseUrl, "", String(atOnce)], {
    stdio: ["ignore", "pipe", "inherit"],
  });
  holders.push(holder);
  await new Promise<void>((resolve) => holder.stdout!.once("data", () => resolve()));
  return holder;
}

/** Where parts note that they have begun, and a gate that they wait at. */
function files() {
  const notes = join(folder.folder, `notes-${fileCount}`);
  const gate = join(folder.folder, `gate-${fileCount++}`);
  const begun = () => (existsSync(notes) ? readFileSync(notes, "utf8").trim().split("\n").map(Number) : []);
  return { notes, gate, begun, open: () => writeFileSync(gate, "") };
}

function newStudy(count: number, ask: (number: number) => Omit<GatedAsk, "number">): Promise<Study> {
  const parts = Array.from({ length: count }, (_, number): GatedAsk => ({ number, ...ask(number) }));
  return madeBy(store.addStudy({ kind: "cases", operationId, version: 1, ask: {}, parts }, acting));
}
const reach = (studyId: string, isThere: (study: Study) => boolean, withinMs = 60_000) =>
  eventually(async () => {
    const study = (await store.study(studyId))!;
    return isThere(study) ? study : null;
  }, withinMs);
const ended = (studyId: string) => reach(studyId, ({ status }) => hasEnded(status));
const doubled = (study: Study) =>
  (study.result as { result: { doubled: number } }[]).map(({ result }) => result.doubled);

describe("a worker of parts", { timeout: 120_000 }, () => {
  it("works what is in the store, also when the queue has never heard of it, and concludes once", async () => {
    let concluded = 0;
    const { id } = await newStudy(5, () => ({}));
    await startWorker(2, (input, parts) => {
      concluded++;
      return asTheyAre(input, parts);
    });
    const study = await ended(id);
    expect(study).toMatchObject({ status: "done", progress: { parts: 5, ended: 5, failed: 0, share: 1 } });
    expect(doubled(study)).toEqual([0, 2, 4, 6, 8]);
    expect(concluded).toBeGreaterThanOrEqual(1);
  });

  it("works several at once, in a thread each, and tells how far they are", async () => {
    await startWorker(3);
    const { notes, gate, begun, open } = files();
    const { id } = await newStudy(6, () => ({ notes, gate }));
    await front.add(...[0, 1, 2, 3, 4, 5].map((part) => partId({ studyId: id, part })));
    // Three halves of six.
    const seen = await reach(id, ({ progress }) => progress.ended === 0 && progress.share === 0.25);
    expect(seen.status).toBe("running");
    expect(begun()).toHaveLength(3);
    open();
    expect(doubled(await ended(id))).toEqual([0, 2, 4, 6, 8, 10]);
    expect(begun().toSorted()).toEqual([0, 1, 2, 3, 4, 5]);
  });

  it("keeps its threads for the parts that follow, but not one that has broken", async () => {
    await startWorker(1);
    const { id } = await newStudy(4, (number) => ({ breaks: number === 2 }));
    await front.add(...[0, 1, 2, 3].map((part) => partId({ studyId: id, part })));
    const { result } = await ended(id);
    const [first, second, broken, last] = result as { status: string; result?: { threadId: number } }[];
    expect(broken!.status).toBe("failed");
    expect(second!.result!.threadId).toBe(first!.result!.threadId);
    expect(last!.result!.threadId).not.toBe(first!.result!.threadId);
  });

  it("tells of a part with a bug, and works on", async () => {
    await startWorker(2);
    const { id } = await newStudy(3, (number) => ({ breaks: number === 1 }));
    await front.add(...[0, 1, 2].map((part) => partId({ studyId: id, part })));
    const { status, result, progress } = await ended(id);
    expect(status).toBe("done");
    expect(progress).toMatchObject({ ended: 3, failed: 1 });
    expect(result).toMatchObject([
      { status: "done" },
      { status: "failed", failure: { kind: "crashed", message: expect.stringContaining("a bug in a part") } },
      { status: "done" },
    ]);
  });

  it("lets a study fail whose kind needs every part, and one whose conclusion has a bug", async () => {
    const conclusions: Conclude[] = [
      () => ({ status: "failed", failure: { kind: "partFailed", message: "the second was needed", part: 1 } }),
      () => {
        throw new Error("a bug in the conclusion");
      },
    ];
    const failures = [];
    for (const conclude of conclusions) {
      const worker = await startWorker(2, conclude);
      const { id } = await newStudy(2, (number) => ({ breaks: number === 1 }));
      await front.add(...[0, 1].map((part) => partId({ studyId: id, part })));
      const { status, failure, result } = await ended(id);
      expect({ status, result }).toEqual({ status: "failed", result: null });
      failures.push(failure);
      workers = [];
      await worker.close();
    }
    expect(failures).toEqual([
      { kind: "partFailed", message: "the second was needed", part: 1 },
      { kind: "conclusionFailed", message: "a bug in the conclusion", part: null },
    ]);
  });

  it.each([true, false])("stops what runs of a study that is cancelled (told by the queue: %s)", async (isTold) => {
    await startWorker(2);
    const { notes, gate, begun } = files();
    const { id } = await newStudy(4, () => ({ notes, gate }));
    await front.add(...[0, 1, 2, 3].map((part) => partId({ studyId: id, part })));
    await eventually(() => (begun().length === 2 ? true : null));
    const { running } = (await store.cancelStudy(id, acting))!;
    expect(running).toHaveLength(2);
    if (isTold) for (const key of running) await front.cancel(partId(key));
    expect(await ended(id)).toMatchObject({ status: "cancelled", result: null });
    const next = await newStudy(1, () => ({}));
    await front.add(partId({ studyId: next.id, part: 0 }));
    expect(await ended(next.id)).toMatchObject({ status: "done" });
    expect(begun()).toHaveLength(2);
  });

  it("gives back what it runs when it is closed, for the next worker", async () => {
    const first = await startWorker(2);
    const { notes, gate, begun, open } = files();
    const { id } = await newStudy(3, () => ({ notes, gate }));
    await front.add(...[0, 1, 2].map((part) => partId({ studyId: id, part })));
    await eventually(() => (begun().length === 2 ? true : null));
    workers = [];
    await first.close();
    expect((await store.study(id))!.progress).toMatchObject({ ended: 0, share: 0 });
    open();
    await startWorker(3);
    expect(doubled(await ended(id))).toEqual([0, 2, 4]);
  });

  it("takes over from a worker that was killed; what had ended is not worked again, what ends is written once", async () => {
    const { notes, gate, begun, open } = files();
    const { id } = await newStudy(6, (number) => ({ notes, ...(number < 2 ? {} : { gate }) }));
    const holder = await startHolder(2);
    await reach(id, ({ progress }) => progress.ended === 2);
    await eventually(() => (begun().length === 4 ? true : null));
    holder.kill("SIGKILL");
    open();
    await startWorker(6);
    expect(doubled(await ended(id))).toEqual([0, 2, 4, 6, 8, 10]);
    // 2 and 3 were begun by the one that was killed.
    expect(begun().toSorted()).toEqual([0, 1, 2, 2, 3, 3, 4, 5]);
  });

  it("shares a study with another process, and no part is worked twice", async () => {
    const { notes, begun } = files();
    await startHolder(1);
    await startWorker(1);
    const { id } = await newStudy(12, () => ({ notes }));
    await front.add(...Array.from({ length: 12 }, (_, part) => partId({ studyId: id, part })));
    expect(doubled(await ended(id))).toEqual(Array.from({ length: 12 }, (_, number) => number * 2));
    expect(begun().toSorted((a, b) => a - b)).toEqual(Array.from({ length: 12 }, (_, number) => number));
  });

  it("concludes what a worker left without its conclusion, and loses a part that was begun too often", async () => {
    const { id } = await newStudy(1, () => ({}));
    await store.startPart({ studyId: id, part: 0 });
    await store.finishPart({ studyId: id, part: 0 }, { status: "done", result: { doubled: 0 } });
    const worn = await newStudy(2, () => ({}));
    for (let start = 0; start < startsMax; start++) {
      await store.startPart({ studyId: worn.id, part: 0 });
      await silenceWorkers(database.databaseUrl);
    }
    await startWorker(1);
    expect(doubled(await ended(id))).toEqual([0]);
    expect((await ended(worn.id)).result).toMatchObject([
      { status: "failed", failure: { kind: "startedTooOften" } },
      { status: "done" },
    ]);
  });
});
