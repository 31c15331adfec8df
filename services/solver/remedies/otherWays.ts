import { planeOf } from "../../../shared/geo/convert.ts";
import { distanceM } from "../../../shared/geo/distance.ts";
import type { FieldFeature, Pad } from "../../../shared/model/field.ts";
import { byGrower, byOffice, type Candidate, type Wanting } from "./candidate.ts";

/** The order cut into blocks, where it may not be yet: the grower wanted it in one go. */
export function splitOrders({ orders }: Wanting): Candidate[] {
  return orders
    .filter(({ maySplit }) => !maySplit)
    .map(({ id }) => byGrower({ kind: "changeOrder", orderId: id, set: { maySplit: true } }));
}

/** Other products that the operation lists for the order. The grower pays for them, and has a say. */
export function otherProducts({ orders }: Wanting): Candidate[] {
  return orders.flatMap(({ id, alternatives = [] }) =>
    alternatives.map(({ products, carrierLPerHa = null }) =>
      byGrower({ kind: "changeOrder", orderId: id, set: { products, carrierLPerHa } }),
    ),
  );
}

/** Our choice: a second pad nearer than this to one that there is would bring nothing. */
const leastApartM = 150;

/** A place at the edge of the field where it lies farthest from the pads that there are. Whether a truck can get there the office has to see. */
export function otherPads({ operation, orders }: Wanting): Candidate[] {
  const fieldIds = new Set(orders.map(({ fieldId }) => fieldId));
  return operation.fields.features
    .filter(({ properties }) => fieldIds.has(properties.id))
    .flatMap((field) => {
      const pad = farthestCorner(field);
      return pad === null ? [] : [byOffice({ kind: "addPad", fieldId: field.properties.id, pad })];
    });
}

function farthestCorner({ geometry, properties }: FieldFeature): Pad | null {
  const plane = planeOf(geometry);
  const pads = properties.pads.map(({ lonDeg, latDeg }) => plane.toXY([lonDeg, latDeg]));
  const polygons = geometry.type === "Polygon" ? [geometry.coordinates] : geometry.coordinates;
  const corners = polygons.flatMap(([outline]) => outline ?? []);
  const awayM = corners.map((corner) => Math.min(...pads.map((pad) => distanceM(plane.toXY(corner), pad))));
  const farthest = awayM.indexOf(Math.max(...awayM));
  const corner = corners[farthest];
  if (corner === undefined || awayM[farthest]! < leastApartM) return null;
  return { id: newPadId(properties.pads), lonDeg: corner[0], latDeg: corner[1] };
}

function newPadId(pads: readonly Pad[]): Pad["id"] {
  for (let number = pads.length + 1; ; number++) {
    const id = `edge-${number}` as Pad["id"];
    if (!pads.some((pad) => pad.id === id)) return id;
  }
}
