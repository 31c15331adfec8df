import { describe, expect, test } from "vitest";
import { createCalendar } from "../../../../shared/model/calendar.ts";
import type { SensitiveId } from "../../../../shared/model/quantities.ts";
import { checkPlan } from "../../../../shared/plan/check/checkPlan.ts";
import type { RuleName } from "../../../../shared/plan/check/report.ts";
import { type Draft, stepsAt, stopsOf } from "../../../support/mutations/mutation.ts";
import { positionAt } from "../../../support/richGround.ts";
import { centres, richOperation } from "../../../support/richOperation.ts";
import { richPlan } from "../../../support/richPlan.ts";

function newDraft(): Draft {
  const operation = richOperation();
  return { operation, plan: richPlan(operation), calendar: createCalendar(operation.settings), random: () => 0 };
}

/** Blocks, or orders where a rule is about the whole order, that break the rule. */
function breaking(rule: RuleName, { operation, plan }: Draft): string[] {
  const found = checkPlan(operation, plan).breaches.filter((breach) => breach.rule === rule);
  return [...new Set(found.map(({ blockId, orderId }) => blockId ?? orderId ?? ""))].sort();
}

const stopOf = (draft: Draft, orderId: string) => stopsOf(draft).find(({ order }) => order.id === orderId)!;

describe("rain before the work", () => {
  /** O-3 begins in some hourly step; it waits from 2 mm in the 3 hours before. */
  function rainedMm(draft: Draft, rain: (stepsBack: number) => number): Draft {
    const { order, work } = stopOf(draft, "O-3");
    Object.assign(order, { waitAfterRainMm: 2, waitAfterRainHours: 3 });
    for (let back = 0; back <= 5; back++) {
      for (const step of stepsAt(draft, work.startMin - back * 60)) step.rainMm = rain(back);
    }
    return draft;
  }

  test.each([
    { what: "all of it just before", rain: (back: number) => (back === 1 ? 2 : 0), expected: ["O-3#1"] },
    { what: "a hundredth less", rain: (back: number) => (back === 1 ? 1.99 : 0), expected: [] },
    {
      what: "in the step that the three hours only touch",
      rain: (back: number) => (back === 3 ? 2 : 0),
      expected: ["O-3#1"],
    },
    { what: "in the step before that", rain: (back: number) => (back === 4 ? 2 : 0), expected: [] },
    { what: "in four steps together", rain: () => 0.5, expected: ["O-3#1"] },
    { what: "in three of the four steps together", rain: (back: number) => (back === 0 ? 0 : 0.5), expected: [] },
    // 0.1 + 0.5 + 0.7 + 0.7 is a little less than 2 in floating point.
    { what: "tenths that add up", rain: (back: number) => [0.7, 0.7, 0.5, 0.1][back] ?? 0, expected: ["O-3#1"] },
  ])("$what: $expected", ({ rain, expected }) => {
    expect(breaking("wet", rainedMm(newDraft(), rain))).toEqual(expected);
  });

  test("rain that begins while the work goes on", () => {
    const draft = rainedMm(newDraft(), () => 0);
    const { work } = stopOf(draft, "O-3");
    for (const step of stepsAt(draft, work.endMin - 1)) step.rainMm = 2;
    expect(breaking("wet", draft)).toEqual(["O-3#1"]);
  });

  test("an order that says only how much, or only how long, does not wait", () => {
    for (const key of ["waitAfterRainMm", "waitAfterRainHours"] as const) {
      const draft = rainedMm(newDraft(), () => 9);
      delete stopOf(draft, "O-3").order[key];
      expect(breaking("wet", draft)).toEqual([]);
    }
  });
});

describe("orders that are kept apart", () => {
  // O-9 is worked on the first day, O-8 in the night of the second.
  test.each([
    { from: "O-8", to: "O-9", moreMin: 0, expected: [] },
    { from: "O-8", to: "O-9", moreMin: 1, expected: ["O-8"] },
    { from: "O-9", to: "O-8", moreMin: 0, expected: [] },
    { from: "O-9", to: "O-8", moreMin: 1, expected: ["O-8"] },
  ])("$from from $to by $moreMin min more than they are: $expected", ({ from, to, moreMin, expected }) => {
    const draft = newDraft();
    const apartMin = stopOf(draft, "O-8").work.startMin - stopOf(draft, "O-9").work.endMin;
    for (const { order } of stopsOf(draft)) order.apartFrom = [];
    stopOf(draft, from).order.apartFrom = [{ orderId: stopOf(draft, to).order.id, hours: (apartMin + moreMin) / 60 }];
    expect(breaking("wait", draft)).toEqual(expected);
  });
});

