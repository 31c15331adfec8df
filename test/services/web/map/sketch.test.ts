import { describe, expect, it } from "vitest";
import { createRandom } from "../../../../services/solver/random.ts";
import { crossingIn } from "../../../../services/web/app/map/draw/crossings.ts";
import * as sketching from "../../../../services/web/app/map/draw/sketch.ts";
import { sketchFaults } from "../../../../services/web/app/map/draw/sketchFaults.ts";
import { layGeometry } from "../../../../services/web/app/map/draw/sketchGeometry.ts";
import { back, beginSteps, forth, step } from "../../../../services/web/app/map/draw/steps.ts";
import { selfIntersects } from "../../../../shared/geo/area.ts";
import type { LonLat, PointXY } from "../../../../shared/geo/plane.ts";
import { type AreaGeometry, areaGeometrySchema } from "../../../../shared/model/field.ts";

// RFC 7946, appendix A.3: a polygon with a hole, and A.6: several polygons. Outer rings counter-clockwise, holes clockwise.
const withHole: AreaGeometry = {
  type: "Polygon",
  coordinates: [
    [
      [100, 0],
      [101, 0],
      [101, 1],
      [100, 1],
      [100, 0],
    ],
    [
      [100.8, 0.8],
      [100.8, 0.2],
      [100.2, 0.2],
      [100.2, 0.8],
      [100.8, 0.8],
    ],
  ],
};
const several: AreaGeometry = {
  type: "MultiPolygon",
  coordinates: [
    [
      [
        [102, 2],
        [103, 2],
        [103, 3],
        [102, 3],
        [102, 2],
      ],
    ],
    [
      [
        [100, 0],
        [101, 0],
        [101, 1],
        [100, 1],
        [100, 0],
      ],
      [
        [100.2, 0.2],
        [100.2, 0.8],
        [100.8, 0.8],
        [100.8, 0.2],
        [100.2, 0.2],
      ],
    ],
  ],
};

const outline = (...corners: LonLat[]): sketching.Sketch => ({ rings: [{ kind: "outline", corners }], pads: [] });
const faultsOf = (sketch: sketching.Sketch) => sketchFaults(sketch, layGeometry(sketch));

