import { compassWords } from "../geo/compass.ts";
import { planeOf, toAreaXY, toShapeXY } from "../geo/convert.ts";
import { bearingDeg, distanceToShapeM, nearestOnShape } from "../geo/distance.ts";
import type { LonLat } from "../geo/plane.ts";
import type { FieldFeature, Hazard } from "../model/field.ts";
import type { Operation } from "../model/operation.ts";
import type { HazardKind } from "../model/quantities.ts";

/** What an aircraft could fly into, on a map. */
export interface HazardOnMap {
  /** Its field and its number there, from 1 on: hazards have no names. */
  readonly id: string;
  readonly kind: HazardKind;
  readonly heightM: number | null;
  readonly note: string;
  readonly geometry: Hazard["geometry"];
}

/** The same as a crew at its pad looks for it. */
export interface HazardNear {
  readonly hazardId: string;
  readonly kind: HazardKind;
  readonly isLine: boolean;
  /** Of its top above the ground; null: not known. */
  readonly heightM: number | null;
  readonly note: string;
  /** From the field's outer edge to its nearest point; 0 when it stands in the field or runs over it. */
  readonly fieldDistanceM: number;
  readonly padDistanceM: number;
  /** From the pad to its nearest point; null when that is at the pad. */
  readonly bearingDeg: number | null;
  readonly direction: string;
}

/** Our choice, as for sensitive places: as far as a crew sees. What is told of the field itself is listed however far it is. */
const listedWithinM = 500;
/** Nearer than this there is no direction to look in. */
const atThePadM = 1;

export function hazardsOnMap({ properties: { hazards = [], id } }: FieldFeature): readonly HazardOnMap[] {
  return hazards.map(({ geometry, heightM = null, kind, note = "" }, at) => ({
    id: `${id}/${at + 1}`,
    kind,
    heightM,
    note,
    geometry,
  }));
}

const sameThing = ({ geometry, kind }: HazardOnMap) => JSON.stringify([kind, geometry.coordinates]);

/** Hazards of the field, and those that are told of fields around it as far as they are near, each once; in no order. */
export function hazardsBy(operation: Operation, field: FieldFeature): readonly HazardOnMap[] {
  const own = hazardsOnMap(field);
  const others = operation.fields.features.filter((other) => other !== field).flatMap(hazardsOnMap);
  if (others.length === 0) return own;
  const distanceM = distanceToField(field);
  const near = others.filter(({ geometry }) => distanceM(geometry) <= listedWithinM);
  return [...new Map([...near, ...own].map((one) => [sameThing(one), one])).values()];
}

/** A hole of the outline counts as the field: what stands in it stands in the midst of the passes. */
function distanceToField({ geometry }: FieldFeature): (hazard: Hazard["geometry"]) => number {
  const plane = planeOf(geometry);
  const area = toAreaXY(plane, geometry).map(([outer]) => [outer!]);
  return (hazard) => distanceToShapeM(area, toShapeXY(plane, hazard));
}

/** What a crew at the pad has to know of, what is nearest to the field first. */
export function hazardsNear(operation: Operation, field: FieldFeature, pad: LonLat): readonly HazardNear[] {
  const plane = planeOf(field.geometry);
  const at = plane.toXY(pad);
  const distanceM = distanceToField(field);
  return hazardsBy(operation, field)
    .map(({ geometry, heightM, id, kind, note }): HazardNear => {
      const nearest = nearestOnShape(at, toShapeXY(plane, geometry));
      const bearing = nearest.distanceM > atThePadM ? bearingDeg(at, nearest.point) : null;
      return {
        hazardId: id,
        kind,
        isLine: geometry.type === "LineString",
        heightM,
        note,
        fieldDistanceM: distanceM(geometry),
        padDistanceM: nearest.distanceM,
        bearingDeg: bearing,
        direction: bearing === null ? "here" : compassWords(bearing),
      };
    })
    .sort((a, b) => a.fieldDistanceM - b.fieldDistanceM || a.padDistanceM - b.padDistanceM);
}
