import type { Operation } from "../../shared/model/operation.ts";
import { type OperationInput, rectangleField, smallOperation } from "./operation.ts";

export type Crew = OperationInput["fleet"]["crews"][number];

/**
 * Two fields 60 km and an hour from the yard, one to be done on Monday and one on Tuesday, by a helicopter that sets up and packs up in 5 min each. A hostel with a yard is
 * 1 km and 2 min from both.
 */
export function twoFarFields(terms: Partial<Crew>): Operation {
  const { fleet, orders } = smallOperation({}) as OperationInput;
  const far = { northM: 0, widthM: 500, heightM: 400 };
  const both = (from: string, to: string, distanceKm: number, durationMin: number) => [
    { from, to, distanceKm, durationMin },
    { from: to, to: from, distanceKm, durationMin },
  ];
  return smallOperation({
    settings: {
      bases: [
        { id: "B1", name: "Yard", latDeg: 51, lonDeg: 11, mainsKw: 22 },
        { id: "B2", name: "Hostel", latDeg: 51, lonDeg: 11.6, mainsKw: 0 },
      ],
      waterPoints: [],
    },
    fields: {
      type: "FeatureCollection",
      features: ["F1", "F2"].map((id, at) => rectangleField(id, { eastM: 42_000 + at * 1000, ...far }, {})),
    },
    orders: ["07", "08"].map((day, at) => ({
      ...orders[0]!,
      id: `O-${at + 1}`,
      fieldId: `F${at + 1}`,
      earliest: `2027-06-${day}T00:00`,
      latest: `2027-06-${day}T23:00`,
      priceCentsPerHa: 20_000,
    })),
    fleet: {
      ...fleet,
      aircraft: [{ id: "H1", typeId: "HELI", baseId: "B1" }],
      crews: fleet.crews.map((crew) => ({ ...crew, ...terms })),
    },
    roads: [
      ...["F1/P1", "F2/P1", "B2"].flatMap((place) => both("B1", place, 60, 60)),
      ...["F1/P1", "F2/P1"].flatMap((place) => both("B2", place, 1, 2)),
      ...both("F1/P1", "F2/P1", 1, 2),
    ],
  });
}
