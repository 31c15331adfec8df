import { describe, expect, it } from "vitest";
import type { CasesFile } from "../../../shared/cases/cases.ts";
import { compareRuns } from "../../../shared/cases/compareRuns.ts";
import { type Comparison, comparisonSchema } from "../../../shared/cases/comparison.ts";
import { comparisonText } from "../../../shared/cases/comparisonText.ts";
import { differenceIn, type PlannedRun, pairsOf } from "../../../shared/cases/differenceIn.ts";
import { readCases } from "../../../shared/cases/readCases.ts";
import type { RunOutcome } from "../../../shared/cases/runResult.ts";
import { richOperation } from "../../support/richOperation.ts";
import { plannedRun, resultWith } from "../../support/runOutcomes.ts";
import { seededRandom } from "../../support/seededRandom.ts";

const operation = richOperation();
const [type] = operation.fleet.aircraftTypes;
const [base] = operation.settings.bases;

function fileOf(buys?: unknown[]): CasesFile {
  const changes = [{ kind: "addAircraft", typeId: type!.id, baseId: base!.id }];
  const cases = [{ id: "more", name: "One more", changes, ...(buys === undefined ? {} : { buys }) }];
  const outcome = readCases({ formatVersion: 1, cases, weeksPerYear: 20, interestPct: 8 }, operation);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.faults));
  return outcome.file;
}

function runsOf(caseId: string, results: readonly (readonly [ha: number, marginCents: number])[]): RunOutcome[] {
  return results.map(([servedHa, marginCents], at) => plannedRun({ caseId, seed: at + 1 }, { servedHa, marginCents }));
}

const baseRuns = runsOf("base", [
  [200, 1_000_000],
  [202, 1_010_000],
  [204, 990_000],
]);
/** 60, 61 and 62 ha more, 2,300, 2,310 and 2,320 EUR more. */
const better = runsOf("more", [
  [260, 1_230_000],
  [263, 1_241_000],
  [266, 1_222_000],
]);
const compared = (outcomes: readonly RunOutcome[], buys?: unknown[]): Comparison =>
  comparisonSchema.parse(compareRuns(operation, fileOf(buys), outcomes));

