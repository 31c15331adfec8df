import { describe, expect, it } from "vitest";
import { compareRuns } from "../../../shared/cases/compareRuns.ts";
import { comparisonText } from "../../../shared/cases/comparisonText.ts";
import { readCases } from "../../../shared/cases/readCases.ts";
import { widthChars } from "../../../shared/plan/textTable.ts";
import { richOperation } from "../../support/richOperation.ts";
import { plannedRun } from "../../support/runOutcomes.ts";

const operation = richOperation();
const [type] = operation.fleet.aircraftTypes;
const [base] = operation.settings.bases;
const own = operation.fleet.aircraft.filter(({ typeId, baseId }) => typeId === type!.id && baseId === base!.id).length;

function comparedCurve(marginsCents: readonly number[], perYearCents: number) {
  const read = readCases(
    {
      formatVersion: 1,
      curve: { typeId: type!.id, baseId: base!.id, upTo: 2, buys: [{ what: "hire", perYearCents }] },
      seeds: 3,
      weeksPerYear: 10,
      interestPct: 0,
    },
    operation,
  );
  if (!read.ok) throw new Error(JSON.stringify(read.faults));
  const runs = marginsCents.flatMap((marginCents, more) =>
    [1, 2, 3].map((seed) => {
      const caseId = more === 0 ? "base" : `curve-${own + more}`;
      // From seed to seed a week is better or worse for every number alike; each one more differs by a little.
      return plannedRun({ caseId, seed }, { servedHa: 200, marginCents: marginCents + 7 * seed + more * (seed - 2) });
    }),
  );
  return compareRuns(operation, read.file, runs);
}

describe("the curve of margin against the number of aircraft", () => {
  it("tells what each one more brings a year beside what it costs, and the first that no longer pays", () => {
    // One more brings 5,000 EUR a week and so 50,000 a year, the next 1,000 and 10,000; each costs 20,000.
    const { curve } = comparedCurve([1_000_000, 1_500_000, 1_600_000], 2_000_000);
    expect(curve!.points.map(({ count, caseId }) => [count, caseId])).toEqual([
      [own, "base"],
      [own + 1, `curve-${own + 1}`],
      [own + 2, `curve-${own + 2}`],
    ]);
    const [first, second, third] = curve!.points;
    expect(first!.next).toBeNull();
    expect(second!.next).toMatchObject({
      extraMarginCentsPerYear: 5_000_000,
      gainCentsPerYear: 3_000_000,
      verdict: "pays",
    });
    expect(third!.next).toMatchObject({ extraMarginCentsPerYear: 1_000_000, verdict: "doesNotPay" });
    expect(curve!.sentence).toMatch(
      new RegExp(
        `: number ${own + 2} brings 10000 EUR a year \\(95 %: 10000 to 10000\\) and costs 20000 to own: does not pay\\.$`,
      ),
    );
    // Of 24 signs the most, 50,000, has all: 20,000 are 9.6, 10,000 are 4.8.
    const text = comparisonText(comparedCurve([1_000_000, 1_500_000, 1_600_000], 2_000_000));
    expect(text).toMatch(/^The operation as it is, over this week, 3 seeds each\./m);
    expect(text).not.toContain("More than now");
    expect(Math.max(...text.split("\n").map((line) => [...line].length))).toBeLessThanOrEqual(widthChars);
    expect(text).toMatch(/ {2}##########\|############## {2}pays$/m);
    expect(text).toMatch(/ {2}##### {5}\| +does not pay$/m);
  });

  it("says so where each of them pays", () => {
    expect(comparedCurve([1_000_000, 1_500_000, 1_900_000], 2_000_000).curve!.sentence).toMatch(
      new RegExp(`: up to number ${own + 2} each brings more than it costs to own\\.$`),
    );
  });

  it("leaves out what failed", () => {
    const { curve } = comparedCurve([1_000_000], 2_000_000);
    expect(curve!.points.map(({ marginCentsPerYear, next }) => [marginCentsPerYear === null, next])).toEqual([
      [false, null],
      [true, null],
      [true, null],
    ]);
  });
});
