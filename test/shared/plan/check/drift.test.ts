import { describe, expect, test } from "vitest";
import { planeOf } from "../../../../shared/geo/convert.ts";
import type { Operation } from "../../../../shared/model/operation.ts";
import { checkPlan } from "../../../../shared/plan/check/checkPlan.ts";
import { type Plan, planSchema } from "../../../../shared/plan/plan.ts";
import { bareDetail } from "../../../support/bareWork.ts";
import { emptyPlan } from "../../../support/emptyPlan.ts";
import { hourlyWeather, type OperationInput, smallOperation, smallStation } from "../../../support/operation.ts";
import { centred, positionAt, type RectangleM, rectangleRing } from "../../../support/richGround.ts";

const centre = [11.01, 51.01] as const;

type SensitiveInput = NonNullable<OperationInput["sensitive"]>["features"][number];
type BufferInput = NonNullable<OperationInput["products"][number]["buffers"]>[number];

interface Case {
  readonly field: Ground;
  readonly hole?: RectangleM;
  readonly place: SensitiveInput["geometry"];
  readonly radiusM?: number;
  readonly buffer: Omit<BufferInput, "kind" | "downwindOnly">;
  readonly windFromDeg: number;
  readonly windKph?: number;
  readonly windVariableBelowKph?: number;
  readonly maySplit?: boolean;
  /** The whole field where nothing is said. */
  readonly blocks?: readonly Ground[];
}

/** A rectangle, or corners in metres east and north of the centre. */
type Ground = RectangleM | readonly (readonly [eastM: number, northM: number])[];

function outerRing(ground: Ground): [number, number][] {
  if ("westM" in ground) return rectangleRing(centre, ground);
  return [...ground, ground[0]!].map(([eastM, northM]) => positionAt(centre, eastM, northM));
}

function ringsOf(field: Ground, hole: RectangleM | undefined): [number, number][][] {
  const holes = hole === undefined ? [] : [rectangleRing(centre, hole).toReversed()];
  return [outerRing(field), ...holes];
}

/** One order on one field beside one place, in a wind that never turns. */
function operationOf(one: Case): Operation {
  const { field, hole, place, radiusM, buffer, windFromDeg, windKph = 8, windVariableBelowKph = 3, maySplit } = one;
  const small = smallOperation({});
  const [template] = small.fields.features;
  return smallOperation({
    settings: { limits: { ...small.settings.limits, windVariableBelowKph } },
    fields: {
      type: "FeatureCollection",
      features: [{ ...template!, geometry: { type: "Polygon", coordinates: ringsOf(field, hole) } }],
    },
    sensitive: {
      type: "FeatureCollection",
      features: [
        {
          type: "Feature",
          geometry: place,
          properties: { id: "S1", kind: "dwelling", name: "House", radiusM },
        },
      ],
    },
    products: [{ ...small.products[0]!, buffers: [{ kind: "dwelling", downwindOnly: true, ...buffer }] }],
    orders: [{ ...small.orders[0]!, maySplit }],
    weather: hourlyWeather(small.settings, smallStation, () => ({ windFromDeg, windKph })),
  });
}

/** Every block worked for an hour of its own; whatever else is wrong with such a plan is not asked. */
function planOf(operation: Operation, blocks: readonly Ground[], hole: RectangleM | undefined): Plan {
  return planSchema.parse({
    ...emptyPlan(operation, 1),
    blocks: blocks.map((block, index) => ({
      id: `O-1#${index + 1}`,
      orderId: "O-1",
      part: index + 1,
      parts: blocks.length,
      areaHa: 1,
      geometry: { type: "MultiPolygon", coordinates: [ringsOf(block, hole)] },
    })),
    crewDays: [
      {
        crewId: "K1",
        date: "2027-06-07",
        outfit: { aircraftIds: ["A1"], batterySets: [], chargerIds: [], tenderId: "T1" },
        activities: blocks.map((_, index) => ({
          kind: "work",
          startMin: (8 + index) * 60,
          endMin: (9 + index) * 60,
          blockId: `O-1#${index + 1}`,
          padId: "P1",
          detail: bareDetail,
        })),
      },
    ],
  });
}

