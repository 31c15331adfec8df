import type { PointXY } from "./plane.ts";

/** A rectangle along the axes of the plane. */
export interface Box {
  readonly westM: number;
  readonly eastM: number;
  readonly southM: number;
  readonly northM: number;
}

export function boxOf(points: readonly PointXY[]): Box {
  let [westM, southM] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  let [eastM, northM] = [Number.NEGATIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const point of points) {
    westM = Math.min(westM, point[0]);
    eastM = Math.max(eastM, point[0]);
    southM = Math.min(southM, point[1]);
    northM = Math.max(northM, point[1]);
  }
  return { westM, eastM, southM, northM };
}

/** No two points of the boxes are nearer; negative where the boxes meet. */
export function boxesApartM(a: Box, b: Box): number {
  return Math.max(b.westM - a.eastM, a.westM - b.eastM, b.southM - a.northM, a.southM - b.northM);
}
