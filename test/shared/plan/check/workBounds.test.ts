import { describe, expect, test } from "vitest";
import { createCalendar } from "../../../../shared/model/calendar.ts";
import { checkPlan } from "../../../../shared/plan/check/checkPlan.ts";
import { widthToCoverM } from "../../../../shared/plan/check/passes.ts";
import type { RuleName } from "../../../../shared/plan/check/report.ts";
import { type Draft, type DraftStop, stopsOf, tenderOf } from "../../../support/mutations/mutation.ts";
import { richOperation } from "../../../support/richOperation.ts";
import { richPlan } from "../../../support/richPlan.ts";

/** Sentences about one order's work after a change to it. */
function said(orderId: string, rule: RuleName, change: (stop: DraftStop, draft: Draft) => void): string[] {
  const operation = richOperation();
  const plan = richPlan(operation);
  const draft = { operation, plan, calendar: createCalendar(operation.settings), random: () => 0 };
  change(stopsOf(draft).find(({ order }) => order.id === orderId)!, draft);
  return checkPlan(operation, plan)
    .breaches.filter((breach) => breach.rule === rule && breach.orderId === orderId)
    .map(({ sentence }) => sentence);
}

describe("a prescribed heading", () => {
  test.each([
    { prescribedDeg: 90, flownDeg: 90.5, expected: false },
    { prescribedDeg: 90, flownDeg: 90.51, expected: true },
    { prescribedDeg: 270, flownDeg: 89.5, expected: false },
    { prescribedDeg: 270, flownDeg: 89.49, expected: true },
    { prescribedDeg: 0, flownDeg: 180, expected: false },
    { prescribedDeg: 360, flownDeg: 179.6, expected: false },
    { prescribedDeg: 359.8, flownDeg: 0.2, expected: false },
    { prescribedDeg: 359.8, flownDeg: 0.4, expected: true },
    { prescribedDeg: 45, flownDeg: 135, expected: true },
    { prescribedDeg: undefined, flownDeg: 33, expected: false },
  ])("$prescribedDeg degrees, flown at $flownDeg: broken $expected", ({ prescribedDeg, flownDeg, expected }) => {
    const ofField = said("O-5", "heading", ({ field, work }) => {
      Object.assign(field, { headingDeg: prescribedDeg });
      work.detail.headingDeg = flownDeg;
    });
    expect(ofField.length > 0).toBe(expected);
    const ofOrder = said("O-5", "heading", ({ field, order, work }) => {
      if (prescribedDeg !== undefined) field.headingDeg = (flownDeg + 90) % 360;
      Object.assign(order, { headingDeg: prescribedDeg });
      work.detail.headingDeg = flownDeg;
    });
    expect(ofOrder.length > 0).toBe(expected);
  });
});

describe("ground on a slope", () => {
  // F4 has 12 ha, the spreader a swath of 7 m. On 75 % a swath covers 7 m x cos(atan(0.75)) = 7 m x 0.8 of the map.
  const neededM = (0.98 * 120_000) / 5.6;
  test.each([
    { passM: neededM + 10, expected: false },
    { passM: neededM - 10, expected: true },
  ])("$passM m of passes: too short $expected", ({ passM, expected }) => {
    const sentences = said("O-5", "workDetail", ({ field, work }) => {
      field.slopePct = 75;
      work.detail.passKm = passM / 1000;
    });
    expect(sentences.some((sentence) => sentence.includes("metres of passes"))).toBe(expected);
  });

  // 300 m across / 5.6 m = 53.57 swaths: 0.98 of it less one strip is 51.5.
  test.each([
    { passes: 52, expected: false },
    { passes: 51, expected: true },
  ])("$passes passes: too few $expected", ({ passes, expected }) => {
    const sentences = said("O-5", "workDetail", ({ field, work }) => {
      field.slopePct = 75;
      work.detail.passes = passes;
    });
    expect(sentences.some((sentence) => sentence.includes("number of passes"))).toBe(expected);
  });

  test("the speed is what the flow allows of the full swath", () => {
    // 40 kg/ha at 7 m and 9 m/s are 40 x 32.4 x 7 / 600 = 15.12 kg/min.
    const fastest = (spreadMaxKgPerMin: number) =>
      said("O-5", "workDetail", ({ field, types }) => {
        field.slopePct = 75;
        for (const type of types) type.granular!.spreadMaxKgPerMin = spreadMaxKgPerMin;
      }).some((sentence) => sentence.includes("speed in m/s"));
    expect([fastest(15.121), fastest(15.119)]).toEqual([false, true]);
  });
});

