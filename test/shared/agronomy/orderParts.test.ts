import { describe, expect, test } from "vitest";
import { answersOf, type Situation } from "./oneOrder.ts";
import { type BufferInput, bare, hives, namesOf, partsOf, sparing, treatedOf, widthM } from "./partedField.ts";

const noon = "2027-06-08T12:00";

/** Hives on the middle of the west edge: with 150 m, a half circle of the field is near. */
const onWestEdge = hives([-widthM / 2, 0]);
const halfCircle: Situation = { sensitive: [onWestEdge], labels: [{ buffers: [sparing(150)] }] };

describe("parts of the treated area", () => {
  test("are one, the whole, when no buffer spares a part or no place is near", () => {
    expect(partsOf({})).toEqual([{ part: "whole", area: bare.area, areaHa: bare.areaHa }]);
    const stopping: BufferInput = { ...sparing(150), downwindRule: "stopsField" };
    expect(namesOf({ ...halfCircle, labels: [{ buffers: [stopping] }] })).toEqual(["whole"]);
    expect(namesOf({ ...halfCircle, sensitive: [hives([-widthM / 2 - 151, 0])] })).toEqual(["whole"]);
    expect(namesOf({ ...halfCircle, sensitive: [] })).toEqual(["whole"]);
  });

  test("are the near half circle about hives on the edge, and the rest", () => {
    const [near, rest] = partsOf(halfCircle);
    expect([near!.part, rest!.part]).toEqual(["near", "rest"]);
    // Half of a circle of 150 m: pi x 22,500 / 2 = 35,343 m2 = 3.534 ha; the field has 600 x 400 m = 24 ha.
    expect(near!.areaHa).toBeCloseTo(3.534, 2);
    expect(near!.areaHa + rest!.areaHa).toBeCloseTo(bare.areaHa, 4);
  });

  test("count from the edge of a place with a radius", () => {
    const [near] = partsOf({ ...halfCircle, sensitive: [hives([-widthM / 2, 0], 30)] });
    // Half of a circle of 180 m: pi x 32,400 / 2 = 50,894 m2.
    expect(near!.areaHa).toBeCloseTo(5.089, 2);
  });

  test("are cut out of what fixed buffers leave", () => {
    const fixed: BufferInput = { kind: "apiary", distanceM: 50 };
    const [near, rest] = partsOf({ ...halfCircle, labels: [{ buffers: [fixed, sparing(150)] }] });
    // Half a ring: pi x (22,500 - 2,500) / 2 = pi x 10,000 m2.
    expect(near!.areaHa).toBeCloseTo(Math.PI, 2);
    expect(rest!.areaHa).toBeCloseTo(bare.areaHa - 3.534, 2);
  });

  test("are one when either would be less than 0.05 ha", () => {
    // Half a circle of 17 m has 454 m2, of 19 m 567 m2.
    const inHalfCircleOf = (distanceM: number) =>
      namesOf({ sensitive: [onWestEdge], labels: [{ buffers: [sparing(distanceM)] }] });
    expect(inHalfCircleOf(17)).toEqual(["whole"]);
    expect(inHalfCircleOf(19)).toEqual(["near", "rest"]);
    // From the middle of the west edge the far corners are hypot(600, 200) = 632.5 m away.
    expect(inHalfCircleOf(560)).toEqual(["near", "rest"]);
    expect(inHalfCircleOf(632)).toEqual(["whole"]);
  });

  test("are one for an order that may not be split, and none when nothing is left to treat", () => {
    expect(namesOf({ ...halfCircle, order: { maySplit: false } })).toEqual(["whole"]);
    const fixed: BufferInput = { kind: "apiary", distanceM: 1000 };
    expect(partsOf({ ...halfCircle, labels: [{ buffers: [fixed, sparing(150)] }] })).toEqual([]);
  });
});

