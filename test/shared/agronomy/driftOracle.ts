import { geometryCentroidLonLat, toAreaXY, toShapeXY } from "../../../shared/geo/convert.ts";
import { bearingDeg, distanceToShapeM, nearestOnShape } from "../../../shared/geo/distance.ts";
import { createPlane } from "../../../shared/geo/plane.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import type { Order } from "../../../shared/model/order.ts";

const fromFinest = ["XF", "VF", "F", "M", "C", "VC", "XC", "UC"];

/** Rows `drift` and `driftNear` of the table in DEVELOPERS.md: which of them a wind stops, for the part that waits longest. */
export function driftOracle(operation: Operation, order: Order) {
  const { driftAngleDeg } = operation.settings.limits;
  const { geometry: fieldGeometry } = operation.fields.features.find(
    ({ properties }) => properties.id === order.fieldId,
  )!;
  const plane = createPlane(...geometryCentroidLonLat(fieldGeometry));
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
        const awayM = distanceToShapeM(toAreaXY(plane, fieldGeometry), shape) - radiusM;
        if (awayM >= buffer.distanceM) continue;
        const placeDeg = bearingDeg([0, 0], nearestOnShape([0, 0], shape).point);
        const turnDeg = Math.abs(((placeDeg - (windFromDeg + 180) + 900) % 360) - 180);
        if (turnDeg > driftAngleDeg) continue;
        stopped.add(buffer.downwindRule === "sparesPart" && order.maySplit ? "driftNear" : "drift");
      }
    }
    return [...stopped];
  };
}
