import fc from "fast-check";
import geodesic from "geographiclib-geodesic";
import { describe, expect, it } from "vitest";
import {
  bearingDeg,
  distanceM,
  distanceToShapeM,
  greatCircleKm,
  nearestOnShape,
  onSphereKm,
} from "../../../shared/geo/distance.ts";
import type { LonLat, PointXY } from "../../../shared/geo/plane.ts";
import type { ShapeXY } from "../../../shared/geo/shape.ts";
import { evenly, move, rectangle, starField, withHole } from "./shapes.ts";

describe("great circle", () => {
  it("is a quarter of the sphere from equator to pole: pi/2 x 6371.0088 km", () => {
    expect(greatCircleKm([10, 0], [77, 90])).toBeCloseTo((Math.PI / 2) * 6371.0088, 6);
    expect(greatCircleKm([-180, 5], [180, 5])).toBeCloseTo(0, 9);
  });

  it("stays within 0.57 % of the geodesic on the ellipsoid (GeographicLib), as a sphere can", () => {
    const latitude = evenly(-80, 80);
    const longitude = evenly(-180, 180);
    fc.assert(
      fc.property(longitude, latitude, longitude, latitude, (lon1, lat1, lon2, lat2) => {
        const { s12 } = geodesic.Geodesic.WGS84.Inverse(lat1, lon1, lat2, lon2);
        fc.pre(s12! > 1000);
        expect(Math.abs((greatCircleKm([lon1, lat1], [lon2, lat2]) * 1000) / s12! - 1)).toBeLessThan(0.0057);
      }),
    );
  });
});

describe("straight through the earth", () => {
  const throughEarthKm = (from: LonLat, to: LonLat) => {
    const [a, b] = [onSphereKm(from), onSphereKm(to)];
    return Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
  };

  it("is the diameter from pole to pole, and 2 R sin(a / 2) in general: never longer than the great circle", () => {
    expect(throughEarthKm([0, 90], [0, -90])).toBeCloseTo(2 * 6371.0088, 6);
    const latitude = evenly(-90, 90);
    const longitude = evenly(-180, 180);
    const nearby = evenly(-0.01, 0.01);
    fc.assert(
      fc.property(longitude, latitude, fc.oneof(longitude, nearby), nearby, (lonDeg, latDeg, eastDeg, northDeg) => {
        const [from, to] = [
          [lonDeg, latDeg],
          [lonDeg + eastDeg, Math.max(-90, Math.min(90, latDeg + northDeg))],
        ] as const;
        const aroundKm = greatCircleKm(from, to);
        const throughKm = throughEarthKm(from, to);
        expect(throughKm).toBeLessThanOrEqual(aroundKm + 1e-6);
        expect(throughKm).toBeCloseTo(2 * 6371.0088 * Math.sin(aroundKm / 6371.0088 / 2), 6);
      }),
    );
  });
});

describe("in the plane", () => {
  const school: ShapeXY = { kind: "area", area: rectangle(100, 0, 50, 50) };

  it("is the hypotenuse, to the last digit but one", () => {
    const away = evenly(-1e4, 1e4);
    fc.assert(
      fc.property(away, away, (xM, yM) => {
        expect(Math.abs(distanceM([0, 0], [xM, yM]) - Math.hypot(xM, yM))).toBeLessThanOrEqual(
          2 * Number.EPSILON * Math.hypot(xM, yM),
        );
      }),
    );
    expect(distanceM([7, 7], [7, 7])).toBe(0);
  });

  it("finds the nearest point of a place", () => {
    expect(nearestOnShape([0, 25], school)).toEqual({ point: [100, 25], distanceM: 100 });
    expect(nearestOnShape([97, 54], school)).toEqual({ point: [100, 50], distanceM: 5 });
    expect(nearestOnShape([120, 20], school)).toEqual({ point: [120, 20], distanceM: 0 });
    expect(nearestOnShape([3, 4], { kind: "point", point: [0, 0] }).distanceM).toBe(5);
    const stream: ShapeXY = {
      kind: "line",
      points: [
        [0, 10],
        [100, 10],
      ],
    };
    expect(nearestOnShape([30, 0], stream)).toEqual({ point: [30, 10], distanceM: 10 });
    expect(nearestOnShape([-3, 6], stream)).toEqual({ point: [0, 10], distanceM: 5 });
  });

  it("measures between a field and a place, obstacles being no part of the field", () => {
    const field = withHole(rectangle(0, 0, 90, 90), rectangle(30, 30, 30, 30));
    expect(distanceToShapeM(field, school)).toBe(10);
    expect(distanceToShapeM(field, { kind: "point", point: [45, 40] })).toBe(10);
    expect(distanceToShapeM(field, { kind: "point", point: [10, 10] })).toBe(0);
    expect(distanceToShapeM(field, { kind: "area", area: rectangle(-50, -50, 500, 500) })).toBe(0);
    const across: PointXY[] = [
      [-10, 20],
      [500, 20],
    ];
    expect(distanceToShapeM(field, { kind: "line", points: across })).toBe(0);
  });

  it("is nothing when any part of one lies inside the other", () => {
    const field = rectangle(0, 0, 500, 500);
    const farAndWithin = [...rectangle(900, 0, 50, 50), ...rectangle(200, 200, 50, 50)];
    expect(distanceToShapeM(field, { kind: "area", area: farAndWithin })).toBe(0);
    expect(distanceToShapeM(farAndWithin, { kind: "area", area: field })).toBe(0);
  });

  it("is never nearer between areas than corner distances allow, and the same both ways", () => {
    fc.assert(
      fc.property(starField, starField, evenly(850, 2000), (one, other, eastM) => {
        const moved = move(other, eastM, 0);
        const apartM = distanceToShapeM(one, { kind: "area", area: moved });
        expect(apartM).toBeCloseTo(distanceToShapeM(moved, { kind: "area", area: one }), 9);
        const corners = one[0]![0]!.flatMap((p) => moved[0]![0]!.map((q) => distanceM(p, q)));
        expect(apartM).toBeLessThanOrEqual(Math.min(...corners) + 1e-9);
        expect(apartM).toBeGreaterThanOrEqual(eastM - 800 - 1e-9);
      }),
    );
  });

  it("names directions clockwise from north", () => {
    const directions = [
      [0, 1],
      [1, 0],
      [0, -1],
      [-1, 0],
    ] as const;
    expect(directions.map((to) => bearingDeg([0, 0], to))).toEqual([0, 90, 180, 270]);
  });
});
