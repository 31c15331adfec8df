/** Minutes that a tender has been filled at least when so much was taken from it; it left full. Where and how often are left out. */
export function fillMinutes(takenL: number, tenderL: number, fillLPerMin: number): number {
  return takenL <= tenderL ? 0 : Math.floor((takenL - tenderL) / fillLPerMin);
}
