/** How a piece goes back to those that wait. */
export interface GivenBack {
  /** Of its worker: when another has begun it since, nothing is given back. */
  readonly start: number;
  readonly startCounts: boolean;
  readonly alone: boolean;
}

/** What a worker hears when it reports: go on, stop because nobody wants it any more, or stop because it has ended or was begun elsewhere. */
export type Heard = "goOn" | "cancelled" | "overtaken";

/** Our choice: a worker that has not told for so long that it lives is taken for dead, also where the queue was lost. */
export const silentAfterS = 10;

/**
 * Our choice: a request, or a part of a study, that was begun this often and never ended is taken to bring its worker down. What throws or wants too much memory is found out within the worker (endings.ts);
 * this is for what kills a whole process, and has to be more than somebody who kills workers again and again meets: of 56 pieces under 200 kills on a busy machine one was begun 5 times.
 */
export const startsMax = 12;
