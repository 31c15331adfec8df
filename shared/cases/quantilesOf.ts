import { quantile } from "../statistics/quantile.ts";
import type { Quantiles } from "./comparison.ts";

export function quantilesOf(values: readonly number[]): Quantiles {
  const at = (frac: number) => quantile(values, frac);
  return { q10: at(0.1), q25: at(0.25), q50: at(0.5), q75: at(0.75), q90: at(0.9) };
}