describe("a buffer that only spray finer than a class needs", () => {
  const onlyFinerThanM: BufferInput = { ...sparing(150), onlyFinerThan: "M" };
  type Label = NonNullable<Situation["labels"]>[number];
  const names = (order: Situation["order"], ...labels: Partial<Label>[]) =>
    namesOf({
      sensitive: [onWestEdge],
      labels: labels.map((label, at) => ({ ...label, buffers: at === 0 ? [onlyFinerThanM] : [] })),
      ...(order && { order }),
    });

  test("goes by the order's class first", () => {
    expect(names({ dropletClass: "F" }, {})).toEqual(["near", "rest"]);
    expect(names({ dropletClass: "M" }, {})).toEqual(["whole"]);
    expect(names({ dropletClass: "C" }, { dropletFinest: "F" })).toEqual(["whole"]);
  });

  test("else by the finest class that all labels allow, else by the finest of all", () => {
    expect(names(undefined, {})).toEqual(["near", "rest"]);
    expect(names(undefined, { dropletFinest: "F" })).toEqual(["near", "rest"]);
    expect(names(undefined, { dropletFinest: "F" }, { dropletFinest: "M" })).toEqual(["whole"]);
  });

  test("leaves fixed ground alone likewise, and gives way to a narrower one that always holds", () => {
    const left = (dropletClass: "F" | "M") =>
      treatedOf({
        sensitive: [onWestEdge],
        labels: [{ buffers: [{ kind: "apiary", distanceM: 100, onlyFinerThan: "M" }] }, { buffers: [] }],
        order: { dropletClass },
      });
    // Half of a circle of 100 m is 15,708 m2.
    expect(bare.areaHa - left("F").areaHa).toBeCloseTo(1.571, 2);
    expect(left("M").areaHa).toBe(bare.areaHa);
    const both = treatedOf({
      sensitive: [onWestEdge],
      labels: [
        {
          buffers: [
            { kind: "apiary", distanceM: 100, onlyFinerThan: "M" },
            { kind: "apiary", distanceM: 50 },
          ],
        },
      ],
      order: { dropletClass: "M" },
    });
    // Half of a circle of 50 m is 3,927 m2.
    expect(bare.areaHa - both.areaHa).toBeCloseTo(0.393, 2);
  });
});

describe("wind towards a place by which a part is spared", () => {
  const outside: Situation = { ...halfCircle, sensitive: [hives([-widthM / 2 - 20, 0])] };
  const blowing = (situation: Situation, windFromDeg: number) => {
    const { agronomy, order, helicopter, calendar } = answersOf({ ...situation, airOfHour: () => ({ windFromDeg }) });
    const min = calendar.minOfLocal(noon);
    const sentences = (rest: boolean) =>
      agronomy
        .judge(order, helicopter, min, rest ? { night: true, rest: true } : { night: true })
        .map(({ limit, sentence }) => `${limit}: ${sentence}`);
    return { strict: sentences(false), rest: sentences(true) };
  };

  test("stops the near part and not the rest", () => {
    const { strict, rest } = blowing(outside, 90);
    expect(strict).toEqual([
      expect.stringMatching(
        /^driftNear: wind from the east blows towards Hives at the hedge, 20 m .*150 m downwind.*waits$/,
      ),
    ]);
    expect(rest).toEqual([]);
    expect(blowing(outside, 270)).toEqual({ strict: [], rest: [] });
  });

  test("stops all of an order that may not be split", () => {
    const { strict, rest } = blowing({ ...outside, order: { maySplit: false } }, 90);
    expect(strict).toEqual([expect.stringMatching(/^drift: wind from the east .*150 m downwind$/)]);
    expect(rest).toEqual(strict);
  });

  test("stops all where there is no rest to spare", () => {
    const { strict, rest } = blowing({ sensitive: [onWestEdge], labels: [{ buffers: [sparing(632)] }] }, 90);
    expect(strict).toHaveLength(1);
    expect(rest).toEqual(strict);
  });

  test("stops the near part when it is too weak to have a direction", () => {
    const { agronomy, order, helicopter, calendar } = answersOf({
      ...outside,
      airOfHour: () => ({ windFromDeg: 270, windKph: 1 }),
    });
    const min = calendar.minOfLocal(noon);
    expect(agronomy.judge(order, helicopter, min, { night: true }).map(({ sentence }) => sentence)).toEqual([
      expect.stringMatching(
        /^wind of 1 km\/h has no steady direction and may blow towards Hives at the hedge, 20 m .*150 m downwind.*waits$/,
      ),
    ]);
    expect(agronomy.judge(order, helicopter, min, { night: true, rest: true })).toEqual([]);
  });

  test("is told beside wind that stops the whole field, by the distance of each", () => {
    const stopping: BufferInput = { ...sparing(100), downwindRule: "stopsField" };
    const { strict, rest } = blowing(
      { ...outside, labels: [{ buffers: [sparing(150)] }, { buffers: [stopping] }] },
      90,
    );
    expect(strict.map((sentence) => sentence.split(":")[0])).toEqual(["drift", "driftNear"]);
    expect(rest.map((sentence) => sentence.split(":")[0])).toEqual(["drift"]);
  });

  test("says so in the hours, and the rest is open in every hour in which all is", () => {
    const turning: Situation = { ...outside, airOfHour: (hour) => ({ windFromDeg: (hour * 37) % 360 }) };
    const { agronomy, order, helicopter } = answersOf(turning);
    const strict = agronomy.windows(order, helicopter, { night: true });
    const rest = agronomy.windows(order, helicopter, { night: true, rest: true });
    expect(strict.lostMin.driftNear).toBeGreaterThan(0);
    expect(rest.lostMin).toEqual({});
    expect(rest.windows).toEqual([{ startMin: 0, endMin: 3 * 1440 }]);
    const openMin = strict.windows.reduce((sum, { startMin, endMin }) => sum + endMin - startMin, 0);
    expect(openMin).toBe(3 * 1440 - strict.lostMin.driftNear!);
    const told = agronomy.hours(order, helicopter, { night: true }).flatMap(({ judgements }) => judgements);
    expect(new Set(told.map(({ limit }) => limit))).toEqual(new Set(["driftNear"]));
  });
});

