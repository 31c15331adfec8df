import { describe, expect, test } from "vitest";
import { comparisons, meanAndLargest } from "../../support/judges.ts";
import { publishedValues } from "../../support/publishedValues.ts";
import { seededRandom } from "../../support/seededRandom.ts";

describe("published values", () => {
  test.each(publishedValues)("$part: $name is $expected $unit ($source)", ({ expected, got, tolerance }) => {
    const value = got();
    if (typeof expected === "string" || typeof value === "string") expect(value).toBe(expected);
    else expect(Math.abs(value - expected)).toBeLessThanOrEqual(tolerance);
  });
});

describe("random comparisons", () => {
  test.each(comparisons)("$name: at most $most $unit", ({ name, unit, mostMean, most, errors }) => {
    const all = errors(seededRandom(20));
    const { mean, largest } = meanAndLargest(all);
    console.log(
      `${name}: ${all.length} times, mean ${mean.toPrecision(2)} ${unit}, largest ${largest.toPrecision(2)} ${unit}`,
    );
    expect(all.length).toBeGreaterThan(4000);
    expect(mean).toBeLessThanOrEqual(mostMean);
    expect(largest).toBeLessThanOrEqual(most);
  });
});
