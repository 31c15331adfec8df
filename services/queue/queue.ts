/** Why a running plan is to be stopped. */
export type StopReason = "cancelled" | "shutdown";

/**
 * Works one request. The signal is aborted with a StopReason; after "shutdown" the handler returns `giveBack` and the
 * request is handed to another worker, or to the next one that starts. A handler that throws is called again later.
 */
export type PlanHandler = (requestId: string, signal: AbortSignal) => Promise<"ended" | "giveBack">;

/**
 * Hands plan requests to workers, each to one at a time. A request may be handed out again: its worker died, or did not
 * tell for so long that it is taken for dead. So the handler must be able to do it twice. Left out: what a request is
 * and what came of it, which the store knows; a queue that is lost is filled again from there.
 */
export interface PlanQueue {
  /** Adding a request that is waiting or being worked changes nothing. */
  add(requestId: string): Promise<void>;
  /**
   * Asks whichever worker runs the request to stop. One that waits is handed out all the same, for the handler to find
   * that it is cancelled: taking it out here could take it from a worker that has just got it.
   */
  cancel(requestId: string): Promise<void>;
  /** Begins to work requests, one at a time. At most once per queue. */
  process(handler: PlanHandler): Promise<void>;
  /** Asks the running request to stop for shutdown and waits for it, then lets go of all connections. */
  close(): Promise<void>;
}
