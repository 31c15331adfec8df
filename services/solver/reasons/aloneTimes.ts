import type { Agronomy } from "../../../shared/agronomy/agronomy.ts";
import { gaps, union } from "../../../shared/agronomy/intervals.ts";
import type { MinuteLimit } from "../../../shared/agronomy/limits.ts";
import { minuteLimits } from "../../../shared/agronomy/limits.ts";
import type { LimitStops } from "../../../shared/agronomy/windows.ts";
import type { Problem } from "../problem.ts";

/** Windows of one ground with some limits out of the way. */
export interface AloneTimes {
  /** Limits that stop some minute for some type. */
  readonly limits: readonly MinuteLimit[];
  /** Starts and ends in turn. */
  windows(type: number, isNight: boolean, isGone: (limit: MinuteLimit) => boolean): Int32Array;
}

export function createAloneTimes(
  problem: Problem,
  agronomy: Agronomy,
  ground: number,
  types: readonly number[],
): AloneTimes {
  const stopsOf = stopsOfGround(problem, agronomy, ground);
  const all = new Set(
    types.flatMap((type) => [false, true].flatMap((isNight) => stopsOf(type, isNight).map(({ limit }) => limit))),
  );
  const known = new Map<string, Int32Array>();
  return {
    limits: minuteLimits.filter((limit) => all.has(limit)),
    windows: (type, isNight, isGone) => {
      const left = stopsOf(type, isNight).filter(({ limit }) => !isGone(limit));
      const key = [type, isNight, ...left.map(({ limit }) => limit)].join(" ");
      const before = known.get(key);
      if (before !== undefined) return before;
      const open = gaps(union(left.flatMap(({ stops }) => stops)), 0, problem.calendar.horizonMin);
      const windows = Int32Array.from(open.flatMap(({ startMin, endMin }) => [startMin, endMin]));
      known.set(key, windows);
      return windows;
    },
  };
}

/** When each limit stops a ground for a type; limits that stop no minute are left out. */
export function stopsOfGround(
  problem: Problem,
  agronomy: Agronomy,
  ground: number,
): (type: number, isNight: boolean) => readonly LimitStops[] {
  const { order: index } = problem.grounds[ground]!;
  const { order } = problem.orders[index]!;
  const known = new Map<string, readonly LimitStops[]>();
  return (type, isNight) => {
    const key = `${type} ${isNight}`;
    const before = known.get(key);
    if (before !== undefined) return before;
    const stops = agronomy
      .stops(order, problem.types[type]!, askedOf(problem, ground, isNight))
      .filter((rule) => rule.stops.length > 0);
    known.set(key, stops);
    return stops;
  };
}

export function askedOf(problem: Problem, ground: number, night: boolean) {
  return problem.grounds[ground]!.isRest ? { night, rest: true as const } : { night };
}
