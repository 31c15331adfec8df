import { describe, expect, test } from "vitest";
import { checkPlan } from "../../../../shared/plan/check/checkPlan.ts";
import type { RuleName } from "../../../../shared/plan/check/report.ts";
import { stretchesOf } from "../../../../shared/plan/check/stretches.ts";
import { planSchema } from "../../../../shared/plan/plan.ts";
import { scorePlan } from "../../../../shared/plan/score.ts";
import { type Draft, type DraftStop, moveBy, stepsAt, stopsOf } from "../../../support/mutations/mutation.ts";
import { richDraft } from "../../../support/mutations/richDraft.ts";

/**
 * O-9 of the rich plan, made by hand: crew K3 works from 06:21 to 07:00, while it is too windy until 08:00 it pauses, and
 * it is done at 09:07. The work takes 101 min: stretches of 39 and 67 min, of which 5 are for starting up again.
 */
function paused(): { draft: Draft; stop: DraftStop; at: (clock: string) => number } {
  const draft = richDraft();
  const stop = stopsOf(draft).find(({ order }) => order.id === "O-9")!;
  return { draft, stop, at: (clock) => draft.calendar.minOfLocal(`2027-06-07T${clock}`) };
}

/** Rules that the stop breaks. The rest of its day is not moved with it. */
function broken({ operation, plan }: Draft): RuleName[] {
  const own = checkPlan(operation, plan).breaches.filter(
    ({ blockId, rule }) => blockId === "O-9#1" || rule === "score",
  );
  return [...new Set(own.map(({ rule }) => rule))];
}

function setPauses({ work }: DraftStop, spans: readonly (readonly [startMin: number, endMin: number])[]): void {
  work.pauses = spans.map(([startMin, endMin]) => ({ startMin, endMin }));
}

test("the work is as it is said above", () => {
  const { draft, stop, at } = paused();
  expect(stop.work).toMatchObject({
    startMin: at("06:21"),
    endMin: at("09:07"),
    pauses: [{ startMin: at("07:00"), endMin: at("08:00") }],
  });
  expect(broken(draft)).toEqual([]);
});

describe("the plan's format", () => {
  test("names pauses or leaves them out", () => {
    const { draft, stop } = paused();
    expect(planSchema.parse(draft.plan)).toEqual(draft.plan);
    delete stop.work.pauses;
    expect(planSchema.parse(draft.plan)).toEqual(draft.plan);
    stop.work.pauses = [];
    expect(planSchema.safeParse(draft.plan).success).toBe(false);
  });
});

