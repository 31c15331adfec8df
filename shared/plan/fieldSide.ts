import { centroid } from "../geo/area.ts";
import { compassWords } from "../geo/compass.ts";
import { planeOf, toAreaXY } from "../geo/convert.ts";
import { bearingDeg, distanceM } from "../geo/distance.ts";
import type { FieldFeature } from "../model/field.ts";
import type { Block } from "./plan.ts";

/** Our choice: a block whose centre is nearer than this to the field's is not on any side of it. */
const middleWithinM = 20;

/** Which side of the field the block lies on; empty for an order that is done in one block. */
export function sideOfField(field: FieldFeature, block: Block): string {
  if (block.parts === 1) return "";
  const plane = planeOf(field.geometry);
  const fieldCentre = centroid(toAreaXY(plane, field.geometry));
  const blockCentre = centroid(toAreaXY(plane, block.geometry));
  if (distanceM(fieldCentre, blockCentre) < middleWithinM) return "middle";
  return `${compassWords(bearingDeg(fieldCentre, blockCentre))} side`;
}
