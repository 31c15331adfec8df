import { describe, expect, test } from "vitest";
import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import { areaM2, contains } from "../../../shared/geo/area.ts";
import { toShapeXY } from "../../../shared/geo/convert.ts";
import { distanceToShapeM, nearestOnShape } from "../../../shared/geo/distance.ts";
import type { PointXY } from "../../../shared/geo/plane.ts";
import { calendarOf, type OperationInput } from "../../support/operation.ts";
import { seededRandom } from "../../support/seededRandom.ts";
import { type Situation, situationOf } from "./oneOrder.ts";

type PlaceInput = NonNullable<OperationInput["sensitive"]>["features"][number];
type BufferInput = NonNullable<OperationInput["products"][number]["buffers"]>[number];

const bare = treated({});
const widthM = spanM(0);
const heightM = spanM(1);

function treated(situation: Situation) {
  const operation = situationOf(situation);
  const agronomy = createAgronomy(operation, calendarOf(operation));
  return agronomy.treatedArea(operation.orders[0]!);
}

function spanM(axis: 0 | 1): number {
  const values = bare.area.flat(2).map((point) => point[axis]);
  return Math.max(...values) - Math.min(...values);
}

/** A place whose points are given in metres from the field's centre. */
function place(
  id: string,
  kind: PlaceInput["properties"]["kind"],
  points: readonly PointXY[],
  radiusM: number,
): PlaceInput {
  const positions = points.map((point) => bare.plane.toPosition(point));
  const first = positions[0]!;
  return {
    type: "Feature",
    geometry:
      points.length === 1
        ? { type: "Point", coordinates: first }
        : points.length === 2
          ? { type: "LineString", coordinates: positions }
          : { type: "Polygon", coordinates: [[...positions, first]] },
    properties: { id, kind, name: id, radiusM },
  };
}

function withBuffers(sensitive: PlaceInput[], ...buffersOfProduct: BufferInput[][]) {
  return treated({ sensitive, labels: buffersOfProduct.map((buffers) => ({ buffers })) });
}

describe("treated area", () => {
  test("without sensitive places is the whole field", () => {
    expect(bare.areaHa).toBe(bare.fieldHa);
    expect(bare.fieldHa).toBeCloseTo((widthM * heightM) / 10_000, 3);
    expect(bare.cuts).toEqual([]);
  });

  test("around a point loses the circle of its radius and the buffer", () => {
    const { areaHa, fieldHa, cuts } = withBuffers(
      [place("house", "dwelling", [[50, 20]], 10)],
      [{ kind: "dwelling", distanceM: 40 }],
    );
    // A circle of 50 m has pi x 2500 m2 = 0.7854 ha.
    expect(fieldHa - areaHa).toBeCloseTo(0.7854, 3);
    expect(cuts).toEqual([
      { sensitiveId: "house", productId: "P1", distanceM: 40, cutHa: expect.closeTo(0.7854, 3) as number },
    ]);
  });

  test("along a ditch on the south edge loses a strip", () => {
    const ditch = place(
      "ditch",
      "water",
      [
        [-1000, -heightM / 2],
        [1000, -heightM / 2],
      ],
      0,
    );
    const { areaHa, fieldHa } = withBuffers([ditch], [{ kind: "water", distanceM: 30 }]);
    expect(fieldHa - areaHa).toBeCloseTo((widthM * 30) / 10_000, 2);
  });

  test("beside an organic field keeps the distance from its polygon", () => {
    const organic = place(
      "organic",
      "organic",
      [
        [widthM / 2 + 20, -500],
        [widthM / 2 + 300, -500],
        [widthM / 2 + 300, 500],
        [widthM / 2 + 20, 500],
      ],
      0,
    );
    const { areaHa, fieldHa } = withBuffers([organic], [{ kind: "organic", distanceM: 50 }]);
    // 20 m of the 50 lie outside the field.
    expect(fieldHa - areaHa).toBeCloseTo((30 * heightM) / 10_000, 2);
  });

  test("a place inside the field is cut out with its own ground", () => {
    const pond = place(
      "pond",
      "water",
      [
        [-20, -10],
        [20, -10],
        [20, 10],
        [-20, 10],
      ],
      0,
    );
    const { areaHa, fieldHa, area } = withBuffers([pond], [{ kind: "water", distanceM: 5 }]);
    // 40 x 20 widened by 5 with round corners: 800 + 5 x 120 + pi x 25 = 1478.5 m2.
    expect(fieldHa - areaHa).toBeCloseTo(0.14785, 3);
    expect(area[0]).toHaveLength(2);
  });

  test("the widest buffer of the mix rules, other kinds of place do not matter, downwind buffers take nothing", () => {
    const house = place("house", "dwelling", [[0, 0]], 0);
    const hives = place("hives", "apiary", [[100, 100]], 0);
    const { cuts } = withBuffers(
      [house, hives],
      [{ kind: "dwelling", distanceM: 20 }],
      [
        { kind: "dwelling", distanceM: 35 },
        { kind: "apiary", distanceM: 200, downwindOnly: true },
      ],
    );
    expect(cuts.map(({ sensitiveId, productId, distanceM }) => [sensitiveId, productId, distanceM])).toEqual([
      ["house", "P2", 35],
    ]);
  });

  test("two places that take the same ground take it once", () => {
    const twins = [place("a", "dwelling", [[0, 0]], 0), place("b", "dwelling", [[0, 0]], 0)];
    const { areaHa, fieldHa, cuts } = withBuffers(twins, [{ kind: "dwelling", distanceM: 50 }]);
    expect(fieldHa - areaHa).toBeCloseTo(0.7854, 3);
    expect(cuts).toHaveLength(2);
  });

  test("less than 0.05 ha left is nothing left", () => {
    const farDistanceM = Math.hypot(widthM / 2, heightM / 2);
    const house = place("house", "dwelling", [[-widthM / 2, -heightM / 2]], 0);
    const leftWith = (distanceM: number) => withBuffers([house], [{ kind: "dwelling", distanceM }]);
    // The far corner is 2 x farDistanceM away; 24 m short of it a corner of some 700 m2 is left, 18 m some 400 m2.
    const some = leftWith(2 * farDistanceM - 24);
    expect(some.areaHa).toBeGreaterThan(0.05);
    const none = leftWith(2 * farDistanceM - 18);
    expect(none.areaHa).toBe(0);
    expect(none.area).toEqual([]);
    expect(none.cuts).toHaveLength(1);
  });
});

