import { areaM2 } from "../geo/area.ts";
import { difference, intersection, offsetShape, union } from "../geo/clip.ts";
import type { AreaXY, Plane } from "../geo/plane.ts";
import type { ProductId, SensitiveId } from "../model/quantities.ts";
import { haFromM2 } from "../units/units.ts";
import type { ProductBuffer } from "./buffers.ts";
import type { Judgement } from "./limits.ts";
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

/** Less ground than this is nothing: no work is planned for it. */
export const leastHa = 0.05;
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
  for (const place of places) {
    const around = groundAround(place, buffers);
    if (!around) continue;
    const cutM2 = areaM2(intersection(ground.area, around.area));
    if (cutM2 === 0) continue;
    kept.push(around.area);
    cuts.push({
      sensitiveId: place.feature.properties.id,
      productId: around.buffer.productId,
      distanceM: around.buffer.distanceM,
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

/** Too little ground to plan work for, whoever flies it. */
export function judgeGround({ areaHa, fieldHa, cuts }: TreatedArea): Judgement[] {
  if (areaHa > 0) return [];
  const fieldWords = `${fieldHa.toFixed(2)} ha`;
  const sentence =
    cuts.length > 0
      ? `buffers leave nothing of the field's ${fieldWords}`
      : `the field's ${fieldWords} are too little to plan work for`;
  return [{ limit: "buffers", actual: areaHa, allowed: leastHa, unit: "ha", sentence }];
}

/** All ground nearer to the place than the buffer of its kind asks for, if there is one. */
export function groundAround(
  { feature, shape, radiusM }: Place,
  buffers: readonly ProductBuffer[],
): { readonly area: AreaXY; readonly buffer: ProductBuffer } | undefined {
  const buffer = buffers.find(({ kind }) => kind === feature.properties.kind);
  return buffer && { area: offsetShape(shape, radiusM + buffer.distanceM + arcAllowanceM), buffer };
}
