import type { RouteProblem } from "./routes.ts";

/**
 * Index in `windowTimes` of the first window of the day in which work of so many minutes may begin from `fromMin` on, or -1. It may start at `fromMin` or, if that is
 * later, when the window opens.
 */
export function windowFrom(
  routes: RouteProblem,
  variant: number,
  day: number,
  fromMin: number,
  minutes: number,
): number {
  const { windowTimes, windowUntil, windowFirst, windowLast } = routes;
  const at = variant * routes.days + day;
  const last = windowLast[at]!;
  const stretchMin = Math.min(minutes, routes.stretchMin);
  for (let w = windowFirst[at]!; w < last; w += 2) {
    const startMin = Math.max(fromMin, windowTimes[w]!);
    if (startMin + stretchMin <= windowTimes[w + 1]! && startMin + minutes <= windowUntil[w]!) return w;
  }
  return -1;
}

/** The last minute at which work of so many minutes that begins in a window of the day may start. */
export function lastStartIn(routes: RouteProblem, w: number, minutes: number): number {
  return Math.min(routes.windowTimes[w + 1]! - Math.min(minutes, routes.stretchMin), routes.windowUntil[w]! - minutes);
}

/** The last minute at which work of so many minutes may start in a window of the day and be done by `endMin`; minus infinity when there is none. */
export function lastStart(routes: RouteProblem, variant: number, day: number, endMin: number, minutes: number): number {
  const { windowTimes, windowFirst, windowLast } = routes;
  const at = variant * routes.days + day;
  const first = windowFirst[at]!;
  for (let w = windowLast[at]! - 2; w >= first; w -= 2) {
    const startMin = Math.min(lastStartIn(routes, w, minutes), endMin - minutes);
    if (startMin >= windowTimes[w]!) return startMin;
  }
  return Number.NEGATIVE_INFINITY;
}
