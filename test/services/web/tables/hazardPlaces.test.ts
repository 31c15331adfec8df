import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { placesText, typedPlaces } from "../../../../services/web/app/kit/thing/hazardPlaces.ts";

describe("places of a hazard as people type them", () => {
  it("are latitude first, one place a point, several a line", () => {
    expect(typedPlaces("41.7402, -0.421")).toEqual({ type: "Point", coordinates: [-0.421, 41.7402] });
    expect(typedPlaces(" 41.74 -0.42 ;\n41.75,-0.43; ")).toEqual({
      type: "LineString",
      coordinates: [
        [-0.42, 41.74],
        [-0.43, 41.75],
      ],
    });
  });

  it("that cannot be read are none", () => {
    for (const typed of ["", " ; ", "41.7", "41.7, -0.4, 12", "north, south", "41.7, -0.4; by the barn"]) {
      expect(typedPlaces(typed), typed).toBeUndefined();
    }
    expect(placesText(undefined)).toBe("");
  });

  it("are read again as they are shown", () => {
    const degrees = (most: number) => fc.integer({ min: -most * 1e7, max: most * 1e7 }).map((value) => value / 1e7);
    const positions = fc.array(fc.tuple(degrees(180), degrees(90)), { minLength: 1, maxLength: 5 });
    fc.assert(
      fc.property(positions, (coordinates) => {
        const geometry =
          coordinates.length === 1
            ? { type: "Point" as const, coordinates: coordinates[0]! }
            : { type: "LineString" as const, coordinates };
        expect(typedPlaces(placesText(geometry))).toEqual(geometry);
      }),
      { seed: 7, numRuns: 200 },
    );
  });
});
