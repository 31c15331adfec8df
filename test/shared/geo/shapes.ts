import fc from "fast-check";
import type { AreaXY, PointXY } from "../../../shared/geo/plane.ts";

export function rectangle(xM: number, yM: number, widthM: number, heightM: number): AreaXY {
  return [
    [
      [
        [xM, yM],
        [xM + widthM, yM],
        [xM + widthM, yM + heightM],
        [xM, yM + heightM],
      ],
    ],
  ];
}

/** A rectangle with a rectangular obstacle inside. */
export function withHole(area: AreaXY, hole: AreaXY): AreaXY {
  return [[area[0]![0]!, hole[0]![0]!.toReversed()]];
}

export function move(area: AreaXY, eastM: number, northM: number): AreaXY {
  return mapPoints(area, ([xM, yM]) => [xM + eastM, yM + northM]);
}

export function turn(area: AreaXY, angleRad: number): AreaXY {
  return mapPoints(area, (point) => turnPoint(point, angleRad));
}

/** Clockwise, as headings run. */
export function turnPoint([xM, yM]: PointXY, angleRad: number): PointXY {
  const sin = Math.sin(angleRad);
  const cos = Math.cos(angleRad);
  return [xM * cos + yM * sin, yM * cos - xM * sin];
}

function mapPoints(area: AreaXY, map: (point: PointXY) => PointXY): AreaXY {
  return area.map((polygon) => polygon.map((ring) => ring.map(map)));
}

/** Numbers spread evenly; fast-check's own doubles crowd around zero. */
export function evenly(min: number, max: number): fc.Arbitrary<number> {
  return fc.integer({ min: 0, max: 1_000_000 }).map((step) => min + ((max - min) * step) / 1_000_000);
}

/** A field with bays: corners at any distance around a middle, in order of their direction. */
export const starField: fc.Arbitrary<AreaXY> = fc
  .array(evenly(60, 400), { minLength: 5, maxLength: 11 })
  .map((radiiM) => [
    [
      radiiM.map((radiusM, i): PointXY => {
        const angleRad = (2 * Math.PI * i) / radiiM.length;
        return [radiusM * Math.cos(angleRad), radiusM * Math.sin(angleRad)];
      }),
    ],
  ]);
