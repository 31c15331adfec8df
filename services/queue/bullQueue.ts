import { DelayedError, type Job, WaitingError } from "bullmq";
import { lastTurn, type Piece, type StopReason, type WorkHandler, type WorkQueue } from "./queue.ts";

/** A piece of work is kept no longer than it is worked: what came of it is in the store. */
const jobOptions = {
  // Without end: how often a piece may be begun is the store's to say, and a piece that is given up here would wait until somebody looks after it.
  attempts: 1_000_000,
  backoff: { type: "longer" },
  stackTraceLimit: 1,
  removeOnComplete: true,
  removeOnFail: true,
};

/** Our choice: twice as long each time, half of it by chance, so that what failed together does not come again together. */
function againAfterMs(failed: number): number {
  const longestMs = Math.min(30_000, 1_000 * 2 ** Math.min(failed, 10));
  // Whole: the queue on Postgres takes no other.
  return Math.round((longestMs * (1 + Math.random())) / 2);
}

export const workerTiming = {
  /** A worker that has not renewed its lock for so long is taken for dead. What threads do leaves the main thread free to. */
  lockDuration: 10_000,
  stalledInterval: 3_000,
  /** Not bounded here: the store counts how often a piece was begun and puts an end to it. */
  maxStalledCount: 1_000_000,
  autorun: false,
  settings: { backoffStrategy: againAfterMs },
};

/** Our choice: so that no statement grows without limit. */
const addedAtOnce = 500;

type Listen = (event: "error", listener: (error: Error) => void) => unknown;
export type Work = (job: Job, token?: string) => Promise<void>;

/** The three parts of BullMQ that are used, alike on Redis and on Postgres. */
export interface BullParts {
  readonly name: string;
  readonly queue: {
    getJobCountByTypes(...states: ("waiting" | "prioritized" | "delayed" | "active")[]): Promise<number>;
    addBulk(jobs: { name: string; data: object; opts: object }[]): Promise<unknown>;
    waitUntilReady(): Promise<unknown>;
    getWaitingCount(): Promise<number>;
    close(): Promise<void>;
    on: Listen;
  };
  /** Carries a message to every process that listens, and so a cancellation to whichever runs the piece. */
  readonly relay: {
    publish(topic: string, data: unknown): Promise<unknown>;
    subscribe(topic: string, listener: (message: { data: unknown }) => void): Promise<unknown>;
    waitUntilReady(): Promise<void>;
    close(): Promise<void>;
    on: Listen;
  };
  makeWorker(work: Work): {
    run(): Promise<void>;
    waitUntilReady(): Promise<unknown>;
    close(): Promise<void>;
    on: Listen;
  };
}

export async function createBullQueue(parts: BullParts, onConnectionError: (error: Error) => void): Promise<WorkQueue> {
  const { name, queue, relay } = parts;
  const cancelTopic = `${name}.cancel`;
  const taken = new Map<string, { readonly controller: AbortController; isBegun: boolean }>();
  let worker: ReturnType<BullParts["makeWorker"]> | null = null;
  let closing = false;
  /** What has been taken while the queue is held waits for this. */
  let released = Promise.resolve();
  let release = () => {};

  // Parts that share a connection tell of the same error each.
  const told = new WeakSet<Error>();
  const onError = (error: Error) => {
    if (closing || told.has(error)) return;
    told.add(error);
    onConnectionError(error);
  };
  queue.on("error", onError);
  relay.on("error", onError);
  /** For those who must not wait for a queue that is away; what they have asked for may still be done when it is back. */
  const inTime = async (what: string, asked: Promise<unknown>) => {
    const done = asked.then(
      () => null,
      (error: unknown) => String(error),
    );
    const failure = await Promise.race([done, silence()]);
    if (failure !== null) onError(new Error(`${what}: ${failure}`));
    return failure === null;
  };
  await Promise.race([Promise.all([queue.waitUntilReady(), relay.waitUntilReady()]), silence()]);

  const stop = (id: string, reason: StopReason) => taken.get(id)?.controller.abort(reason);

  async function work(handler: WorkHandler, job: Job, token?: string): Promise<void> {
    const id = job.id!;
    const controller = new AbortController();
    const piece = { controller, isBegun: false };
    taken.set(id, piece);
    if (closing) controller.abort("shutdown" satisfies StopReason);
    try {
      await Promise.race([released, aborted(controller.signal)]);
      piece.isBegun = true;
      const worked = controller.signal.reason === "shutdown" ? "giveBack" : await handler(id, controller.signal);
      if (worked === "ended") return;
      if (worked !== "giveBack") {
        await job.moveToDelayed(Date.now() + worked.againInMs, token);
        throw new DelayedError();
      }
      await job.moveToWait(token);
      throw new WaitingError();
    } finally {
      taken.delete(id);
    }
  }

  async function addInTurn(pieces: readonly Piece[]): Promise<void> {
    for (let from = 0; from < pieces.length; from += addedAtOnce) {
      const jobs = pieces.slice(from, from + addedAtOnce).map(({ id, turn }) => ({
        name,
        data: {},
        // BullMQ begins what has no priority, or 0, first.
        opts: { ...jobOptions, jobId: id, priority: Math.min(turn, lastTurn) },
      }));
      if (!(await inTime("adding to the queue", queue.addBulk(jobs)))) return;
    }
  }

  return {
    add: (...ids) => addInTurn(ids.map((id) => ({ id, turn: 0 }))),
    addInTurn,

    size: () => queue.getJobCountByTypes("waiting", "prioritized", "delayed", "active"),

    async cancel(id) {
      await inTime("telling workers of a cancellation", relay.publish(cancelTopic, { id }));
    },

    async process(handler) {
      if (worker) throw new Error("this queue is being processed already");
      worker = parts.makeWorker((job, token) => work(handler, job, token));
      worker.on("error", onError);
      await relay.subscribe(cancelTopic, ({ data }) => {
        if (isCancelMessage(data)) stop(data.id, "cancelled");
      });
      await worker.waitUntilReady();
      worker.run().catch(onError);
    },

    hold() {
      release();
      released = new Promise((resolve) => {
        release = resolve;
      });
    },

    release: () => release(),

    async ping() {
      await queue.getWaitingCount();
    },

    async close(hurry = AbortSignal.abort()) {
      closing = true;
      const stopAll = () => {
        for (const id of taken.keys()) stop(id, "shutdown");
      };
      for (const [id, { isBegun }] of taken) if (!isBegun) stop(id, "shutdown");
      hurry.addEventListener("abort", stopAll);
      if (hurry.aborted) stopAll();
      await worker?.close();
      hurry.removeEventListener("abort", stopAll);
      await relay.close();
      await queue.close();
    },
  };
}

/** Our choice: a caller of the API waits so long for a queue that does not answer. */
const answersWithinMs = 2_000;

function silence(): Promise<string> {
  return new Promise((resolve) => {
    setTimeout(() => resolve(`no answer within ${answersWithinMs / 1000} s`), answersWithinMs).unref();
  });
}

function aborted(signal: AbortSignal): Promise<void> {
  return new Promise((resolve) => {
    if (signal.aborted) resolve();
    signal.addEventListener("abort", () => resolve(), { once: true });
  });
}

function isCancelMessage(data: unknown): data is { id: string } {
  return typeof data === "object" && data !== null && "id" in data && typeof data.id === "string";
}
