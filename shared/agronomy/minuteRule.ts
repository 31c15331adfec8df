import type { Interval } from "./intervals.ts";
import type { Judgement, MinuteLimit } from "./limits.ts";

/** One limit at work on one order, which has at most one rule for each limit. `stops` is what `judgeAt` says of every minute of the horizon, found by its edges. */
export interface MinuteRule {
  readonly limit: MinuteLimit;
  readonly stops: readonly Interval[];
  judgeAt(min: number): Judgement | undefined;
  /**
   * Of a rule whose figure may grow worse within a step of the forecast: over a stretch of such minutes that it stops it is worst at one of the two
   * ends or at one of these minutes. Left out: it is worst where the stretch begins.
   */
  readonly turnsMin?: readonly number[];
}
