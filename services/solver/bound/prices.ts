import type { Column } from "./column.ts";
import type { Relaxation } from "./relaxation.ts";
import { countOf, type Triple } from "./triples.ts";

/** What a block more would have to bring, and what a thing more would save, all in cents and none below nothing. */
export interface Prices {
  /** By block, no more than its value. */
  readonly block: Float64Array;
  /** By limit. */
  readonly limit: Float64Array;
  /** By triple of blocks. */
  readonly triple: Float64Array;
}

export function mixPrices(a: Prices, b: Prices, shareOfA: number): Prices {
  const mix = (x: Float64Array, y: Float64Array) => x.map((price, at) => shareOfA * price + (1 - shareOfA) * y[at]!);
  return { block: mix(a.block, b.block), limit: mix(a.limit, b.limit), triple: mix(a.triple, b.triple) };
}

/**
 * What everything costs at least by these prices, if no slot's routes were cheaper than what they pay for: each block brings its price, each limit and triple is paid for as
 * far as its capacity goes. With the least reduced cost of a route of each slot added, where it is below nothing, no plan is cheaper: the Lagrangian bound, true at
 * whatever prices (Desrosiers & Lübbecke 2005, "A Primer in Column Generation", section 2).
 */
export function pricedCents({ lostCents, limits }: Relaxation, prices: Prices): number {
  let cents = lostCents;
  for (const price of prices.block) cents += price;
  limits.forEach(({ capacity }, limit) => {
    cents -= capacity * prices.limit[limit]!;
  });
  for (const price of prices.triple) cents -= price;
  return cents;
}

/** What a route costs more than what it brings by these prices. */
export function reducedCents(
  relaxation: Relaxation,
  triples: readonly Triple[],
  column: Column,
  prices: Prices,
): number {
  let cents = column.cents;
  for (const block of column.blocks) cents -= prices.block[block]!;
  takenOf(relaxation, column, (limit, amount) => {
    cents += amount * prices.limit[limit]!;
  });
  triples.forEach((triple, at) => {
    if (prices.triple[at]! > 0) cents += prices.triple[at]! * countOf(triple, column.blocks);
  });
  return cents;
}

/** What a route takes of each limit, some of them more than once. */
export function takenOf(
  { outings, dutyLimits, workLimits }: Relaxation,
  { outing, blocks, dutyMin }: Column,
  take: (limit: number, amount: number) => void,
): void {
  const { slot, limits, amounts } = outings[outing]!;
  limits.forEach((limit, at) => {
    take(limit, amounts[at]!);
  });
  for (const limit of dutyLimits[slot]!) take(limit, dutyMin);
  for (const { block, limit, amount } of workLimits[slot]!) {
    for (const served of blocks) if (served === block) take(limit, amount);
  }
}

/** What a minute of duty costs beyond the wage. */
export function dutyPrice(limits: readonly number[], prices: Prices): number {
  return limits.reduce((sum, limit) => sum + prices.limit[limit]!, 0);
}