describe("where fixed buffers keep free what is near", () => {
  /** Hives on the edge; one label keeps so many metres free, another spares the ground within so many. */
  const within = (fixedM: number, sparingM: number): Situation => ({
    sensitive: [onWestEdge],
    labels: [{ buffers: [{ kind: "apiary", distanceM: fixedM }] }, { buffers: [sparing(sparingM)] }],
  });
  const lostMin = (situation: Situation, windKph: number) =>
    answersOf({ ...situation, days: 1, airOfHour: () => ({ windFromDeg: 90, windKph }) }).lostMin;

  test.each([
    ["more than is near", 160, 150],
    ["just that", 150, 150],
    // Half a ring of pi x (150.0001^2 - 150^2) / 2 = 0.047 m2.
    ["all but what is under 0.1 m2", 150, 150.0001],
  ])("%s: nothing is parted and no wind waited for", (_, fixedM, sparingM) => {
    const situation = within(fixedM, sparingM);
    expect(namesOf(situation)).toEqual(["whole"]);
    expect(lostMin(situation, 8)).toEqual({});
    expect(lostMin(situation, 1)).toEqual({});
  });

  test("what is left is near: all of the field, or a part of its own from 0.05 ha on", () => {
    // Half rings: pi x (150.0003^2 - 150^2) / 2 = 0.141 m2, (151^2 - 150^2) = 473 m2, (152^2 - 150^2) = 949 m2.
    for (const [sparingM, names] of [
      [150.0003, ["whole"]],
      [151, ["whole"]],
      [152, ["near", "rest"]],
    ] as const) {
      const situation = within(150, sparingM);
      expect(namesOf(situation)).toEqual(names);
      expect(lostMin(situation, 8)).toEqual({ driftNear: 1440 });
      expect(lostMin(situation, 1)).toEqual({ driftNear: 1440 });
    }
  });

  test("an order that may not be split asks its field, not what is treated of it", () => {
    const situation: Situation = { ...within(160, 150), order: { maySplit: false } };
    expect(lostMin(situation, 8)).toEqual({ drift: 1440 });
  });
});
