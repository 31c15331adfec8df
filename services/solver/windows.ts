import type { RouteProblem } from "./routes.ts";

/**
 * Index in `windowTimes` of the first window of the day in which work of so many minutes fits from `fromMin` on, or -1. It may start at `fromMin` or, if that is
 * later, when the window opens.
 */
export function windowFrom(
  routes: RouteProblem,
  variant: number,
  day: number,
  fromMin: number,
  minutes: number,
): number {
  const { windowTimes, windowFirst, windowLast } = routes;
  const at = variant * routes.days + day;
  const last = windowLast[at]!;
  for (let w = windowFirst[at]!; w < last; w += 2) {
    if (Math.max(fromMin, windowTimes[w]!) + minutes <= windowTimes[w + 1]!) return w;
  }
  return -1;
}

/** The last minute at which work of so many minutes may start in a window of the day and be done by `endMin`; minus infinity when there is none. */
export function lastStart(routes: RouteProblem, variant: number, day: number, endMin: number, minutes: number): number {
  const { windowTimes, windowFirst, windowLast } = routes;
  const at = variant * routes.days + day;
  const first = windowFirst[at]!;
  for (let w = windowLast[at]! - 2; w >= first; w -= 2) {
    const start = Math.min(windowTimes[w + 1]!, endMin) - minutes;
    if (start >= windowTimes[w]!) return start;
  }
  return Number.NEGATIVE_INFINITY;
}