describe("a sketch", () => {
  it.each([withHole, several])("of a published example is the same again: $type", (geometry) => {
    expect(layGeometry(sketching.sketchOf(geometry, []))!.geometry).toEqual(geometry);
  });

  it("drawn the other way round, and the obstacle before its outline, has the same turns (RFC 7946, section 3.1.6)", () => {
    const { pads, rings } = sketching.sketchOf(withHole, []);
    const turned = rings.map((ring) => ({ ...ring, corners: [...ring.corners].reverse() })).reverse();
    const { coordinates } = layGeometry({ rings: turned, pads })!.geometry as { coordinates: number[][][] };
    const turnOf = (ring: readonly number[][]) =>
      Math.sign(ring.slice(1).reduce((sum, [x, y], at) => sum + ring[at]![0]! * y! - x! * ring[at]![1]!, 0));
    expect(coordinates.map(turnOf)).toEqual([1, -1]);
    for (const ring of coordinates) expect(ring.at(-1)).toEqual(ring[0]);
  });

  it("across the antimeridian is ground of its own size", () => {
    const { geometry } = layGeometry(
      outline([179.999, -17], [-179.999, -17], [-179.999, -16.998], [179.999, -16.998]),
    )!;
    expect(geometry.coordinates[0]).toEqual([
      [179.999, -17],
      [-179.999, -17],
      [-179.999, -16.998],
      [179.999, -16.998],
      [179.999, -17],
    ]);
    expect(faultsOf(sketching.sketchOf(geometry, []))).toEqual([]);
  });

  it("names the place of what is wrong", () => {
    const bowTie = outline([0, 50], [0.01, 50.01], [0.01, 50], [0, 50.01]);
    expect(faultsOf(bowTie)).toEqual([
      "Outline: the edge from corner 1 to 2 crosses or touches the edge from corner 3 to 4.",
    ]);
    expect(faultsOf(outline([0, 50], [0.01, 50]))).toEqual(["Outline: one more corner is needed."]);
    expect(faultsOf(outline())).toEqual([]);
    const square = outline([0, 50], [0.01, 50], [0.01, 50.01], [0, 50.01]);
    const hole = (fromDeg: number): sketching.SketchRing => ({
      kind: "obstacle",
      corners: [
        [fromDeg, 50.004],
        [fromDeg + 0.002, 50.004],
        [fromDeg + 0.001, 50.006],
      ],
    });
    expect(faultsOf({ ...square, rings: [...square.rings, hole(0.004)] })).toEqual([]);
    expect(faultsOf({ ...square, rings: [...square.rings, hole(0.004), hole(0.05)] })).toEqual([
      "Obstacle 2 must be a hole inside the outer ring; it lies outside.",
    ]);
    expect(faultsOf({ ...square, rings: [...square.rings, hole(0.004), hole(0.005)] })).toEqual([
      "Obstacle 2 must be a hole that overlaps no other hole.",
    ]);
    expect(faultsOf(outline([0, 50], [1, 50], [1, 51], [0, 51]))[0]).toMatch(
      /^The field must be a field of .* ha; this is /,
    );
  });

  it("finds a crossing wherever the judge of the model finds one", () => {
    const random = createRandom(11);
    let crossed = 0;
    for (let round = 0; round < 3000; round++) {
      const ring = Array.from(
        { length: 3 + Math.floor(random() * 5) },
        (): PointXY => [Math.floor(random() * 6), Math.floor(random() * 6)],
      );
      const distinct = new Set(ring.map(String)).size;
      if (distinct < 3) continue;
      const found = crossingIn(ring);
      if (found) crossed++;
      expect({ ring, crosses: found !== null }).toEqual({ ring, crosses: selfIntersects(ring) });
    }
    expect(crossed).toBeGreaterThan(500);
    expect(crossed).toBeLessThan(2900);
  });

  it("is changed corner by corner, and stays as it was for who holds it", () => {
    const before = Object.freeze(sketching.sketchOf(withHole, []));
    const added = sketching.addCorner(before, 0, 1, [100.5, -0.123456789]);
    expect(added.rings[0]!.corners.slice(0, 3)).toEqual([
      [100, 0],
      [100.5, -0.1234568],
      [101, 0],
    ]);
    expect(sketching.removeCorner(added, 0, 1)).toEqual(before);
    expect(sketching.moveCorner(before, 1, 2, [100.3, 0.3]).rings[1]!.corners[2]).toEqual([100.3, 0.3]);
    expect(before).toEqual(sketching.sketchOf(withHole, []));
    expect(sketching.removeRing(sketching.removeRing(before, 1), 0).rings).toEqual([{ kind: "outline", corners: [] }]);
    expect(areaGeometrySchema.safeParse(layGeometry(added)!.geometry).success).toBe(true);
  });

  it("gives a pad an id that no other has", () => {
    let sketch = sketching.addPad(sketching.addPad(outline(), [1, 2]), [3, 4]);
    sketch = sketching.addPad(sketching.removePad(sketch, 0), [5, 6]);
    expect(sketch.pads.map(({ id }) => id)).toEqual(["P2", "P1"]);
    expect(sketching.movePad(sketch, 0, [7, 8]).pads[0]).toEqual({ id: "P2", lonDeg: 7, latDeg: 8 });
  });

  it("goes back and forth by steps, typing in one box being one", () => {
    let steps = beginSteps("");
    for (const [text, name] of [
      ["a", null],
      ["b", "box"],
      ["bc", "box"],
      ["bcd", "box"],
      ["e", "other"],
    ] as const) {
      steps = step(steps, text, name);
    }
    const seen: string[] = [];
    for (let round = 0; round < 5; round++) {
      seen.push(steps.present);
      steps = back(steps);
    }
    expect(seen).toEqual(["e", "bcd", "a", "", ""]);
    expect(forth(forth(steps)).present).toBe("bcd");
    expect(forth(step(steps, "x")).present).toBe("x");
  });
});
