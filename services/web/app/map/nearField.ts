import { planeOf, toAreaXY, toShapeXY } from "../../../../shared/geo/convert.ts";
import { distanceToShapeM } from "../../../../shared/geo/distance.ts";
import type { AreaGeometry } from "../../../../shared/model/field.ts";
import { type Bounds, boundsOf, positionsOf, type SensitiveOnMap } from "../../../../shared/plan/mapPlaces.ts";

/** Our choice, as on the crews' sheets: as far as a crew sees and is seen. */
const nearM = 500;
/** Our choice: so much ground is seen round a field, whatever lies there. */
const aroundM = 100;

/** How far from the field's edge sensitive places lie, those that are near; 0: they touch. */
export function nearField(geometry: AreaGeometry, sensitive: readonly SensitiveOnMap[]): ReadonlyMap<string, number> {
  const plane = planeOf(geometry);
  const area = toAreaXY(plane, geometry);
  const distances = sensitive.map((one) => {
    const edgeM = distanceToShapeM(area, toShapeXY(plane, one.geometry)) - one.radiusM;
    return [one.id, Math.max(0, edgeM)] as const;
  });
  return new Map(distances.filter(([, edgeM]) => edgeM <= nearM));
}

/** A field with what is around it, as far as the farthest of its near sensitive places begins. */
export function fieldBounds(geometry: AreaGeometry, near: ReadonlyMap<string, number>): Bounds {
  const plane = planeOf(geometry);
  const marginM = Math.max(aroundM, ...[...near.values()].map((edgeM) => edgeM + aroundM / 2));
  const points = positionsOf(geometry).map(plane.toXY);
  const corners = points.flatMap(([eastM, northM]) => [
    plane.toPosition([eastM - marginM, northM - marginM]),
    plane.toPosition([eastM + marginM, northM + marginM]),
  ]);
  return boundsOf(corners);
}
