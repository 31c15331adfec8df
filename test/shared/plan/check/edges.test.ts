import { describe, expect, test } from "vitest";
import type { SensitiveId } from "../../../../shared/model/quantities.ts";
import type { WeatherStep } from "../../../../shared/model/weather.ts";
import { checkPlan } from "../../../../shared/plan/check/checkPlan.ts";
import { coverOf, type Draft, stepsAt, stopsOf } from "../../../support/mutations/mutation.ts";
import { richDraft } from "../../../support/mutations/richDraft.ts";
import { positionAt } from "../../../support/richGround.ts";
import { centres, type FieldKey } from "../../../support/richOperation.ts";

/** Hives so far east of the centre of F2, with a downwind buffer of 1000 m. */
function withHives(eastM: number, wind: Pick<WeatherStep, "windFromDeg" | "windKph">): Draft {
  const draft = richDraft();
  const field: FieldKey = "F2";
  draft.operation.sensitive.features.push({
    type: "Feature",
    geometry: { type: "Point", coordinates: positionAt(centres[field], eastM, 0) },
    properties: { id: "S9" as SensitiveId, kind: "apiary", name: "Hives", radiusM: 25 },
  });
  const stop = stopsOf(draft).find((one) => one.field.id === field)!;
  stop.products[0]!.buffers.push({ kind: "apiary", distanceM: 1000, downwindOnly: true, downwindRule: "stopsField" });
  draft.operation.settings.limits.windVariableBelowKph = 3;
  for (const step of draft.operation.weather) Object.assign(step, wind);
  return draft;
}
const drifts = (draft: Draft) =>
  checkPlan(draft.operation, draft.plan).breaches.filter(
    (breach) => breach.rule === "drift" && breach.orderId === "O-3",
  ).length > 0;

describe("a place that the wind blows towards", () => {
  // F2 reaches 250 m east of its centre, the hives 25 m west of theirs: 1000 m between them at 1275 m. From its eastern
  // corners, 150 m north and south, hives 1000 m east of the centre lie 11.3 degrees (atan(150 / 750)) off due east.
  test.each([
    { eastM: 1274, windFromDeg: 270, expected: true },
    { eastM: 1276, windFromDeg: 270, expected: false },
    { eastM: 1000, windFromDeg: 270 + 11.3 + 45, expected: true },
    { eastM: 1000, windFromDeg: 270 + 11.32 + 45, expected: false },
    { eastM: 1000, windFromDeg: 270 - 11.3 - 45, expected: true },
    { eastM: 1000, windFromDeg: 270 - 11.32 - 45, expected: false },
    { eastM: 1000, windFromDeg: 90, expected: false },
  ])("$eastM m east in a wind from $windFromDeg: $expected", ({ eastM, windFromDeg, expected }) => {
    expect(drifts(withHives(eastM, { windFromDeg, windKph: 8 }))).toBe(expected);
  });
});

describe("a wind that blows away from a place within reach", () => {
  test.each([
    { eastM: 1274, windKph: 2.9, expected: true },
    { eastM: 1274, windKph: 3, expected: false },
    { eastM: 1276, windKph: 2.9, expected: false },
  ])("$windKph km/h, hives $eastM m east: $expected", ({ eastM, windKph, expected }) => {
    expect(drifts(withHives(eastM, { windFromDeg: 90, windKph }))).toBe(expected);
  });
});

describe("hours before the work of which nobody knows whether it rained", () => {
  // Order O-3 waits for as long as it is worked after the first known step, or a minute longer.
  test.each([
    { minutesMore: 0, expected: false },
    { minutesMore: 1, expected: true },
  ])("$minutesMore of its minutes: $expected", ({ minutesMore, expected }) => {
    const draft = richDraft();
    const knownFromMin = 60;
    draft.operation.weather = draft.operation.weather.filter((step) => coverOf(draft, step).fromMin >= knownFromMin);
    const { order, work } = stopsOf(draft).find((stop) => stop.order.id === "O-3")!;
    order.waitAfterRainHours = (work.startMin - knownFromMin + minutesMore) / 60;
    const rules = checkPlan(draft.operation, draft.plan).breaches.map(({ rule }) => rule);
    expect(rules.includes("wet")).toBe(expected);
  });
});

describe("rain after the work", () => {
  // F2 is worked by crew K1; its herbicide takes a whole number of hours to dry and steps begin on the hour.
  test.each([
    { hours: 2, stepsAfter: 2, expected: true },
    { hours: 2, stepsAfter: 3, expected: false },
  ])("$hours h to dry, rain in step $stepsAfter after the last: $expected", ({ hours, stepsAfter, expected }) => {
    const draft = richDraft();
    const stop = stopsOf(draft).find((one) => one.order.id === "O-3")!;
    stop.products[0]!.rainfastHours = hours;
    const lastHourMin = Math.floor((stop.work.endMin - 1) / 60) * 60;
    for (const step of stepsAt(draft, lastHourMin + stepsAfter * 60)) step.rainMm = 1;
    const rules = checkPlan(draft.operation, draft.plan)
      .breaches.filter(({ orderId }) => orderId === "O-3")
      .map(({ rule }) => rule);
    expect(rules.includes("rainfast")).toBe(expected);
  });
});
