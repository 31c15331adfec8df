import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import type { OrderPart } from "../../../shared/agronomy/orderParts.ts";
import type { PointXY } from "../../../shared/geo/plane.ts";
import { calendarOf, type OperationInput } from "../../support/operation.ts";
import { type Situation, situationOf } from "./oneOrder.ts";

type PlaceInput = NonNullable<OperationInput["sensitive"]>["features"][number];
export type BufferInput = NonNullable<OperationInput["products"][number]["buffers"]>[number];

export const bare = treatedOf({});
/** About 600 x 400 m. */
export const widthM = spanM(0);
export const heightM = spanM(1);

function askFor(situation: Situation) {
  const operation = situationOf(situation);
  const agronomy = createAgronomy(operation, calendarOf(operation));
  return { agronomy, order: operation.orders[0]! };
}

export function treatedOf(situation: Situation) {
  const { agronomy, order } = askFor(situation);
  return agronomy.treatedArea(order);
}

function spanM(axis: 0 | 1): number {
  const values = bare.area.flat(2).map((point) => point[axis]);
  return Math.max(...values) - Math.min(...values);
}

export function partsOf(situation: Situation): readonly OrderPart[] {
  const { agronomy, order } = askFor(situation);
  return agronomy.parts(order);
}

export const namesOf = (situation: Situation) => partsOf(situation).map(({ part }) => part);

/** Hives, or another place, at so many metres from the field's centre. */
export function hives([xM, yM]: PointXY, radiusM = 0, id = "hives"): PlaceInput {
  const [lonDeg, latDeg] = bare.plane.toPosition([xM, yM]);
  return {
    type: "Feature",
    geometry: { type: "Point", coordinates: [lonDeg, latDeg] },
    properties: { id, kind: "apiary", name: "Hives at the hedge", radiusM },
  };
}

export const sparing = (distanceM: number): BufferInput => ({
  kind: "apiary",
  distanceM,
  downwindOnly: true,
  downwindRule: "sparesPart",
});
