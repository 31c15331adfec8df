import { type Job, WaitingError } from "bullmq";
import type { PlanHandler, PlanQueue, StopReason } from "./queue.ts";

export const queueName = "plans";
const cancelTopic = "plans.cancel";

/** A request is kept no longer than it is worked: what came of it is in the store. */
const jobOptions = {
  attempts: 3,
  backoff: { type: "fixed", delay: 2_000 },
  removeOnComplete: true,
  removeOnFail: true,
};

export const workerTiming = {
  concurrency: 1,
  /** A worker that has not renewed its lock for so long is taken for dead. Planning leaves the main thread free to. */
  lockDuration: 10_000,
  stalledInterval: 3_000,
  /** Not bounded here: the store counts how often a request was begun and puts an end to it. */
  maxStalledCount: 1_000_000,
  autorun: false,
};

type Listen = (event: "error", listener: (error: Error) => void) => unknown;
export type Work = (job: Job, token?: string) => Promise<void>;

/** The three parts of BullMQ that are used, alike on Redis and on Postgres. */
export interface BullParts {
  readonly queue: {
    add(name: string, data: object, options: object): Promise<unknown>;
    waitUntilReady(): Promise<unknown>;
    close(): Promise<void>;
    on: Listen;
  };
  /** Carries a message to every process that listens, and so a cancellation to whichever runs the request. */
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

export async function createBullQueue(parts: BullParts, onConnectionError: (error: Error) => void): Promise<PlanQueue> {
  const { queue, relay } = parts;
  const running = new Map<string, AbortController>();
  let worker: ReturnType<BullParts["makeWorker"]> | null = null;
  let closing = false;

  const onError = (error: Error) => {
    if (!closing) onConnectionError(error);
  };
  queue.on("error", onError);
  relay.on("error", onError);
  await queue.waitUntilReady();
  await relay.waitUntilReady();

  const stop = (requestId: string, reason: StopReason) => running.get(requestId)?.abort(reason);

  async function work(handler: PlanHandler, job: Job, token?: string): Promise<void> {
    const requestId = job.id!;
    const controller = new AbortController();
    running.set(requestId, controller);
    if (closing) controller.abort("shutdown" satisfies StopReason);
    try {
      if ((await handler(requestId, controller.signal)) === "ended") return;
      await job.moveToWait(token);
    } finally {
      running.delete(requestId);
    }
    throw new WaitingError();
  }

  return {
    async add(requestId) {
      await queue.add("plan", {}, { ...jobOptions, jobId: requestId });
    },

    async cancel(requestId) {
      await relay.publish(cancelTopic, { requestId });
    },

    async process(handler) {
      if (worker) throw new Error("this queue is being processed already");
      worker = parts.makeWorker((job, token) => work(handler, job, token));
      worker.on("error", onError);
      await relay.subscribe(cancelTopic, ({ data }) => {
        if (isCancelMessage(data)) stop(data.requestId, "cancelled");
      });
      await worker.waitUntilReady();
      worker.run().catch(onError);
    },

    async close() {
      closing = true;
      for (const requestId of running.keys()) stop(requestId, "shutdown");
      await worker?.close();
      await relay.close();
      await queue.close();
    },
  };
}

function isCancelMessage(data: unknown): data is { requestId: string } {
  return typeof data === "object" && data !== null && "requestId" in data && typeof data.requestId === "string";
}
