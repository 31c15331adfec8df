import { areaM2 } from "../geo/area.ts";
import { difference, intersection, offsetShape, union } from "../geo/clip.ts";
import type { AreaXY, Plane } from "../geo/plane.ts";
import type { ProductId, SensitiveId } from "../model/quantities.ts";
import { haFromM2 } from "../units/units.ts";
import type { ProductBuffer } from "./mix.ts";
import type { FieldGround, Place } from "./places.ts";

/** What one place takes from a field by itself; two places may take the same ground. */
export interface BufferCut {
  readonly sensitiveId: SensitiveId;
  /** The product of the mix whose label asks for the widest buffer. */
  readonly productId: ProductId;
  readonly distanceM: number;
  readonly cutHa: number;
}

export interface TreatedArea {
  readonly plane: Plane;
  readonly area: AreaXY;
  readonly areaHa: number;
  readonly fieldHa: number;
  readonly cuts: readonly BufferCut[];
}

const leastHa = 0.05;
/** Our choice: arcs are drawn as chords up to 1 cm inside the true circle, so buffers are drawn this much wider. */
const arcAllowanceM = 0.01;

/** The field without the ground that the buffers of a mix keep free at all times. */
export function treatedArea(
  ground: FieldGround,
  places: readonly Place[],
  buffers: readonly ProductBuffer[],
): TreatedArea {
  const cuts: BufferCut[] = [];
  const kept: AreaXY[] = [];
  for (const { feature, shape, radiusM } of places) {
    const buffer = buffers.find(({ kind }) => kind === feature.properties.kind);
    if (!buffer) continue;
    const around = offsetShape(shape, radiusM + buffer.distanceM + arcAllowanceM);
    const cutM2 = areaM2(intersection(ground.area, around));
    if (cutM2 === 0) continue;
    kept.push(around);
    cuts.push({
      sensitiveId: feature.properties.id,
      productId: buffer.productId,
      distanceM: buffer.distanceM,
      cutHa: haFromM2(cutM2),
    });
  }
  const { plane, fieldHa } = ground;
  const left = kept.length > 0 ? difference(ground.area, union(kept)) : ground.area;
  const leftHa = haFromM2(areaM2(left));
  return leftHa < leastHa
    ? { plane, area: [], areaHa: 0, fieldHa, cuts }
    : { plane, area: left, areaHa: leftHa, fieldHa, cuts };
}
