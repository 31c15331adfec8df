import { centroid } from "../../../../shared/geo/area.ts";
import { planeOf, toAreaXY, toShapeXY } from "../../../../shared/geo/convert.ts";
import { distanceToShapeM, nearestOnShape } from "../../../../shared/geo/distance.ts";
import type { LonLat } from "../../../../shared/geo/plane.ts";
import type { AreaGeometry } from "../../../../shared/model/field.ts";
import { type Bounds, boundsOf, positionsOf, type SensitiveOnMap } from "../../../../shared/plan/mapPlaces.ts";

/** Our choice, as on the crews' sheets: as far as a crew sees and is seen. */
const nearM = 500;
/** Our choice: so much ground is seen round a field, whatever lies there. */
const aroundM = 100;

/** Our choice: what lies farther off is told, but not brought into view at the price of the field's size. */
const fittedM = 250;

export interface Near {
  /** From the field's edge; 0: it touches. */
  readonly distanceM: number;
  /** Of the place, what is nearest to the field's middle. */
  readonly at: LonLat;
}

/** The sensitive places near a field, by their ids. */
export function nearField(
  geometry: AreaGeometry,
  sensitive: readonly Pick<SensitiveOnMap, "id" | "geometry" | "radiusM">[],
): ReadonlyMap<string, Near> {
  const plane = planeOf(geometry);
  const area = toAreaXY(plane, geometry);
  const middle = centroid(area);
  const near = new Map<string, Near>();
  for (const { geometry: there, id, radiusM } of sensitive) {
    const shape = toShapeXY(plane, there);
    const distanceM = Math.max(0, distanceToShapeM(area, shape) - radiusM);
    if (distanceM <= nearM) near.set(id, { distanceM, at: plane.toPosition(nearestOnShape(middle, shape).point) });
  }
  return near;
}

/** A field with what is around it, and with the places that are nearest. */
export function fieldBounds(geometry: AreaGeometry, near: ReadonlyMap<string, Near>): Bounds {
  const plane = planeOf(geometry);
  const points = positionsOf(geometry).map(plane.toXY);
  const corners = points.flatMap(([eastM, northM]) => [
    plane.toPosition([eastM - aroundM, northM - aroundM]),
    plane.toPosition([eastM + aroundM, northM + aroundM]),
  ]);
  return boundsOf([
    ...corners,
    ...[...near.values()].filter(({ distanceM }) => distanceM <= fittedM).map(({ at }) => at),
  ]);
}
