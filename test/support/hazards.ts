import type { Hazard } from "../../shared/model/field.ts";
import { type Operation, operationSchema } from "../../shared/model/operation.ts";
import { rectangleField } from "./operation.ts";
import { viewOperation } from "./viewPlan.ts";

/** Metres from the base, as rectangleField reckons them. */
export function positionAt(eastM: number, northM: number): [lonDeg: number, latDeg: number] {
  const { coordinates } = rectangleField("X", { eastM, northM, widthM: 1, heightM: 1 }, {}).geometry;
  return (coordinates[0] as [number, number][])[0]!;
}

/** Long Acre lies from 3000 to 3600 m east and 1000 to 1400 m north; its pad is its south-west corner. */
export const hazardsOfLongAcre: readonly Hazard[] = [
  { kind: "mast", geometry: { type: "Point", coordinates: positionAt(3700, 1000) }, heightM: 24 },
  {
    kind: "wire",
    geometry: { type: "LineString", coordinates: [positionAt(2900, 1300), positionAt(3700, 1300)] },
    heightM: 11.2,
    note: "Low-voltage line, no markers: <keep> below & clear",
  },
  { kind: "tree", geometry: { type: "Point", coordinates: positionAt(3300, 1440) }, note: "Ålder row" },
];

/** The week as people read it, with hazards on one of its fields. */
export function hazardousOperation(
  properties: { hazards?: readonly Hazard[]; hazardsSurveyed?: string } = {
    hazards: hazardsOfLongAcre,
    hazardsSurveyed: "2027-02-12",
  },
): Operation {
  const operation = viewOperation();
  const features = operation.fields.features.map((field, at) =>
    at === 0 ? { ...field, properties: { ...field.properties, ...properties } } : field,
  );
  return operationSchema.parse({ ...operation, fields: { ...operation.fields, features } });
}
