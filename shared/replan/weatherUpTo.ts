import type { WeatherStep } from "../model/weather.ts";
import { groupBy } from "../plan/totals.ts";

const msPerMin = 60_000;

/**
 * The forecast as it was told up to a moment, and as it is now from then on: a new one says nothing of hours that have passed, and what was done in them was done by the old one. Where the new steps begin
 * later than the old ones end, old ones lie between.
 */
export function weatherUpTo(now: readonly WeatherStep[], told: readonly WeatherStep[], atMs: number): WeatherStep[] {
  const before = groupBy(told, ({ stationId }) => stationId);
  const stations = groupBy(now, ({ stationId }) => stationId);
  return [...stations].flatMap(([stationId, steps]) => {
    const first = steps[0]!;
    const old = inOrder(before.get(stationId) ?? []).filter(
      // A station that was moved has another air.
      ({ latDeg, lonDeg }) => latDeg === first.latDeg && lonDeg === first.lonDeg,
    );
    const past = old.filter((step) => startMs(step) < atMs);
    if (past.length === 0) return steps;
    const seamMs = Math.max(atMs, endMs(past.at(-1)!));
    const coming = inOrder(steps).filter((step) => startMs(step) >= seamMs);
    const comingMs = coming.length === 0 ? Number.POSITIVE_INFINITY : startMs(coming[0]!);
    const between = old.filter((step) => startMs(step) >= atMs && endMs(step) <= comingMs);
    return [...past, ...between, ...coming];
  });
}

function inOrder(steps: readonly WeatherStep[]): WeatherStep[] {
  return steps.toSorted((a, b) => startMs(a) - startMs(b));
}

function startMs({ start }: WeatherStep): number {
  return Date.parse(start);
}

function endMs(step: WeatherStep): number {
  return startMs(step) + step.stepMin * msPerMin;
}
