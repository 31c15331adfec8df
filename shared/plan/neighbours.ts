import { centroid } from "../geo/area.ts";
import { compassWords } from "../geo/compass.ts";
import { planeOf, toAreaXY, toShapeXY } from "../geo/convert.ts";
import { bearingDeg, distanceToShapeM, nearestOnShape } from "../geo/distance.ts";
import type { FieldFeature } from "../model/field.ts";
import type { Operation } from "../model/operation.ts";
import type { Product } from "../model/product.ts";
import type { DropletClass, SensitiveKind } from "../model/quantities.ts";

export interface Neighbour {
  readonly sensitiveId: string;
  readonly name: string;
  readonly kind: SensitiveKind;
  /** From the field's edge to the place's; 0 when they touch. */
  readonly distanceM: number;
  /** From the field's centre to the nearest point of the place; null when the place covers the centre. */
  readonly bearingDeg: number | null;
  readonly direction: string;
  /** What the labels ask for towards a place of this kind. */
  readonly buffers: readonly {
    readonly productName: string;
    readonly distanceM: number;
    readonly downwindOnly: boolean;
    /** Kept only when the spray is finer than this class; null: always. */
    readonly onlyFinerThan: DropletClass | null;
  }[];
}

/** Our choice: as far as a crew sees and is seen. A place with a wider buffer is listed within that. */
const listedWithinM = 500;

/** Sensitive places by the field, the nearest first. */
export function neighboursOf(
  operation: Operation,
  field: FieldFeature,
  products: readonly Product[],
): readonly Neighbour[] {
  const plane = planeOf(field.geometry);
  const area = toAreaXY(plane, field.geometry);
  const centre = centroid(area);
  const neighbours: Neighbour[] = [];
  for (const { geometry, properties } of operation.sensitive.features) {
    const { id, kind, name, radiusM } = properties;
    const buffers = products.flatMap((product) =>
      product.buffers
        .filter((buffer) => buffer.kind === kind)
        .map(({ distanceM, downwindOnly, onlyFinerThan }) => ({
          productName: product.name,
          distanceM,
          downwindOnly,
          onlyFinerThan: onlyFinerThan ?? null,
        })),
    );
    const shape = toShapeXY(plane, geometry);
    const widthM = shape.kind === "point" ? radiusM : 0;
    const distanceM = Math.max(0, distanceToShapeM(area, shape) - widthM);
    if (distanceM > Math.max(listedWithinM, ...buffers.map((buffer) => buffer.distanceM))) continue;
    const nearest = nearestOnShape(centre, shape);
    const bearing = nearest.distanceM > widthM ? bearingDeg(centre, nearest.point) : null;
    neighbours.push({
      sensitiveId: id,
      name,
      kind,
      distanceM,
      bearingDeg: bearing,
      direction: bearing === null ? "here" : compassWords(bearing),
      buffers,
    });
  }
  return neighbours.sort((a, b) => a.distanceM - b.distanceM);
}