describe("a part that is near to a place downwind", () => {
  /**
   * A garden 100 m south of the eastern half of F1, 224 m from its western half (200 m west, 100 m south of the corner); the
   * label keeps the distance in winds towards it. Seen from the centre of F1 it lies at 180 - atan(200 / 300) = 146.3 degrees.
   */
  function withGarden(distanceM: number, windFromDeg: number): Draft {
    const draft = newDraft();
    draft.operation.sensitive.features.push({
      type: "Feature",
      geometry: { type: "Point", coordinates: positionAt(centres.F1, 200, -300) },
      properties: { id: "S9" as SensitiveId, kind: "susceptible", name: "Garden", radiusM: 0 },
    });
    draft.operation.products.find(({ id }) => id === "FUN")!.buffers = [
      { kind: "water", distanceM: 30, downwindOnly: false, downwindRule: "stopsField" },
      { kind: "susceptible", distanceM, downwindOnly: true, downwindRule: "sparesPart" },
    ];
    for (const step of draft.operation.weather) step.windFromDeg = windFromDeg;
    return draft;
  }
  const all = ["O-1#1", "O-1#2", "O-2#1"];
  const east = ["O-1#2", "O-2#1"];

  // With half a metre of tolerance.
  test.each([
    { distanceM: 100.45, windFromDeg: 326, expected: [] },
    { distanceM: 100.55, windFromDeg: 326, expected: east },
    { distanceM: 150, windFromDeg: 326, expected: east },
    { distanceM: 224, windFromDeg: 326, expected: east },
    { distanceM: 224.2, windFromDeg: 326, expected: all },
    { distanceM: 150, windFromDeg: 45.5 + 45, expected: east },
    { distanceM: 150, windFromDeg: 48.3 + 45, expected: [] },
    { distanceM: 150, windFromDeg: 360 - 45.5 - 45, expected: east },
    { distanceM: 150, windFromDeg: 360 - 48.3 - 45, expected: [] },
  ])("$distanceM m, wind from $windFromDeg: $expected", ({ distanceM, windFromDeg, expected }) => {
    const draft = withGarden(distanceM, windFromDeg);
    expect(breaking("driftNear", draft)).toEqual(expected);
    expect(breaking("drift", draft)).toEqual([]);
  });

  test("an order that may not be split is stopped as a whole", () => {
    const draft = withGarden(150, 326);
    stopOf(draft, "O-2").order.maySplit = false;
    expect(breaking("drift", draft)).toEqual(["O-2#1"]);
    expect(breaking("driftNear", draft)).toEqual(["O-1#2"]);
  });

  test.each([
    { onlyFinerThan: "C" as const, expected: east },
    { onlyFinerThan: "M" as const, expected: [] },
  ])("sprayed M, the buffer only finer than $onlyFinerThan: $expected", ({ onlyFinerThan, expected }) => {
    const draft = withGarden(150, 326);
    for (const product of draft.operation.products)
      product.buffers = product.buffers.map((buffer) =>
        buffer.kind === "susceptible" ? { ...buffer, onlyFinerThan } : buffer,
      );
    expect(breaking("driftNear", draft)).toEqual(expected);
  });
});

describe("times that make no sense", () => {
  test.each([1e6, 1e9, 9e15])(
    "a work %d min longer: judged at once, as outside the operation's days",
    (minutes) => {
      const draft = newDraft();
      for (const { activities } of draft.plan.crewDays) {
        const index = activities.findIndex(({ kind }) => kind === "work");
        for (const [at, activity] of activities.entries()) {
          if (at > index) activity.startMin += minutes;
          if (at >= index) activity.endMin += minutes;
        }
      }
      const { breaches } = checkPlan(draft.operation, draft.plan);
      expect(breaches.filter(({ rule }) => rule === "horizon").length).toBe(draft.plan.crewDays.length);
    },
    5_000,
  );

  test("long before the operation, too", () => {
    const draft = newDraft();
    for (const activity of draft.plan.crewDays[0]!.activities) {
      activity.startMin -= 9e15;
      activity.endMin -= 9e15;
    }
    expect(checkPlan(draft.operation, draft.plan).breaches.some(({ rule }) => rule === "horizon")).toBe(true);
  }, 5_000);
});
