import { describe, expect, test } from "vitest";
import { createRandom } from "../../../services/scenario/generate/random.ts";

const draws = 20_000;

describe("seeded numbers", () => {
  test("the same seed and topic give the same numbers, any other gives others", () => {
    const take = (seed: number, topic: string) => {
      const random = createRandom(seed, topic);
      return Array.from({ length: 5 }, () => random.unit());
    };
    expect(take(1, "fields")).toEqual(take(1, "fields"));
    expect(take(1, "fields")).not.toEqual(take(2, "fields"));
    expect(take(1, "fields")).not.toEqual(take(1, "orders"));
    expect(take(1, "fields")).not.toEqual(take(1 + 2 ** 32, "fields"));
  });

  test("a topic's numbers do not depend on what was drawn before", () => {
    const fresh = createRandom(3, "operation");
    const used = createRandom(3, "operation");
    used.unit();
    expect(used.topic("weather").unit()).toBe(fresh.topic("weather").unit());
  });

  test("spreads evenly: chi squared over 100 cells below its 99.9 % point", () => {
    const random = createRandom(4, "cells");
    const cells = new Array<number>(100).fill(0);
    for (let draw = 0; draw < draws; draw++) {
      const cell = Math.floor(random.unit() * 100);
      cells[cell] = cells[cell]! + 1;
    }
    const expected = draws / 100;
    const chiSquared = cells.reduce((sum, count) => sum + (count - expected) ** 2 / expected, 0);
    // 99 degrees of freedom, 0.999 point: 148.2 (tables of the chi-squared distribution, MEMORY; by Wilson and Hilferty's
    // approximation 99 x (1 - 2/891 + 3.0902 x sqrt(2/891))^3 = 148.2).
    expect(chiSquared).toBeLessThan(148.2);
  });

  test("a Gaussian has its mean and deviation within four standard errors", () => {
    const random = createRandom(5, "bell");
    const values = Array.from({ length: draws }, () => random.normal(10, 3));
    const mean = values.reduce((sum, value) => sum + value, 0) / draws;
    const deviation = Math.sqrt(values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (draws - 1));
    expect(Math.abs(mean - 10)).toBeLessThan((4 * 3) / Math.sqrt(draws));
    expect(Math.abs(deviation - 3)).toBeLessThan((4 * 3) / Math.sqrt(2 * draws));
  });

  test("whole numbers reach both ends, weights hold", () => {
    const random = createRandom(6, "ends");
    expect(new Set(Array.from({ length: 500 }, () => random.whole(-1, 2)))).toEqual(new Set([-1, 0, 1, 2]));
    const heavy = Array.from({ length: draws }, () =>
      random.weighted([
        ["heavy", 3],
        ["light", 1],
      ] as const),
    ).filter((item) => item === "heavy").length;
    // Four standard errors of a share of 3/4.
    expect(Math.abs(heavy / draws - 0.75)).toBeLessThan(4 * Math.sqrt((0.75 * 0.25) / draws));
  });
});
