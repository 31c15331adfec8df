import { describe, expect, it } from "vitest";
import { poissonOf } from "../../../shared/season/poisson.ts";
import { seededRandom } from "../../support/seededRandom.ts";

describe("a number by the Poisson distribution", () => {
  /** P(X = 0..), by the recurrence that defines it: Knuth, The Art of Computer Programming 2, 3.4.1 F (exercise 22 for the inversion). */
  const probabilities = (mean: number, upTo: number) => {
    const list = [Math.exp(-mean)];
    while (list.length <= upTo) list.push((list[list.length - 1]! * mean) / list.length);
    return list;
  };

  // Cumulative probabilities from printed tables of the distribution (MEMORY): mean 1: 0.3679, 0.7358, 0.9197; mean 5: P(X <= 5) = 0.6160, P(X <= 8) = 0.9319.
  it.each([
    [1, 0.367, 0],
    [1, 0.369, 1],
    [1, 0.735, 1],
    [1, 0.737, 2],
    [1, 0.919, 2],
    [1, 0.921, 3],
    [5, 0.615, 5],
    [5, 0.617, 6],
    [5, 0.931, 8],
    [5, 0.933, 9],
  ])("of mean %d and chance %d is %d, as tables have it", (mean, chance, count) => {
    expect(poissonOf(mean, chance)).toBe(count);
  });

  it.each([0.3, 2.5, 30, 75, 900])("has mean and variance %d", (mean) => {
    const draws = 40_000;
    const random = seededRandom(11);
    const counts = Array.from({ length: draws }, () => poissonOf(mean, random()));
    const got = counts.reduce((sum, count) => sum + count, 0) / draws;
    const variance = counts.reduce((sum, count) => sum + (count - got) ** 2, 0) / (draws - 1);
    // Four standard errors: of a mean sqrt(mean / n), of a variance sqrt((mean + 2 mean^2) / n).
    expect(Math.abs(got - mean)).toBeLessThan(4 * Math.sqrt(mean / draws));
    expect(Math.abs(variance - mean)).toBeLessThan(4 * Math.sqrt((mean + 2 * mean ** 2) / draws));
  });

  it("has the shares that the distribution says", () => {
    const even = 100_000;
    const mean = 12;
    const shares = new Map<number, number>();
    for (let at = 0; at < even; at++) {
      const count = poissonOf(mean, (at + 0.5) / even);
      shares.set(count, (shares.get(count) ?? 0) + 1 / even);
    }
    // Evenly spread chances: each share is right to within two of them.
    for (const [count, probability] of probabilities(mean, 40).entries()) {
      expect(Math.abs((shares.get(count) ?? 0) - probability)).toBeLessThan(2.1 / even);
    }
  });

  it("never falls when the mean or the chance rises", () => {
    for (const chance of [0, 0.001, 0.2, 0.5, 0.9, 0.9999]) {
      const counts = Array.from({ length: 400 }, (_, at) => poissonOf(at / 2, chance));
      for (const [at, count] of counts.slice(1).entries()) expect(count).toBeGreaterThanOrEqual(counts[at]!);
    }
    const rising = Array.from({ length: 1000 }, (_, at) => poissonOf(250, at / 1000));
    for (const [at, count] of rising.slice(1).entries()) expect(count).toBeGreaterThanOrEqual(rising[at]!);
  });

  it("is none of none, and ends at the greatest chance there is", () => {
    expect(poissonOf(0, 0.99)).toBe(0);
    expect(poissonOf(-3, 0.99)).toBe(0);
    expect(poissonOf(80, 1 - 2 ** -32)).toBeLessThan(200);
  });
});
