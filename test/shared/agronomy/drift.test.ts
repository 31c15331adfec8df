import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import { downwindOf, isDownwind } from "../../../shared/agronomy/downwind.ts";
import { createGround } from "../../../shared/agronomy/places.ts";
import { bearingDeg, distanceToShapeM, nearestOnShape } from "../../../shared/geo/distance.ts";
import type { AreaXY, PointXY } from "../../../shared/geo/plane.ts";
import type { ShapeXY } from "../../../shared/geo/shape.ts";
import { calendarOf, type OperationInput, rectangleField } from "../../support/operation.ts";
import { evenly, rectangle, starField, withHole } from "../geo/shapes.ts";
import { type Situation, situationOf } from "./oneOrder.ts";

type FeatureInput = NonNullable<OperationInput["sensitive"]>["features"][number];

const pointAt = (point: PointXY): ShapeXY => ({ kind: "point", point });

/** Winds, by whole degrees that they come from, that blow towards the place. */
function windsTowards(area: AreaXY, shape: ShapeXY, withinM: number, angleDeg: number, radiusM = 0): number[] {
  const awayM = distanceToShapeM(area, shape) - radiusM;
  const downwind = downwindOf(area, { shape, radiusM }, awayM, withinM);
  return Array.from({ length: 360 }, (_, deg) => deg).filter((deg) =>
    isDownwind(downwind, (deg + 180) % 360, angleDeg),
  );
}

const range = (from: number, to: number) => Array.from({ length: to - from + 1 }, (_, i) => from + i);

describe("a strip 1.7 km long from west to east, 100 m wide, and a house 50 m north of its east end", () => {
  const strip = rectangle(0, 0, 1700, 100);
  const house = pointAt([1700, 150]);

  test("wind is judged from every point of the outline within 150 m", () => {
    // On the north edge points every 10 m up to 140 m west of the house's: hypot(140, 50) = 148.7 m, hypot(150, 50) = 158.1 m.
    // From there the house lies atan2(140, 50) = 70.35 degrees from north, from the east end due north. On the east edge, all due
    // north. On the south edge, hypot(0, 150) is not nearer than 150 m. So the wind may not blow to 315 .. 115.35 degrees, nor
    // come from 135 .. 295.35.
    expect(windsTowards(strip, house, 150, 45)).toEqual(range(135, 295));
  });

  test("from the middle of the strip the house would seem to lie in the east", () => {
    expect(bearingDeg([850, 50], [1700, 150])).toBeCloseTo(83.3, 1);
    const winds = windsTowards(strip, house, 150, 45);
    expect(winds).toContain(180);
    expect(winds).not.toContain(0);
    expect(winds).not.toContain(90);
  });

  test("a house with a radius is nearer by it", () => {
    // 30 m of radius: points within 180 m of the centre, up to 170 m: hypot(170, 50) = 177.2 m, atan2(170, 50) = 73.61 degrees.
    // The south edge comes in too, hypot(90, 150) = 174.9 m, by less.
    expect(windsTowards(strip, house, 150, 45, 30)).toEqual(range(135, 298));
  });

  test("an edge that no 5 m fit into is cut into equal pieces, each shorter", () => {
    // 12 m to the west of the house's meridian: 3 pieces of 4 m. The farthest is hypot(12, 50) = 51.4 m away, the next ones
    // down the sides hypot(12, 55) = 56.3 m. The directions are 0 and atan2 of 4, 8 and 12 over 50.
    const short = rectangle(0, 0, 12, 1000);
    const downwind = downwindOf(short, { shape: pointAt([12, 1050]), radiusM: 0 }, 50, 52);
    const [, ...northEdge] = [...new Set((downwind as number[]).map((deg) => Number(deg.toFixed(2))))];
    expect(northEdge).toEqual([4.57, 9.09, 13.5]);
  });
});

describe("a place that the field touches or holds", () => {
  const field = withHole(rectangle(0, 0, 500, 500), rectangle(200, 200, 100, 100));
  const all = range(0, 359);

  test("is downwind of every wind", () => {
    expect(windsTowards(field, pointAt([100, 100]), 20, 0)).toEqual(all);
    expect(windsTowards(field, pointAt([0, 250]), 20, 0)).toEqual(all);
    expect(windsTowards(field, pointAt([510, 250]), 20, 0, 10)).toEqual(all);
    expect(windsTowards(field, { kind: "area", area: rectangle(480, 480, 100, 100) }, 20, 0)).toEqual(all);
    expect(windsTowards(field, { kind: "area", area: rectangle(500, 100, 50, 50) }, 20, 0)).toEqual(all);
    const within = [...rectangle(2000, 0, 50, 50), ...rectangle(20, 20, 50, 50)];
    expect(windsTowards(field, { kind: "area", area: within }, 20, 0)).toEqual(all);
  });

  test("is not one in a hole, towards which the wind blows from all sides", () => {
    // From the corners of the hole at 45 degrees, and from the sides between: all directions, each from the other side.
    const downwind = downwindOf(field, { shape: pointAt([250, 250]), radiusM: 0 }, 50, 60);
    // Within 60 m of the middle lie 33.2 m to each side of the middle of a side: 13 points, 5 m apart.
    expect(downwind).toHaveLength(4 * 13);
    expect(windsTowards(field, pointAt([250, 250]), 60, 25)).toEqual(all);
    // Off the middle, 10 m from the north side and 90 from the others, within 20 m: from the north side only.
    // hypot(15, 10) = 18.0 m, hypot(20, 10) = 22.4 m: the place lies 180 -+ atan2(15, 10) = 56.31 degrees from there, 45 more to each side.
    expect(windsTowards(field, pointAt([250, 290]), 20, 45)).toEqual([...range(0, 101), ...range(259, 359)]);
  });
});

