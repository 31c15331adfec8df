/**
 * What of a sum is to be paid back each year, so that after so many years nothing is owed: the capital recovery factor i (1 + i)^n / ((1 + i)^n - 1),
 * without interest 1 / n (e.g. Lazarus and Selley 2002, "Suggested Procedures for Estimating Farm Machinery Costs", University of Minnesota P02-16).
 */
export function capitalRecoveryFactor(interestFrac: number, years: number): number {
  if (interestFrac === 0) return 1 / years;
  return interestFrac / -Math.expm1(-years * Math.log1p(interestFrac));
}

export interface Purchase {
  readonly priceCents: number;
  readonly years: number;
  /** What it still brings when it is sold after those years. */
  readonly salvageCents: number;
}

/** Depreciation and interest of a year: (price - salvage) CRF + salvage x interest (Iowa State University Extension, Ag Decision Maker A3-29). */
export function ownershipCentsPerYear({ priceCents, years, salvageCents }: Purchase, interestFrac: number): number {
  return (priceCents - salvageCents) * capitalRecoveryFactor(interestFrac, years) + salvageCents * interestFrac;
}
