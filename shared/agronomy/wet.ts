import type { Calendar } from "../model/calendar.ts";
import type { Order } from "../model/order.ts";
import { clip, gaps, type Interval, intervalAt, union } from "./intervals.ts";
import { figures, type Judgement } from "./limits.ts";
import type { MinuteRule } from "./minuteRule.ts";
import { wholeMinutes } from "./mix.ts";
import type { Station } from "./weather.ts";

/** Rain is given in decimals: three times 0.1 mm is 0.3, without the noise of its sum. */
const sumDecimals = 9;

/**
 * Rain of the last hours that leaves canopy or ground too wet for an order that waits for it. What nobody measured may have
 * been rain.
 */
export function wetRule(order: Order, station: Station, calendar: Calendar): MinuteRule | undefined {
  const { waitAfterRainMm, waitAfterRainHours } = order;
  if (waitAfterRainMm === undefined || waitAfterRainHours === undefined) return undefined;
  const backMin = wholeMinutes(waitAfterRainHours);
  // A step overlaps [m - backMin, m + 1) while m lies in [startMin, endMin + backMin).
  const rains = station.steps
    .filter(({ rainMm }) => rainMm > 0)
    .map(({ startMin, endMin, rainMm }) => ({ startMin, endMin: endMin + backMin, rainMm }));
  const sumAtMm = (min: number) => {
    const sumMm = rains.reduce((sum, rain) => (rain.startMin <= min && min < rain.endMin ? sum + rain.rainMm : sum), 0);
    return Number(sumMm.toFixed(sumDecimals));
  };
  const isWet = (sumMm: number) => sumMm >= waitAfterRainMm;

  const edges = [...new Set(rains.flatMap(({ startMin, endMin }) => [startMin, endMin]))].sort((a, b) => a - b);
  const wet: Interval[] = [];
  for (let i = 0; i + 1 < edges.length; i++) {
    if (isWet(sumAtMm(edges[i]!))) wet.push({ startMin: edges[i]!, endMin: edges[i + 1]! });
  }
  const unknown = gaps(union(station.steps), -backMin, calendar.horizonMin).map(({ startMin, endMin }) => ({
    startMin,
    endMin: endMin + backMin,
  }));
  return {
    limit: "wet",
    stops: clip(union([...wet, ...unknown]), 0, calendar.horizonMin),
    judgeAt: (min): Judgement | undefined => {
      const sumMm = sumAtMm(min);
      if (isWet(sumMm)) {
        const [actual, allowed] = figures(sumMm, waitAfterRainMm);
        const sentence = `${actual} mm of rain within ${waitAfterRainHours} h, order waits from ${allowed} mm`;
        return { limit: "wet", actual: sumMm, allowed: waitAfterRainMm, unit: "mm", sentence };
      }
      if (!intervalAt(unknown, min)) return undefined;
      const before = `the ${waitAfterRainHours} h before it`;
      const sentence = `weather is not known for part of ${before}, order waits after rain`;
      return { limit: "wet", actual: "unknown", allowed: `weather of all of ${before}`, unit: "", sentence };
    },
  };
}
