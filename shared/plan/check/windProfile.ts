/** Our choice: the law holds over short grass and not lower than this. */
const leastHeightM = 0.5;

/** How strong the wind is at a height, in proportion: FAO Irrigation and Drainage Paper 56 (1998), equation 47. */
function profile(heightM: number): number {
  return Math.log(67.8 * Math.max(leastHeightM, heightM) - 5.42);
}

/** The wind at one height from the wind at another. */
export function windAtHeightKph(windKph: number, givenAtM: number, wantedAtM: number): number {
  return windKph * (profile(wantedAtM) / profile(givenAtM));
}
