import { areaM2 } from "../geo/area.ts";
import { boxesApartM, boxOf } from "../geo/box.ts";
import { difference, intersection, offsetShape, union } from "../geo/clip.ts";
import { toAreaXY } from "../geo/convert.ts";
import { distanceToShapeM } from "../geo/distance.ts";
import type { AreaXY, Plane } from "../geo/plane.ts";
import { cornersOf } from "../geo/shape.ts";
import type { Order } from "../model/order.ts";
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
/** Far more than the corners of what is drawn are rounded by. */
const drawnBeyondM = 0.01;

/** The field, or what of it is to be treated, without the ground that the buffers of a mix keep free at all times. */
export function treatedArea(
  ground: FieldGround,
  places: readonly Place[],
  buffers: readonly ProductBuffer[],
  wanted: Order["ground"],
): TreatedArea {
  const cuts: BufferCut[] = [];
  const kept: AreaXY[] = [];
  for (const place of places) {
    const buffer = bufferOf(place, buffers);
    if (!buffer || isOutOfReach(ground.area, place, buffer)) continue;
    const around = groundWithin(place, buffer);
    const cutM2 = areaM2(intersection(ground.area, around));
    if (cutM2 === 0) continue;
    kept.push(around);
    cuts.push({
      sensitiveId: place.feature.properties.id,
      productId: buffer.productId,
      distanceM: buffer.distanceM,
      cutHa: haFromM2(cutM2),
    });
  }
  const { plane, fieldHa } = ground;
  const whole = wanted === undefined ? ground.area : intersection(ground.area, union([toAreaXY(plane, wanted)]));
  const left = kept.length > 0 ? difference(whole, union(kept)) : whole;
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
export function groundAround(place: Place, buffers: readonly ProductBuffer[]): AreaXY | undefined {
  const buffer = bufferOf(place, buffers);
  return buffer && groundWithin(place, buffer);
}

function groundWithin(place: Place, buffer: ProductBuffer): AreaXY {
  return offsetShape(place.shape, reachOfM(place, buffer));
}

function bufferOf({ feature }: Place, buffers: readonly ProductBuffer[]): ProductBuffer | undefined {
  return buffers.find(({ kind }) => kind === feature.properties.kind);
}

function reachOfM({ radiusM }: Place, { distanceM }: ProductBuffer): number {
  return radiusM + distanceM + arcAllowanceM;
}

/** Whether the buffer ends before the field; that is found sooner than the ground around a place is drawn and cut. */
function isOutOfReach(area: AreaXY, place: Place, buffer: ProductBuffer): boolean {
  const reachM = reachOfM(place, buffer) + drawnBeyondM;
  const boxes = [boxOf(area.flat(2)), boxOf(cornersOf(place.shape))] as const;
  return boxesApartM(...boxes) > reachM || distanceToShapeM(area, place.shape) > reachM;
}