describe("at random places", () => {
  const random = seededRandom(5);
  const anyPoint = (reach: number): PointXY => [(random() - 0.5) * reach * widthM, (random() - 0.5) * reach * heightM];
  const rounds = Array.from({ length: 60 }, () => ({
    distanceM: 10 + Math.round(random() * 120),
    sensitive: [0, 15, 0].map((radiusM, index) =>
      place(`X${index}`, "water", index === 2 ? [anyPoint(1.6), anyPoint(1.6)] : [anyPoint(1.6)], radiusM),
    ),
  }));
  const leftAt = ({ sensitive, distanceM }: (typeof rounds)[number]) =>
    withBuffers(sensitive, [{ kind: "water", distanceM }]);

  test("a point of the field is left when every place is as far away as the distance, and only then", () => {
    let lost = 0;
    let kept = 0;
    for (const round of rounds) {
      const { area } = leftAt(round);
      if (area.length === 0) continue;
      const shapes = round.sensitive.map(({ geometry }) => toShapeXY(bare.plane, geometry));
      for (let i = 0; i < 50; i++) {
        const point = anyPoint(1);
        const marginsM = shapes.map((shape, index) => {
          const awayM = nearestOnShape(point, shape).distanceM;
          return awayM - round.sensitive[index]!.properties.radiusM! - round.distanceM;
        });
        const marginM = Math.min(...marginsM);
        // Buffers are drawn up to 1 cm wide of the true arc.
        if (Math.abs(marginM) < 0.02) continue;
        expect(contains(area, point)).toBe(marginM > 0);
        if (marginM > 0) kept++;
        else lost++;
      }
    }
    expect(Math.min(kept, lost)).toBeGreaterThan(300);
  });

  test("all that is left keeps the distance, to the last corner", () => {
    for (const round of rounds) {
      const { area } = leftAt(round);
      if (area.length === 0) continue;
      for (const { geometry, properties } of round.sensitive) {
        const awayM = distanceToShapeM(area, toShapeXY(bare.plane, geometry)) - properties.radiusM!;
        expect(awayM).toBeGreaterThanOrEqual(round.distanceM - 1e-4);
      }
    }
  });

  test("a wider buffer never leaves more, and cuts add up to at least what is lost", () => {
    for (const round of rounds) {
      const { area, areaHa, fieldHa, cuts } = leftAt(round);
      expect(areaHa).toBeCloseTo(areaM2(area) / 10_000, 9);
      expect(leftAt({ ...round, distanceM: round.distanceM + 15 }).areaHa).toBeLessThanOrEqual(areaHa);
      if (area.length === 0) continue;
      const lostHa = fieldHa - areaHa;
      for (const { cutHa } of cuts) expect(cutHa).toBeLessThanOrEqual(lostHa + 1e-4);
      expect(cuts.reduce((sum, { cutHa }) => sum + cutHa, 0)).toBeGreaterThan(lostHa - 1e-4);
    }
  });
});