describe("windows hold for the stretches", () => {
  test.each([
    { from: "07:00", to: "08:00", expected: [] },
    { from: "06:59", to: "08:00", expected: [] },
    { from: "07:00", to: "08:01", expected: [] },
    { from: "07:01", to: "08:00", expected: ["wind"] },
    { from: "07:00", to: "07:59", expected: ["wind"] },
    { from: "06:50", to: "06:59", expected: ["wind"] },
    { from: "07:30", to: "07:40", expected: ["wind"] },
  ])("windy from 07:00 to 08:00, a pause from $from to $to: $expected", ({ from, to, expected }) => {
    const { draft, stop, at } = paused();
    setPauses(stop, [[at(from), at(to)]]);
    // As long as before at work.
    stop.work.endMin = at("09:07") + at(to) - at(from) - 60;
    expect(broken(draft)).toEqual(expected);
  });

  test("without the pause", () => {
    const { draft, stop, at } = paused();
    delete stop.work.pauses;
    stop.work.endMin = at("08:02");
    expect(broken(draft)).toEqual(["wind", "score"]);
  });

  test.each([
    { from: "07:00", to: "08:00", people: true, reiHours: 0, expected: [] },
    { from: "07:00", to: "08:00", people: false, reiHours: 12, expected: [] },
    { from: "06:59", to: "08:00", people: false, reiHours: 0, expected: ["closed"] },
    { from: "07:00", to: "08:01", people: false, reiHours: 0, expected: ["closed"] },
    { from: "07:00", to: "08:00", people: true, reiHours: 12, expected: ["rei"] },
    // The first stretch ends 30 min before people come.
    { from: "07:30", to: "08:00", people: true, reiHours: 0.5, expected: [] },
    { from: "07:29", to: "08:00", people: true, reiHours: 0.5, expected: ["rei"] },
  ])(
    "closed from $from to $to, people: $people, REI $reiHours h: $expected",
    ({ from, to, people, reiHours, expected }) => {
      const { draft, stop } = paused();
      for (const product of stop.products) product.reiHours = reiHours;
      stop.field.closures = [{ from: `2027-06-07T${from}`, to: `2027-06-07T${to}`, reason: "pruning", people }];
      expect(broken(draft)).toEqual(expected);
    },
  );

  test.each([
    { rainfastHours: 0, expected: [] },
    { rainfastHours: 1, expected: ["rainfast"] },
  ])("rain in the pause, rainfast after $rainfastHours h: $expected", ({ rainfastHours, expected }) => {
    const { draft, stop, at } = paused();
    for (const product of stop.products) product.rainfastHours = rainfastHours;
    for (const step of stepsAt(draft, at("07:30"))) step.rainMm = 5;
    expect(broken(draft)).toEqual(expected);
  });

  test.each([
    // The hour from 07:00 counts for every minute after it, of all 3 h back.
    { waitAfterRainMm: 5, expected: ["wet"] },
    { waitAfterRainMm: 5.1, expected: [] },
  ])(
    "5 mm of rain in the pause, the order waits from $waitAfterRainMm mm: $expected",
    ({ waitAfterRainMm, expected }) => {
      const { draft, stop, at } = paused();
      Object.assign(stop.order, { waitAfterRainMm, waitAfterRainHours: 3 });
      for (const product of stop.products) product.rainfastHours = 0;
      for (const step of stepsAt(draft, at("07:30"))) step.rainMm = 5;
      expect(broken(draft)).toEqual(expected);
    },
  );

  test("no forecast of the pause", () => {
    const { draft, stop, at } = paused();
    for (const product of stop.products) product.rainfastHours = 0;
    const gone = stepsAt(draft, at("07:30"));
    draft.operation.weather = draft.operation.weather.filter((step) => !gone.includes(step));
    expect(broken(draft)).toEqual([]);
    for (const product of stop.products) product.rainfastHours = 1;
    expect(broken(draft)).toEqual(["noForecast"]);
  });

  test("bees fly in the pause", () => {
    const { draft, stop } = paused();
    stop.field.bloom = { from: "2027-06-07", to: "2027-06-07" };
    for (const product of stop.products) product.bloomRule = "outsideBeeHours";
    // The sun is up from about 05:00 to 20:55.
    const beeHours = { startAfterSunriseMin: 140, endBeforeSunsetMin: 797 };
    draft.operation.settings.limits.beeHours = beeHours;
    expect(broken(draft)).toEqual([]);
    beeHours.endBeforeSunsetMin -= 60;
    expect(broken(draft)).toEqual(["bloom"]);
  });
});

describe("how long", () => {
  test.each([
    { pauseMaxMin: 60, stretchMinMin: 39, expected: [] },
    { pauseMaxMin: 59, stretchMinMin: 39, expected: ["pauseLength"] },
    { pauseMaxMin: 60, stretchMinMin: 40, expected: ["stretchLength"] },
    { pauseMaxMin: 0, stretchMinMin: 1, expected: ["pauseLength"] },
  ])("pauses up to $pauseMaxMin min, stretches from $stretchMinMin min: $expected", ({ expected, ...allowed }) => {
    const { draft } = paused();
    Object.assign(draft.operation.settings.planning, allowed);
    expect(broken(draft)).toEqual(expected);
  });

  test("a work that does not pause may be shorter than a stretch", () => {
    const { draft } = paused();
    draft.operation.settings.planning.stretchMinMin = 39;
    const others = stopsOf(draft).filter(({ work }) => work.endMin - work.startMin < 39);
    expect(others.length).toBeGreaterThan(0);
    expect(checkPlan(draft.operation, draft.plan).breaches).toEqual([]);
  });

  test.each([
    // 166 min of which 60 are paused and 5 start up again: 101 min of work.
    { resumeMin: 5, neededMin: 101, expected: [] },
    { resumeMin: 5, neededMin: 101.01, expected: ["workMinutes"] },
    { resumeMin: 6, neededMin: 100, expected: [] },
    { resumeMin: 6, neededMin: 100.01, expected: ["workMinutes"] },
    { resumeMin: 0, neededMin: 106, expected: [] },
    { resumeMin: 0, neededMin: 106.01, expected: ["workMinutes"] },
  ])(
    "flights and loads of $neededMin min, $resumeMin min to start up: $expected",
    ({ resumeMin, neededMin, expected }) => {
      const { draft, stop } = paused();
      draft.operation.settings.planning.resumeMin = resumeMin;
      const { detail } = stop.work;
      expect(stop.types).toHaveLength(1);
      detail.groundMin = neededMin - detail.sprayMin - detail.turnMin - detail.ferryMin;
      detail.rateHaPerHour = (stop.block.areaHa * 60) / (106 - resumeMin);
      expect(broken(draft)).toEqual(expected);
    },
  );

  test("two pauses start up again twice", () => {
    const { draft, stop, at } = paused();
    setPauses(stop, [
      [at("07:00"), at("08:00")],
      [at("08:30"), at("08:40")],
    ]);
    const { detail } = stop.work;
    // 106 + 10 min at work and paused, 5 min more to start up: ends at 09:22 with 101 min of work.
    stop.work.endMin = at("09:22");
    detail.groundMin = 101 - detail.sprayMin - detail.turnMin - detail.ferryMin;
    expect(broken(draft)).toEqual(["score"]);
    stop.work.endMin--;
    expect(broken(draft)).toEqual(["workDetail", "workMinutes", "score"]);
  });

  test("sets are not charged in a pause", () => {
    const { draft, stop } = paused();
    const { sprayMin, turnMin, ferryMin } = stop.work.detail;
    const { power } = stop.types[0]!;
    expect(power).toMatchObject({ source: "battery", chargeMin: 10 });
    // Four sets, and one bay (a generator of 12 kW, 9 kW a set) for 166 - 60 = 106 min.
    expect(stop.crewDay.outfit.batterySets[0]!.sets).toBe(4);
    const charges = 4 + 106 / 10;
    power.enduranceMin = (sprayMin + turnMin + ferryMin) / charges / (1 - power.reserveFrac);
    stop.work.detail.batteryChanges = 100;
    expect(broken(draft)).toEqual([]);
    power.enduranceMin *= 0.999;
    expect(broken(draft)).toEqual(["batteryEnergy"]);
  });
});

