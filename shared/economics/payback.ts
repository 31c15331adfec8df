/** Years until what a purchase brings a year adds up to its price; null where it brings nothing. */
export function simplePaybackYears(priceCents: number, gainCentsPerYear: number): number | null {
  if (priceCents <= 0) return 0;
  return gainCentsPerYear <= 0 ? null : priceCents / gainCentsPerYear;
}

/**
 * The same with interest on what is still owed: n so that gain (1 - (1 + i)^-n) / i is the price, n = -ln(1 - price x i / gain) / ln(1 + i); null where the gain does not even
 * pay the interest.
 */
export function discountedPaybackYears(
  priceCents: number,
  gainCentsPerYear: number,
  interestFrac: number,
): number | null {
  const simple = simplePaybackYears(priceCents, gainCentsPerYear);
  if (simple === null || interestFrac === 0 || simple === 0) return simple;
  const owedFrac = simple * interestFrac;
  return owedFrac >= 1 ? null : -Math.log1p(-owedFrac) / Math.log1p(interestFrac);
}
