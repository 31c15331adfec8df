/** Our choice: the law holds over short grass; nearer to it than this the wind is taken as at this height. */
const leastHeightM = 0.5;

/** How the wind grows with height: FAO Irrigation and Drainage Paper 56 (1998), equation 47. */
function profile(heightM: number): number {
  return Math.log(67.8 * Math.max(heightM, leastHeightM) - 5.42);
}

/** The wind at one height, brought to another. The paper's equation is for 2 m; its law is used between any two heights. */
export function windAtHeightKph(windKph: number, fromM: number, toM: number): number {
  // In this order a wind brought to its own height is itself, to the last digit.
  return windKph * (profile(toM) / profile(fromM));
}
