/** Our choice for what is recorded: square metres, millilitres or grams. Sums and products of decimals have noise far behind these. */
export const recordedHa = (areaHa: number): number => Number(areaHa.toFixed(4));
export const recordedAmount = (amount: number): number => Number(amount.toFixed(3));
/** Of L or kg per hectare. */
export const recordedRate = (ratePerHa: number): number => Number(ratePerHa.toFixed(4));
