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
/** Limits that hold at every minute, by order and kind of aircraft. */
export const typeLimits = ["method", "releaseHeight", "droplet", "slope", "rate"] as const;
/** Limits that hold at every minute, by the order alone. */
export const orderLimits = ["buffers", "label", "seasonMax"] as const;
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

/** Beyond these decimals a figure holds only the noise of its sums. */
const mostDecimals = 9;
/** Our choice: as near to the truth as a person on site needs it. */
const nearEnough = 0.05;

/**
 * The two figures of a sentence, with as few decimals as tell them apart, so that nobody reads
 * "Delta T 8, label allows 8".
 */
export function figures(actual: number, allowed: number): readonly [string, string] {
  for (let decimals = 0; decimals <= mostDecimals; decimals++) {
    const pair = [shortest(actual, decimals), shortest(allowed, decimals)] as const;
    const isNear = Math.abs(Number(pair[0]) - actual) < nearEnough && Math.abs(Number(pair[1]) - allowed) < nearEnough;
    if (isNear && (pair[0] !== pair[1] || actual === allowed)) return pair;
  }
  const bound = shortest(allowed, mostDecimals);
  return [`just ${actual > allowed ? "over" : "under"} ${bound}`, bound];
}

/** A figure with at most so many decimals. */
export function shortest(value: number, decimals: number): string {
  const fixed = value.toFixed(decimals);
  const short = fixed.includes(".") ? fixed.replace(/\.?0+$/, "") : fixed;
  return short === "-0" ? "0" : short;
}
