/** Our choice: a load may be over by a millionth, so that rounding of the area does not add one. */
const loadSlack = 1e-6;

/** The fewest loads that an amount takes, in litres of mix or kilograms of granules. */
export function loadsFewest(amount: number, fullLoad: number): number {
  return Math.max(1, Math.ceil(amount / fullLoad - loadSlack));
}

/** Product in a load: load x product per hectare / carrier per hectare. */
export function productInLoad(load: number, productPerHa: number, ratePerHa: number): number {
  return (load * productPerHa) / ratePerHa;
}