describe("while a work pauses", () => {
  test("its field is taken", () => {
    const { draft, at } = paused();
    // Crew K2's work of the next night, half an hour of it, into the hour of the pause.
    const night = stopsOf(draft).find(({ order }) => order.id === "O-8")!;
    const airspace = () => checkPlan(draft.operation, draft.plan).breaches.filter(({ rule }) => rule === "airspace");
    moveBy(night.work, at("07:10") - night.work.startMin);
    expect(airspace()).toHaveLength(1);
    moveBy(night.work, at("09:07") - night.work.startMin);
    expect(airspace()).toEqual([]);
  });

  test("duty goes on, the aircraft do not run", () => {
    const { draft, stop } = paused();
    const before = scorePlan(draft.operation, draft.plan);
    delete stop.work.pauses;
    stop.work.endMin -= 65;
    for (const activity of stop.crewDay.activities.slice(3)) moveBy(activity, -65);
    const without = scorePlan(draft.operation, draft.plan);
    expect(before.dutyMin - without.dutyMin).toBe(65);
    // 65 min of crew K3 at 4000 an hour; 5 min of one aircraft at 900 an hour.
    expect(Math.abs(before.labourCents - without.labourCents - (65 / 60) * 4000)).toBeLessThanOrEqual(1);
    expect(before.runningCents - without.runningCents).toBe((5 / 60) * 900);
  });
});

describe("pauses that are none", () => {
  test.each([
    {
      what: "overlapping",
      spans: [
        [130, 160],
        [150, 170],
      ],
      expected: [
        [100, 130],
        [170, 200],
      ],
    },
    {
      what: "in any order",
      spans: [
        [160, 170],
        [120, 130],
      ],
      expected: [
        [100, 120],
        [130, 160],
        [170, 200],
      ],
    },
    {
      what: "before and after",
      spans: [
        [50, 100],
        [200, 260],
      ],
      expected: [[100, 200]],
    },
    {
      what: "over both ends",
      spans: [
        [50, 120],
        [180, 260],
      ],
      expected: [[120, 180]],
    },
    { what: "backwards", spans: [[150, 120]], expected: [[100, 200]] },
    { what: "of the whole work", spans: [[90, 210]], expected: [] },
  ])("leave what they do not cover: $what", ({ spans, expected }) => {
    const { stop } = paused();
    Object.assign(stop.work, { startMin: 100, endMin: 200 });
    stop.work.pauses = spans.map(([startMin, endMin]) => ({ startMin: startMin!, endMin: endMin! }));
    expect(stretchesOf(stop.work)).toEqual(expected.map(([fromMin, toMin]) => ({ fromMin, toMin })));
  });
});