describe("cases side by side", () => {
  const price = { what: "An aircraft", priceCents: 13_000_000, years: 15, salvageCents: 3_450_000 };

  it("differ by the mean of the pairs, with Student's interval, a year against what it costs to own", () => {
    const [more] = compared([...baseRuns, ...better], [price]).cases;
    const { servedHa, marginCents } = more!.differences!;
    // 60, 61, 62: deviation 1, so 4.3027 / sqrt(3) = 2.4841 either side.
    expect(servedHa).toEqual({
      pairs: 3,
      mean: 61,
      interval95: [expect.closeTo(58.5159, 3), expect.closeTo(63.4841, 3)],
      isClear: true,
    });
    expect(marginCents.mean).toBe(231_000);
    expect(more!.ownership!.extraMarginCentsPerYear).toBe(231_000 * 20);
    // The inputs of A3-29: 13,917 a year.
    expect(more!.ownership!.ownershipCentsPerYear / 100).toBeCloseTo(13_917, 0);
    expect(more!.ownership!.paybackYears!.simple).toBeCloseTo(130_000 / 46_200, 9);
    expect(more!.ownership!.verdict).toBe("pays");
    expect(more!.sentence).toBe(
      "One more: 61 ha more a week (59 to 63), 2310 EUR more margin a week (2285 to 2335), 46200 EUR a year against 13917 to own it: pays back in 2.8 years (3.3 with interest).",
    );
  });

  it("are the same in whatever order the runs ended", () => {
    const all = [...baseRuns, ...better];
    expect(compared([...all].reverse())).toEqual(compared(all));
  });

  it("say that a case does not pay, or pays nothing at all", () => {
    const dear = compared([...baseRuns, ...better], [{ ...price, priceCents: 90_000_000, salvageCents: 0 }]).cases[0]!;
    expect(dear.ownership!.verdict).toBe("doesNotPay");
    expect(dear.sentence).toMatch(/to own it: does not pay\.$/);
    const idle = runsOf(
      "more",
      baseRuns.map((run) => (run.status === "planned" ? [run.result.servedHa, run.result.money.marginCents] : [0, 0])),
    );
    const nothing = compared([...baseRuns, ...idle], [price]).cases[0]!;
    expect(nothing.changesNothing).toBe(true);
    expect(nothing.differences!.marginCents.isClear).toBe(false);
    expect(nothing.sentence).toBe(
      "One more: brings nothing, every plan is the same, and costs 13917 EUR a year to own.",
    );
  });

  it("do not tell of what is only rounding, however often it comes to the same", () => {
    // Blocks that are cut otherwise add up to other last digits.
    const comparison = compared([
      ...baseRuns,
      ...runsOf("more", [
        [200 - 1e-7, 1_003_000],
        [202 - 1e-7, 1_008_000],
        [204 - 1e-7, 991_000],
      ]),
    ]);
    const dust = comparison.cases[0]!;
    expect(dust.differences!.servedHa.isClear).toBe(false);
    expect(dust.sentence).toMatch(/^One more: no clear difference: 0 ha more a week \(0 to 0\), 7 EUR more margin/);
    // 667 cents a week, twenty weeks: in brackets by the week and by the year, for they are one difference.
    expect(comparisonText(comparison)).toMatch(/ \(0\) .* \(\+7\) .* \(133\) /);
  });

  it("tell what failed, and leave its pair out", () => {
    const failed: RunOutcome = {
      status: "failed",
      key: { caseId: "more", seed: 2 },
      message: "the checker found 1 breach",
    };
    const comparison = compared([...baseRuns, better[0]!, failed, better[2]!]);
    expect(comparison.failed).toEqual([{ key: failed.key, message: failed.message }]);
    expect(comparison.cases[0]!.differences!.servedHa).toMatchObject({ pairs: 2, mean: 61 });
    const none = compared([...baseRuns, failed]).cases[0]!;
    expect([none.differences, none.measures, none.ownership]).toEqual([null, null, null]);
  });

  it("take what types of aircraft cost a year where the case says nothing", () => {
    expect(compared([...baseRuns, ...better]).cases[0]!.ownership).toMatchObject({
      ownershipCentsPerYear: type!.ownershipCentsPerYear,
      priceCents: null,
      paybackYears: null,
    });
  });

  it("over sampled weeks count a week once, however many seeds it had", () => {
    const week = (caseId: string, at: number, seed: number, servedHa: number) =>
      plannedRun({ caseId, seed, week: at }, { servedHa, marginCents: 0 });
    const outcomes = [
      ...[0, 1].flatMap((at) => [week("base", at, 1, 100 * at), week("base", at, 2, 100 * at + 2)]),
      ...[0, 1].flatMap((at) => [week("more", at, 1, 100 * at + 10 + at), week("more", at, 2, 100 * at + 16 + at)]),
    ];
    const comparison = compared(outcomes);
    expect(comparison.weeks).toBe(2);
    // Week 0: 10 and 14, so 12; week 1: 11 and 15, so 13.
    expect(comparison.cases[0]!.differences!.servedHa).toMatchObject({ pairs: 2, mean: 12.5 });
  });
});

describe("no clear difference", () => {
  it("is what noise is called in at least 19 of 20 cases", () => {
    const random = seededRandom(6);
    // Twelve uniform numbers less six: nearly normal.
    const noise = () => Array.from({ length: 12 }, random).reduce((sum, value) => sum + value, -6);
    const draw = (caseId: string): PlannedRun[] =>
      [1, 2, 3].map((seed) => ({
        key: { caseId, seed },
        result: resultWith({ servedHa: 200, marginCents: 1_000_000 + 20_000 * noise() }),
      }));
    const trials = 2000;
    let clear = 0;
    for (let trial = 0; trial < trials; trial++) {
      const baseDraw = draw("base");
      const pairs = pairsOf(baseDraw, draw("more"));
      if (differenceIn(({ money }) => money.marginCents, baseDraw, pairs).isClear) clear++;
    }
    expect(clear / trials).toBeLessThanOrEqual(0.05);
    expect(clear).toBeGreaterThan(0);
  });

  it("is said of it", () => {
    const noise = runsOf("more", [
      [203, 1_005_000],
      [199, 985_000],
      [205, 1_020_000],
    ]);
    const [more] = compared([...baseRuns, ...noise], [{ what: "hire", perYearCents: 500_000 }]).cases;
    expect(more!.differences!.marginCents.isClear).toBe(false);
    expect(more!.sentence).toMatch(
      /^One more: no clear difference: \d+ ha more a week \(\d+ less to \d+ more\), \d+ EUR \w+ margin a week \(\d+ less to \d+ more\); to own it costs 5000 EUR a year: whether it pays is not clear\.$/,
    );
  });
});
