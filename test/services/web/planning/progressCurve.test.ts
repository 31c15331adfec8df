import { describe, expect, it } from "vitest";
import { type CurvePoint, stepPath, withPoint } from "../../../../services/web/app/week/planning/progressCurve.ts";

const size = { widthPx: 100, heightPx: 40 };

describe("the curve of the best plan so far", () => {
  it("is steps from the lowest to the highest value", () => {
    const points = [
      { share: 0, value: 100 },
      { share: 0.5, value: 150 },
      { share: 1, value: 200 },
    ];
    // Up in a picture is down in its numbers: 200 lies at 0, 100 at 40, halfway at 20.
    expect(stepPath(points, size)).toBe("M0 40H50V20H100V0");
  });

  it("lies in the middle where nothing has changed, and is nothing without a point", () => {
    expect(stepPath([{ share: 0.25, value: 7 }], size)).toBe("M25 20");
    expect(stepPath([], size)).toBe("");
  });

  it("stays within its picture, whatever share is told", () => {
    expect(
      stepPath(
        [
          { share: -0.1, value: 1 },
          { share: 1.2, value: 2 },
        ],
        size,
      ),
    ).toBe("M0 40H100V0");
  });

  it("keeps a point for each change, and where the value ends", () => {
    const told = [0, 0.1, 0.2, 0.3, 0.4].map((share) => ({ share, value: share < 0.25 ? 5 : 9 }));
    const kept = told.reduce<readonly CurvePoint[]>(withPoint, []);
    expect(kept.map(({ share }) => share)).toEqual([0, 0.2, 0.3, 0.4]);
    expect(withPoint(kept, { share: 0.5, value: 9 }).map(({ share }) => share)).toEqual([0, 0.2, 0.3, 0.5]);
  });

  it("begins anew when the work does", () => {
    const kept = withPoint([{ share: 0.6, value: 9 }], { share: 0.1, value: 4 });
    expect(kept).toEqual([{ share: 0.1, value: 4 }]);
  });
});
