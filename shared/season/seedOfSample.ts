/** A seed for each sampled week, spread so that they are drawn apart from each other (Knuth, TAOCP 3, 6.4: multiplying by the golden ratio). */
export function seedOfSample(index: number): number {
  return Math.imul(index + 1, 0x9e3779b1) >>> 0;
}