test("directions are searched around north", () => {
  expect(isDownwind([10, 200, 350], 359, 10)).toBe(true);
  expect(isDownwind([10, 200, 340], 0, 10)).toBe(true);
  expect(isDownwind([200, 350], 0, 10)).toBe(true);
  expect(isDownwind([10, 200], 355, 15)).toBe(true);
  expect(isDownwind([10, 200], 354, 15)).toBe(false);
  expect(isDownwind([10, 200], 0, 180)).toBe(true);
});

describe("over fields and places of all kinds", () => {
  const areaPlace = fc
    .tuple(evenly(-600, 600), evenly(-600, 600))
    .map(([xM, yM]): ShapeXY => ({ kind: "area", area: rectangle(xM, yM, 60, 30) }));
  const pointPlace = fc.tuple(evenly(-900, 900), evenly(-900, 900)).map(([xM, yM]) => pointAt([xM, yM]));
  const cases = fc.record({
    area: starField,
    shape: fc.oneof(areaPlace, pointPlace),
    withinM: evenly(20, 400),
    angleDeg: evenly(0, 180),
    windToDeg: evenly(0, 359),
  });
  const towards = (area: AreaXY, shape: ShapeXY, withinM: number, angleDeg: number, windToDeg: number) => {
    const awayM = distanceToShapeM(area, shape);
    if (awayM >= withinM) return false;
    return isDownwind(downwindOf(area, { shape, radiusM: 0 }, awayM, withinM), windToDeg, angleDeg);
  };

  test("a wider buffer or angle never lets a wind through", () => {
    fc.assert(
      fc.property(cases, evenly(0, 100), evenly(0, 30), (c, widerM, widerDeg) => {
        fc.pre(towards(c.area, c.shape, c.withinM, c.angleDeg, c.windToDeg));
        expect(towards(c.area, c.shape, c.withinM + widerM, c.angleDeg + widerDeg, c.windToDeg)).toBe(true);
      }),
    );
  });

  test("wind from any corner straight to the place is stopped", () => {
    fc.assert(
      fc.property(cases, ({ area, shape, withinM }) => {
        for (const corner of area[0]![0]!) {
          const nearest = nearestOnShape(corner, shape);
          if (nearest.distanceM >= withinM) continue;
          expect(towards(area, shape, withinM, 0, bearingDeg(corner, nearest.point))).toBe(true);
        }
      }),
    );
  });

  test("ground inside the field that the wind blows straight from is covered by a few degrees of angle", () => {
    fc.assert(
      fc.property(cases, evenly(0, 1), (c, share) => {
        // A field seen whole from its middle, so that this lies inside.
        const [cornerXM, cornerYM] = c.area[0]![0]![0]!;
        const inside: PointXY = [cornerXM * share, cornerYM * share];
        const nearest = nearestOnShape(inside, c.shape);
        fc.pre(nearest.distanceM + 5 < c.withinM && distanceToShapeM(c.area, c.shape) > 60);
        // The outline is judged every 10 m, the place is 60 m away at least: half of 10 m is asin(5 / 60) = 4.78 degrees.
        expect(towards(c.area, c.shape, c.withinM, 4.8, bearingDeg(inside, nearest.point))).toBe(true);
      }),
    );
  });
});

test("agronomy stops a minute by it, and says the place, its distance and the wind", () => {
  const stripField = rectangleField("F1", { eastM: 3000, northM: 1000, widthM: 1700, heightM: 100 }, {});
  const situation = (windFromDeg: number): Situation => ({
    labels: [{ buffers: [{ kind: "dwelling", distanceM: 150, downwindOnly: true }] }],
    airOfHour: () => ({ windFromDeg }),
  });
  const sentences = (windFromDeg: number) => {
    const base = situationOf(situation(windFromDeg));
    const field = {
      ...base.fields.features[0]!,
      geometry: stripField.geometry as (typeof base.fields.features)[number]["geometry"],
    };
    const { plane, area } = createGround(field);
    const corners = area.flat(2);
    const [eastM, northM] = [Math.max(...corners.map(([xM]) => xM)), Math.max(...corners.map(([, yM]) => yM))];
    const house: FeatureInput = {
      type: "Feature",
      geometry: { type: "Point", coordinates: plane.toPosition([eastM, northM + 50]) },
      properties: { id: "house", kind: "dwelling", name: "House at the end" },
    };
    const operation = {
      ...situationOf({ ...situation(windFromDeg), sensitive: [house] }),
      fields: { ...base.fields, features: [field] },
    };
    const calendar = calendarOf(operation);
    const helicopter = operation.fleet.aircraftTypes[1]!;
    return createAgronomy(operation, calendar)
      .judge(operation.orders[0]!, helicopter, calendar.minOfLocal("2027-06-08T12:00"), { night: true })
      .map(({ limit, sentence }) => `${limit}: ${sentence}`);
  };
  expect(sentences(180)).toEqual([
    "drift: wind from the south blows towards House at the end, 50 m from the field, label wants 150 m downwind",
  ]);
  expect(sentences(0)).toEqual([]);
});
