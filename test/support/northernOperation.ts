import type { Operation } from "../../shared/model/operation.ts";
import type { BlockId } from "../../shared/model/quantities.ts";
import { type Block, blockSchema } from "../../shared/plan/plan.ts";
import { type OperationInput, smallOperation } from "./operation.ts";

export interface Place {
  readonly name: string;
  readonly timeZone: string;
  readonly latDeg: number;
  readonly lonDeg: number;
}

/** The clocks run three hours ahead of the sun: in summer it sets long after local midnight. */
export const nome: Place = { name: "Nome", timeZone: "America/Nome", latDeg: 64.5, lonDeg: -165.4 };
/** Around midsummer it sets a few minutes after local midnight. */
export const reykjavik: Place = { name: "Reykjavik", timeZone: "Atlantic/Reykjavik", latDeg: 64.15, lonDeg: -21.9 };
/** Around midsummer it stays up. */
export const tromso: Place = { name: "Tromsø", timeZone: "Europe/Oslo", latDeg: 69.65, lonDeg: 18.95 };

export const blockId = "O-1#1" as BlockId;

interface Season {
  readonly firstDay: string;
  readonly flyingDay: Partial<Operation["settings"]["limits"]["flyingDay"]>;
  readonly bloom: { readonly from: string; readonly to: string } | undefined;
}

/** The small operation with its field at a place where nights are white, its label kind to bees; and the field as order O-1's one block. */
export function northernOperation(
  { timeZone, latDeg, lonDeg }: Place,
  { firstDay, flyingDay, bloom }: Season,
): { readonly operation: Operation; readonly block: Block } {
  const [eastDeg, northDeg] = [lonDeg + 0.01, latDeg + 0.004];
  const ring: [number, number][] = [
    [lonDeg, latDeg],
    [eastDeg, latDeg],
    [eastDeg, northDeg],
    [lonDeg, northDeg],
    [lonDeg, latDeg],
  ];
  const field: OperationInput["fields"]["features"][number] = {
    type: "Feature",
    geometry: { type: "Polygon", coordinates: [ring] },
    properties: {
      id: "F1",
      name: "Field F1",
      grower: "Grower One",
      crop: "wheat",
      pads: [{ id: "P1", latDeg, lonDeg }],
      ...(bloom && { bloom }),
    },
  };
  const operation = smallOperation({
    settings: { timeZone, firstDay, days: 4, limits: { flyingDay } },
    fields: { type: "FeatureCollection", features: [field] },
  });
  operation.products[0]!.bloomRule = "outsideBeeHours";
  const block = blockSchema.parse({
    id: blockId,
    orderId: "O-1",
    part: 1,
    parts: 1,
    areaHa: 20,
    geometry: { type: "MultiPolygon", coordinates: [[ring]] },
  });
  return { operation, block };
}
