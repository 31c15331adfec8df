import { describe, expect, test } from "vitest";
import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import { areaM2, contains } from "../../../shared/geo/area.ts";
import { intersection } from "../../../shared/geo/clip.ts";
import { createPlane, type PointXY } from "../../../shared/geo/plane.ts";
import { calendarOf } from "../../support/operation.ts";
import { seededRandom } from "../../support/seededRandom.ts";
import type { Situation } from "./oneOrder.ts";
import { bare, heightM, hives, partsOf, sparing, treatedOf, widthM } from "./partedField.ts";
import { randomOperation } from "./randomOperation.ts";

test("in random operations windows of the rest hold those of the near part, and lose only what driftNear stops", () => {
  const random = seededRandom(22);
  let parted = 0;
  for (let i = 0; i < 45; i++) {
    const operation = randomOperation(random);
    const agronomy = createAgronomy(operation, calendarOf(operation));
    const order = operation.orders[0]!;
    const isParted = agronomy.parts(order).length > 1;
    for (const type of operation.fleet.aircraftTypes) {
      const strict = agronomy.windows(order, type, { night: false });
      const rest = agronomy.windows(order, type, { night: false, rest: true });
      for (const { startMin, endMin } of strict.windows) {
        expect(rest.windows.some((window) => window.startMin <= startMin && endMin <= window.endMin)).toBe(true);
      }
      const { driftNear, ...others } = strict.lostMin;
      expect(rest.lostMin).toEqual(isParted ? others : strict.lostMin);
      if (isParted && driftNear !== undefined) parted++;
    }
  }
  expect(parted).toBeGreaterThan(10);
});

describe("at random places", () => {
  const random = seededRandom(21);
  const reach = (spanM: number) => (random() - 0.5) * 1.5 * spanM;
  const rounds = Array.from({ length: 40 }, () => {
    const places = [0, 25].map((radiusM) => ({ at: [reach(widthM), reach(heightM)] as PointXY, radiusM }));
    const situation: Situation = {
      sensitive: places.map(({ at, radiusM }, index) => hives(at, radiusM, `H${index}`)),
      labels: [
        {
          buffers: [
            sparing(40 + Math.round(random() * 200)),
            { kind: "apiary", distanceM: 1 + Math.round(random() * 30) },
          ],
        },
      ],
    };
    return { places, situation };
  });

  test("parts add up to the treated area and share no ground", () => {
    for (const { situation } of rounds) {
      const parts = partsOf(situation);
      const { areaHa } = treatedOf(situation);
      expect(parts.reduce((sum, part) => sum + part.areaHa, 0)).toBeCloseTo(areaHa, 4);
      for (const part of parts) expect(part.areaHa).toBeCloseTo(areaM2(part.area) / 10_000, 9);
      if (parts.length === 2) expect(areaM2(intersection(parts[0]!.area, parts[1]!.area))).toBeLessThan(0.1);
    }
  });

  // Straight-line distances in the field's plane are the judge here; the plane itself is judged beside a geodesic in test/shared/geo.
  test("ground is near when a place is nearer than the distance, and rest when none is", () => {
    const { plane } = bare;
    const toXY = createPlane(...plane.toPosition([0, 0])).toXY;
    let near = 0;
    let rest = 0;
    for (const { situation, places } of rounds) {
      const parts = partsOf(situation);
      if (parts.length < 2) continue;
      const [sparingM, fixedM] = situation.labels![0]!.buffers!.map(({ distanceM }) => distanceM) as [number, number];
      for (let i = 0; i < 60; i++) {
        const point: PointXY = [(random() - 0.5) * widthM, (random() - 0.5) * heightM];
        const awayM = Math.min(
          ...places.map(({ at, radiusM }) => {
            const [xM, yM] = toXY(plane.toPosition(at));
            return Math.hypot(point[0] - xM, point[1] - yM) - radiusM;
          }),
        );
        // Buffers are drawn up to 1 cm wide of the true arc.
        if (Math.abs(awayM - sparingM) < 0.02 || Math.abs(awayM - fixedM) < 0.02 || !contains(bare.area, point))
          continue;
        const found = parts.filter(({ area }) => contains(area, point)).map(({ part }) => part);
        expect(found).toEqual(awayM < fixedM ? [] : awayM < sparingM ? ["near"] : ["rest"]);
        if (found[0] === "near") near++;
        if (found[0] === "rest") rest++;
      }
    }
    expect(Math.min(near, rest)).toBeGreaterThan(300);
  });
});
