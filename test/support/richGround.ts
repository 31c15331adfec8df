import { createPlane, type LonLat } from "../../shared/geo/plane.ts";

/** A rectangle in metres east and north of a centre. */
export interface RectangleM {
  readonly westM: number;
  readonly eastM: number;
  readonly southM: number;
  readonly northM: number;
}

export type Ring = [lonDeg: number, latDeg: number][];

export function positionAt([lonDeg, latDeg]: LonLat, eastM: number, northM: number): [number, number] {
  return createPlane(lonDeg, latDeg).toPosition([eastM, northM]);
}

/** Counter-clockwise from the south-west corner, closed. */
export function rectangleRing(centre: LonLat, { westM, eastM, southM, northM }: RectangleM): Ring {
  const corners: [number, number][] = [
    [westM, southM],
    [eastM, southM],
    [eastM, northM],
    [westM, northM],
    [westM, southM],
  ];
  return corners.map(([xM, yM]) => positionAt(centre, xM, yM));
}

/** A rectangle about the centre. */
export function centred(widthM: number, heightM: number): RectangleM {
  return { westM: -widthM / 2, eastM: widthM / 2, southM: -heightM / 2, northM: heightM / 2 };
}

export function rectangleHa({ westM, eastM, southM, northM }: RectangleM): number {
  return ((eastM - westM) * (northM - southM)) / 10_000;
}
