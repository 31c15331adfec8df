/**
 * Share of Student's t distribution within t either side of its middle, for whole degrees of freedom: the finite sums of Abramowitz and Stegun 1964, 26.7.3 and 26.7.4.
 */
export function shareWithin(t: number, degrees: number): number {
  const angle = Math.atan(t / Math.sqrt(degrees));
  const [sin, cosSquared] = [Math.sin(angle), Math.cos(angle) ** 2];
  const isOdd = degrees % 2 === 1;
  if (degrees === 1) return (2 * angle) / Math.PI;
  let term = isOdd ? Math.cos(angle) : 1;
  let sum = term;
  for (let over = isOdd ? 3 : 2; over <= degrees - 2; over += 2) {
    term *= ((over - 1) / over) * cosSquared;
    sum += term;
  }
  return isOdd ? (2 / Math.PI) * (angle + sin * sum) : sin * sum;
}

/** So far from its middle reaches the interval that holds a share of the distribution. */
export function criticalT(share: number, degrees: number): number {
  let [lower, upper] = [0, 1];
  while (shareWithin(upper, degrees) < share) upper *= 2;
  // Halved until the numbers of a machine lie no closer.
  for (let step = 0; step < 100; step++) {
    const middle = (lower + upper) / 2;
    if (shareWithin(middle, degrees) < share) lower = middle;
    else upper = middle;
  }
  return upper;
}
