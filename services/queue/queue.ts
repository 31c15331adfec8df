/** Why what is running is to be stopped. */
export type StopReason = "cancelled" | "shutdown";

/**
 * Works one piece. The signal is aborted with a StopReason; after "shutdown" the handler returns `giveBack` and the
 * piece is handed to another worker, or to the next one that starts. A handler that throws is called again later, however often, and so is one that asks for it.
 */
export type WorkHandler = (id: string, signal: AbortSignal) => Promise<Worked>;
export type Worked = "ended" | "giveBack" | { readonly againInMs: number };

export interface Piece {
  readonly id: string;
  /** From 0 on; more than `lastTurn` counts as that. */
  readonly turn: number;
}
export const lastTurn = 2_097_151;

/** What a queue carries, and how many pieces of it a worker works at once. Queues of the same name are one. */
export interface QueueKind {
  readonly name: string;
  readonly atOnce: number;
}

/** Plan requests, by their ids: one at a time, since each is planned in several threads. */
export const planQueue: QueueKind = { name: "plans", atOnce: 1 };
/** Parts of studies (pieces.ts): one thread each. */
export const partQueue = (atOnce: number): QueueKind => ({ name: "parts", atOnce });

/**
 * Hands pieces of work to workers. A piece may be handed out again: its worker died, or did not tell for so long that
 * it is taken for dead. So the handler must be able to do it twice. Left out: what a piece is and what came of it,
 * which the store knows; a queue that is lost is filled again from there.
 */
export interface WorkQueue {
  /**
   * In turn 0. Adding what is waiting or being worked changes nothing. Where the queue does not answer within two seconds this is told as a connection error, and not waited for: workers look after what the store holds.
   */
  add(...ids: string[]): Promise<void>;
  /** The least turn is begun first, of the same turn what came first. What is there already keeps the turn that it has. */
  addInTurn(pieces: readonly Piece[]): Promise<void>;
  /** How many pieces it holds, worked ones too. */
  size(): Promise<number>;
  /**
   * Asks whichever worker runs the piece to stop. One that waits is handed out all the same, for the handler to find
   * that it is cancelled: taking it out here could take it from a worker that has just got it.
   */
  cancel(id: string): Promise<void>;
  /** Begins to work, as many at once as the queue's kind says. At most once per queue. */
  process(handler: WorkHandler): Promise<void>;
  /** Begins nothing here until it is released; what runs goes on. What this worker has taken by then, or still takes, waits here: as many as it works at once. */
  hold(): void;
  release(): void;
  /** Throws when what carries the queue does not answer; may take as long as it waits for that. */
  ping(): Promise<void>;
  /** Takes nothing new and waits for what runs, which is asked to stop for shutdown when `hurry` is aborted, at once if it is left out; what was not begun goes back at once. Then lets go of all connections. */
  close(hurry?: AbortSignal): Promise<void>;
}
