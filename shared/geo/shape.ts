import type { AreaXY, PointXY } from "./plane.ts";

/** A place in the plane: a point, a line or an area. */
export type ShapeXY =
  | { readonly kind: "point"; readonly point: PointXY }
  | { readonly kind: "line"; readonly points: readonly PointXY[] }
  | { readonly kind: "area"; readonly area: AreaXY };

export function cornersOf(shape: ShapeXY): readonly PointXY[] {
  if (shape.kind === "point") return [shape.point];
  return shape.kind === "line" ? shape.points : shape.area.flat(2);
}
