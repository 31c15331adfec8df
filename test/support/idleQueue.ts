import type { WorkQueue } from "../../services/queue/queue.ts";

/** Takes everything and hands nothing out, for tests of what stands before the queue. */
export const idleQueue = new Proxy({}, { get: () => async () => undefined }) as WorkQueue;
