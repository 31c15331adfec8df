import { geometryCentroidLonLat, toAreaXY, toShapeXY } from "../../../shared/geo/convert.ts";
import { bearingDeg, distanceToShapeM, nearestOnShape } from "../../../shared/geo/distance.ts";
import { type AreaXY, createPlane, type PointXY } from "../../../shared/geo/plane.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import type { Order } from "../../../shared/model/order.ts";

const fromFinest = ["XF", "VF", "F", "M", "C", "VC", "XC", "UC"];

/** Every corner and every point that cuts an edge into ceil(length / 5 m) equal pieces. */
function outlineOf(area: AreaXY): PointXY[] {
  const points: PointXY[] = [];
  for (const ring of area.flat()) {
    for (let i = 0; i < ring.length; i++) {
      const [aXM, aYM] = ring[i]!;
      const [bXM, bYM] = ring[(i + 1) % ring.length]!;
      const pieces = Math.ceil(Math.hypot(bXM - aXM, bYM - aYM) / 5);
      for (let k = 0; k <= pieces; k++) {
        points.push([aXM + ((bXM - aXM) * k) / pieces, aYM + ((bYM - aYM) * k) / pieces]);
      }
    }
  }
  return points;
}

/**
 * Rows `drift` and `driftNear` of the table in DEVELOPERS.md: which of them a wind stops, for the part that waits longest.
 * Every point of the outline is asked again for every wind.
 */
export function driftOracle(operation: Operation, order: Order) {
  const { driftAngleDeg } = operation.settings.limits;
  const { geometry: fieldGeometry } = operation.fields.features.find(
    ({ properties }) => properties.id === order.fieldId,
  )!;
  const plane = createPlane(...geometryCentroidLonLat(fieldGeometry));
  const area = toAreaXY(plane, fieldGeometry);
  const outline = outlineOf(area);
  const products = order.products.map(({ productId }) => operation.products.find(({ id }) => id === productId)!);
  const finestOfLabels = products.map(({ dropletFinest }) => fromFinest.indexOf(dropletFinest ?? "XF"));
  const sprayed = order.dropletClass ? fromFinest.indexOf(order.dropletClass) : Math.max(...finestOfLabels);

  return (windFromDeg: number): string[] => {
    const stopped = new Set<string>();
    for (const buffer of products.flatMap(({ buffers }) => buffers)) {
      if (!buffer.downwindOnly) continue;
      if (buffer.onlyFinerThan && sprayed >= fromFinest.indexOf(buffer.onlyFinerThan)) continue;
      for (const { geometry, properties } of operation.sensitive.features) {
        if (properties.kind !== buffer.kind) continue;
        const shape = toShapeXY(plane, geometry);
        const radiusM = geometry.type === "Point" ? properties.radiusM : 0;
        // Some of the field lies inside the place: every wind blows towards it.
        const isInside = distanceToShapeM(area, shape) <= radiusM;
        const isReached = outline.some((point) => {
          const nearest = nearestOnShape(point, shape);
          if (nearest.distanceM - radiusM >= buffer.distanceM) return false;
          const turnDeg = Math.abs(((bearingDeg(point, nearest.point) - (windFromDeg + 180) + 900) % 360) - 180);
          return turnDeg <= driftAngleDeg;
        });
        if (!isInside && !isReached) continue;
        stopped.add(buffer.downwindRule === "sparesPart" && order.maySplit ? "driftNear" : "drift");
      }
    }
    return [...stopped];
  };
}
