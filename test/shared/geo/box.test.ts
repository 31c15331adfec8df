import fc from "fast-check";
import { expect, it } from "vitest";
import { areaM2 } from "../../../shared/geo/area.ts";
import { boxesApartM, boxOf } from "../../../shared/geo/box.ts";
import { intersection, offsetShape } from "../../../shared/geo/clip.ts";
import { distanceToShapeM } from "../../../shared/geo/distance.ts";
import { cornersOf, type ShapeXY } from "../../../shared/geo/shape.ts";
import { evenly, move, rectangle, starField } from "./shapes.ts";

const away = evenly(-1500, 1500);
const anyShape: fc.Arbitrary<ShapeXY> = fc.oneof(
  fc.tuple(away, away).map((point): ShapeXY => ({ kind: "point", point })),
  fc.array(fc.tuple(away, away), { minLength: 2, maxLength: 6 }).map((points): ShapeXY => ({ kind: "line", points })),
  fc
    .tuple(starField, away, away)
    .map(([area, eastM, northM]): ShapeXY => ({ kind: "area", area: move(area, eastM, northM) })),
);

it("boxes 30 m apart to the east and 40 m to the north are 40 m apart at least; of one inside another the gap is negative", () => {
  const box = boxOf(rectangle(0, 0, 100, 100).flat(2));
  expect(boxesApartM(box, boxOf(rectangle(130, 140, 10, 10).flat(2)))).toBe(40);
  expect(boxesApartM(boxOf(rectangle(-140, -130, 10, 10).flat(2)), box)).toBe(130);
  expect(boxesApartM(box, boxOf([[50, 50]]))).toBeLessThan(0);
});

it("boxes are no farther apart than what is in them", () => {
  fc.assert(
    fc.property(starField, anyShape, (area, shape) => {
      const apartM = boxesApartM(boxOf(area.flat(2)), boxOf(cornersOf(shape)));
      expect(apartM).toBeLessThanOrEqual(distanceToShapeM(area, shape));
    }),
    { numRuns: 500 },
  );
});

it("ground drawn around a place that is a centimetre farther takes nothing of a field", () => {
  fc.assert(
    fc.property(starField, anyShape, evenly(0.5, 1), (area, shape, share) => {
      const apartM = distanceToShapeM(area, shape);
      if (apartM < 1) return;
      const withinM = Math.max(0.5, share * (apartM - 0.0101));
      fc.pre(withinM + 0.01 < apartM);
      expect(areaM2(intersection(area, offsetShape(shape, withinM)))).toBe(0);
      expect(areaM2(intersection(area, offsetShape(shape, apartM - 0.0101)))).toBe(0);
    }),
    { numRuns: 200 },
  );
});