/** Rules of drift that are broken, with the block. */
function broken(one: Case): string[] {
  const operation = operationOf(one);
  const { breaches } = checkPlan(operation, planOf(operation, one.blocks ?? [one.field], one.hole));
  const found = breaches.filter(({ rule }) => rule === "drift" || rule === "driftNear");
  return [...new Set(found.map(({ rule, blockId }) => `${rule} ${blockId}`))].sort();
}

const point = (eastM: number, northM: number) => ({
  type: "Point" as const,
  coordinates: positionAt(centre, eastM, northM),
});
const whole = ["drift O-1#1"];
const everyWind = Array.from({ length: 24 }, (_, step) => ({ windFromDeg: step * 15 }));

describe("a strip of 1700 m by 100 m, a house 50 m north of its eastern end", () => {
  const strip = centred(1700, 100);
  const house = { field: strip, place: point(850, 100), buffer: { distanceM: 150 } };

  // From the strip's middle the house lies 83 degrees (atan(850 / 100)) off north, out of the way of a wind from the south.
  // Of the northern edge's points, those up to sqrt(150² - 50²) = 141.4 m west of the house are near: up to 70.5 degrees.
  test.each([
    { windFromDeg: 180, expected: whole },
    { windFromDeg: 0, expected: [] },
    { windFromDeg: 135, expected: whole },
    { windFromDeg: 134, expected: [] },
    { windFromDeg: 180 + 69 + 45, expected: whole },
    { windFromDeg: 180 + 70.6 + 45, expected: [] },
    { windFromDeg: 90, expected: [] },
  ])("wind from $windFromDeg: $expected", ({ windFromDeg, expected }) => {
    expect(broken({ ...house, windFromDeg })).toEqual(expected);
  });

  test("a label that spares the rest stops only the block at that end", () => {
    const spared = {
      ...house,
      buffer: { distanceM: 150, downwindRule: "sparesPart" as const },
      blocks: [
        { ...strip, eastM: 700 },
        { ...strip, westM: 700 },
      ],
    };
    expect(broken({ ...spared, windFromDeg: 180 })).toEqual(["driftNear O-1#2"]);
    expect(broken({ ...spared, windFromDeg: 0 })).toEqual([]);
    expect(broken({ ...spared, windFromDeg: 180, maySplit: false })).toEqual(["drift O-1#1", "drift O-1#2"]);
    // A calm blows every way, but no farther.
    expect(broken({ ...spared, windFromDeg: 0, windKph: 2 })).toEqual(["driftNear O-1#2"]);
  });

  test.each([
    { windKph: 3, windVariableBelowKph: 3, expected: [] },
    { windKph: 2.99, windVariableBelowKph: 3, expected: whole },
    { windKph: 2.99, windVariableBelowKph: 2.5, expected: [] },
    { windKph: 0, windVariableBelowKph: 0, expected: [] },
  ])("from the house at $windKph km/h, variable below $windVariableBelowKph: $expected", ({ expected, ...wind }) => {
    expect(broken({ ...house, windFromDeg: 0, ...wind })).toEqual(expected);
  });

  test("a calm reaches as far as the buffer", () => {
    const calm = { ...house, windFromDeg: 0, windKph: 1 };
    expect(broken({ ...calm, buffer: { distanceM: 49.9 } })).toEqual([]);
    expect(broken({ ...calm, buffer: { distanceM: 50.1 } })).toEqual(whole);
  });
});

