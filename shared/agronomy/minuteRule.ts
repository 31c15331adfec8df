import type { Interval } from "./intervals.ts";
import type { Judgement, MinuteLimit } from "./limits.ts";

/** One limit at work on one order, which has at most one rule for each limit. `stops` is what `judgeAt` says of every minute of the horizon, found by its edges. */
export interface MinuteRule {
  readonly limit: MinuteLimit;
  readonly stops: readonly Interval[];
  judgeAt(min: number): Judgement | undefined;
}