describe("a field flown in laps and passes", () => {
  // F4 is 300 m across its passes. Headland of 40 m: 220 m are left, 32 passes of 7 m, and ceil(40 / 7) = 6 laps.
  // Asked for are 0.98 x (220 + 42) / 7 - 1 = 35.7; without a headland 0.98 x 300 / 7 - 1 = 41.
  const tooFew = (headlandM: number, passes: number) =>
    said("O-5", "workDetail", ({ work }, { operation }) => {
      operation.settings.fieldwork.headlandM = headlandM;
      work.detail.passes = passes;
    }).some((sentence) => sentence.includes("number of passes"));

  test.each([
    { headlandM: 0, passes: 42, expected: false },
    { headlandM: 0, passes: 40, expected: true },
    { headlandM: 40, passes: 32 + 6, expected: false },
    { headlandM: 40, passes: 36, expected: false },
    { headlandM: 40, passes: 35, expected: true },
    // 100 m are left, 15 passes and 15 laps. Asked for are 0.98 x (100 + 105) / 7 - 1 = 27.7.
    { headlandM: 100, passes: 28, expected: false },
    { headlandM: 100, passes: 27, expected: true },
  ])("headland $headlandM m, $passes laps and passes: too few $expected", ({ headlandM, passes, expected }) => {
    expect(tooFew(headlandM, passes)).toBe(expected);
  });

  const rectangle = (widthM: number, heightM: number): [number, number][] => [
    [0, 0],
    [widthM, 0],
    [widthM, heightM],
    [0, heightM],
  ];
  const field = [[rectangle(1000, 1000)]];

  test.each([
    { what: "a rectangle", area: [[rectangle(400, 300)]], headlandM: 20, expected: 260 + 3 * 8 },
    {
      what: "of a headland that is a whole number of swaths",
      area: [[rectangle(400, 300)]],
      headlandM: 16,
      expected: 284,
    },
    {
      what: "a strip within the headland, flown in laps alone",
      area: [[rectangle(400, 38)]],
      headlandM: 20,
      expected: 24,
    },
    { what: "a strip narrower than its laps", area: [[rectangle(400, 12)]], headlandM: 20, expected: 12 },
    { what: "no headland", area: [[rectangle(400, 300)]], headlandM: 0, expected: 300 },
    {
      // Right-angled with legs of 100 m: the inscribed triangle 5 m inside has legs of 100 m - 5 m x (2 + sqrt 2).
      what: "a triangle, whose corners hold more headland",
      area: [
        [
          [
            [0, 0],
            [100, 0],
            [0, 100],
          ] as [number, number][],
        ],
      ],
      headlandM: 5,
      expected: 100 - 5 * (2 + Math.SQRT2) + 8,
    },
    {
      what: "two parts side by side, with four strips of headland",
      area: [[rectangle(400, 100)], [rectangle(400, 100).map(([x, y]): [number, number] => [x, y + 150])]],
      headlandM: 10,
      expected: 160 + 16,
    },
  ])("$what: $expected m across with a swath of 8 m", ({ area, headlandM, expected }) => {
    expect(widthToCoverM(area, 90, 8, { widthM: headlandM, field })).toBeCloseTo(expected, 3);
  });

  test("a field without ground beyond its headland has no laps", () => {
    const narrow = [[rectangle(400, 38)]];
    expect(widthToCoverM(narrow, 90, 8, { widthM: 20, field: narrow })).toBeCloseTo(38, 6);
  });
});

describe("loading points", () => {
  // Crew K1 sprays O-3 from tender T1: with two points the pump may take twice the work's minutes for all loads.
  const slow = (loadingPoints: number, share: number) =>
    said("O-3", "workMinutes", ({ crewDay, work }, draft) => {
      const tender = tenderOf(draft, crewDay);
      tender.loadingPoints = loadingPoints;
      tender.pumpLPerMin = work.detail.amount / (work.endMin - work.startMin) / loadingPoints / share;
    }).some((sentence) => sentence.includes("the loads at the pump"));

  test.each([1, 2, 3])("%i of them", (loadingPoints) => {
    expect([slow(loadingPoints, 0.999), slow(loadingPoints, 1.001)]).toEqual([false, true]);
  });
});