describe("a field that comes near to a house with its sharp corner only", () => {
  // Half of the corner's angle has a tangent of 1 / 4: so much nearer than the buffer, d, lie d² / 4 of ground, about.
  // 0.1 m² lie within sqrt(0.4) = 0.632 m.
  const field = [
    [0, 0],
    [400, -100],
    [400, 100],
  ] as const;
  const sharp = { field, place: point(-100, 0), windFromDeg: 90 };
  const at = (nearerM: number, maySplit: boolean) =>
    broken({ ...sharp, maySplit, buffer: { distanceM: 100 + nearerM, downwindRule: "sparesPart" } });

  test.each([
    { nearerM: 0.45, expected: [] },
    { nearerM: 0.62, expected: [] },
    { nearerM: 0.65, expected: ["driftNear O-1#1"] },
    { nearerM: 5, expected: ["driftNear O-1#1"] },
  ])("by $nearerM m: $expected", ({ nearerM, expected }) => {
    expect(at(nearerM, true)).toEqual(expected);
    expect(at(nearerM, false)).toEqual(whole);
  });
});

describe("limits met exactly", () => {
  /** A house due north of the eastern corner, so near that no other point of the outline is within the buffer. */
  const field = centred(400, 200);
  const corner = positionAt(centre, 200, 100);
  const housePosition: [number, number] = [corner[0], positionAt(centre, 0, 103)[1]];
  const place = { type: "Point" as const, coordinates: housePosition };

  test.each([
    { windFromDeg: 225, expected: whole },
    { windFromDeg: 225.001, expected: [] },
    { windFromDeg: 135, expected: whole },
    { windFromDeg: 134.999, expected: [] },
  ])("45 degrees either side, wind from $windFromDeg: $expected", ({ windFromDeg, expected }) => {
    expect(broken({ field, place, buffer: { distanceM: 5 }, windFromDeg })).toEqual(expected);
  });

  test("a point as far away as the buffer's distance is not nearer", () => {
    const plane = planeOf({ type: "Polygon", coordinates: ringsOf(field, undefined) });
    const awayM = plane.toXY(housePosition)[1] - plane.toXY(corner)[1];
    expect(broken({ field, place, buffer: { distanceM: awayM }, windFromDeg: 180 })).toEqual([]);
    expect(broken({ field, place, buffer: { distanceM: awayM + 1e-6 }, windFromDeg: 180 })).toEqual(whole);
  });

  test("a point's own radius brings it nearer", () => {
    // 23 m less 20 m are 3 m from the corner; from the points beside it, 5 m on, hypot(23, 5) - 20 = 3.5 m.
    const wide = { field, place: point(200, 123), radiusM: 20, windFromDeg: 180 };
    expect(broken({ ...wide, buffer: { distanceM: 3.1 } })).toEqual(whole);
    expect(broken({ ...wide, buffer: { distanceM: 2.9 } })).toEqual([]);
  });
});

describe("a house in a hole of 60 m by 60 m", () => {
  const inHole = { field: centred(400, 400), hole: centred(60, 60), place: point(0, 0) };

  test.each(everyWind)("within the buffer, wind from $windFromDeg", ({ windFromDeg }) => {
    expect(broken({ ...inHole, buffer: { distanceM: 40 }, windFromDeg })).toEqual(whole);
  });

  test.each(everyWind)("farther away than the buffer, wind from $windFromDeg", ({ windFromDeg }) => {
    expect(broken({ ...inHole, buffer: { distanceM: 29 }, windFromDeg })).toEqual([]);
  });
});

describe("every wind blows towards a place that shares ground with the field", () => {
  const yard: RectangleM = { westM: 150, eastM: 260, southM: -50, northM: 50 };
  test.each([
    { what: "a point far inside", place: point(0, 0) },
    { what: "an area over an edge", place: { type: "Polygon" as const, coordinates: [rectangleRing(centre, yard)] } },
    {
      what: "a line across",
      place: { type: "LineString" as const, coordinates: [-300, 300].map((xM) => positionAt(centre, xM, 0)) },
    },
  ])("$what", ({ place }) => {
    for (const { windFromDeg } of everyWind) {
      expect(broken({ field: centred(400, 400), place, buffer: { distanceM: 20 }, windFromDeg })).toEqual(whole);
    }
  });
});
