import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { areaM2, isCounterClockwise } from "../../../shared/geo/area.ts";
import {
  type AreaLike,
  geometryCentroidLonLat,
  planeOf,
  toAreaXY,
  toLineString,
  toMultiPolygon,
  toShapeXY,
} from "../../../shared/geo/convert.ts";
import { createPlane } from "../../../shared/geo/plane.ts";
import { multiPolygonSchema } from "../../../shared/model/field.ts";
import { rectangle, starField, withHole } from "./shapes.ts";

const clockwiseField: AreaLike = {
  type: "Polygon",
  coordinates: [
    [
      [8, 47],
      [8, 47.004],
      [8.006, 47.004],
      [8.006, 47],
      [8, 47],
    ],
  ],
};

describe("GeoJSON", () => {
  it("comes in without the repeated position, counter-clockwise, heights ignored", () => {
    const area = toAreaXY(planeOf(clockwiseField), {
      type: "Polygon",
      coordinates: clockwiseField.coordinates.map((ring) => (ring as [number, number][]).map((p) => [...p, 431])),
    } as AreaLike);
    expect(area[0]![0]).toHaveLength(4);
    expect(isCounterClockwise(area[0]![0]!)).toBe(true);
  });

  it("goes out as a line of positions in the order given, to 7 decimals", () => {
    const plane = createPlane(8, 47);
    const line = toLineString(plane, [[0, 0], plane.toXY([8.00123456789, 47.00098765432])]);
    expect(line).toEqual({
      type: "LineString",
      coordinates: [
        [8, 47],
        [8.0012346, 47.0009877],
      ],
    });
  });

  it("has its centre where the diagonals of a small cell meet", () => {
    const [lonDeg, latDeg] = geometryCentroidLonLat(clockwiseField);
    expect(lonDeg).toBeCloseTo(8.003, 7);
    expect(latDeg).toBeCloseTo(47.002, 7);
  });

  it("tells points, lines and areas apart", () => {
    const plane = createPlane(8, 47);
    expect(toShapeXY(plane, { type: "Point", coordinates: [8, 47] })).toEqual({ kind: "point", point: [0, 0] });
    expect(toShapeXY(plane, clockwiseField).kind).toBe("area");
    const line = toShapeXY(plane, {
      type: "LineString",
      coordinates: [
        [8, 47],
        [8.001, 47],
      ],
    });
    expect(line.kind === "line" && line.points).toHaveLength(2);
  });

  it("goes out closed, outer rings counter-clockwise and holes clockwise (RFC 7946, 3.1.6), and fits the model", () => {
    const plane = createPlane(8, 47);
    const area = withHole(rectangle(0, 0, 400, 200), rectangle(100, 50, 50, 50));
    const reversed = [area[0]!.map((ring) => ring.toReversed())];
    const geometry = toMultiPolygon(plane, reversed);
    expect(() => multiPolygonSchema.parse(geometry)).not.toThrow();
    const [outer, hole] = geometry.coordinates[0]!;
    expect(outer![0]).toEqual(outer!.at(-1));
    expect(isCounterClockwise(outer!.slice(0, -1))).toBe(true);
    expect(isCounterClockwise(hole!.slice(0, -1))).toBe(false);
    for (const position of [...outer!, ...hole!].flat()) expect(Math.round(position * 1e7) / 1e7).toBe(position);
  });

  it("comes back the same within the 11 mm of seven decimals", () => {
    fc.assert(
      fc.property(starField, (area) => {
        const plane = createPlane(138.6, -34.9);
        const back = toAreaXY(plane, toMultiPolygon(plane, area));
        area[0]![0]!.forEach(([xM, yM], i) => {
          expect(Math.abs(back[0]![0]![i]![0] - xM)).toBeLessThan(0.006);
          expect(Math.abs(back[0]![0]![i]![1] - yM)).toBeLessThan(0.006);
        });
        expect(Math.abs(areaM2(back) / areaM2(area) - 1)).toBeLessThan(5e-4);
      }),
    );
  });
});
