/** Limits that stop single minutes, in the order in which people are told of them. */
export const minuteLimits = [
  "dates",
  "closed",
  "entry",
  "rei",
  "phi",
  "retreatment",
  "daylight",
  "noForecast",
  "rain",
  "rainfast",
  "wet",
  "wind",
  "windLow",
  "gust",
  "deltaT",
  "temperature",
  "humidity",
  "inversion",
  "bloom",
  "drift",
  "driftNear",
] as const;
/** Limits that hold at every minute, by order and kind of aircraft; `rate` is judged in fieldwork. */
export const typeLimits = ["method", "releaseHeight", "droplet", "slope", "rate"] as const;
/** Limits that hold at every minute, by the order alone. */
export const orderLimits = ["label", "seasonMax"] as const;
export const limitNames = [...orderLimits, ...typeLimits, ...minuteLimits] as const;

export type MinuteLimit = (typeof minuteLimits)[number];
export type LimitName = (typeof limitNames)[number];

/** What was measured against what. Words stand where there is no number; the unit is empty then. */
export interface Judgement {
  readonly limit: LimitName;
  readonly actual: number | string;
  readonly allowed: number | string;
  readonly unit: string;
  /** For a dispatcher, as: wind 21 km/h, label allows 15. */
  readonly sentence: string;
}

/**
 * The two figures of a sentence, with as few decimals as tell them apart, so that nobody reads
 * "Delta T 8, label allows 8".
 */
export function figures(actual: number, allowed: number): readonly [string, string] {
  for (let decimals = 0; decimals <= 3; decimals++) {
    const pair = [shortest(actual, decimals), shortest(allowed, decimals)] as const;
    const close = Math.abs(Number(pair[0]) - actual) < 0.05 && Math.abs(Number(pair[1]) - allowed) < 0.05;
    if (pair[0] !== pair[1] && close) return pair;
  }
  return [String(actual), String(allowed)];
}

/** A figure with at most so many decimals. */
export function shortest(value: number, decimals: number): string {
  return String(Number(value.toFixed(decimals)));
}
