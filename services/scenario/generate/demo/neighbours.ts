import { contains } from "../../../../shared/geo/area.ts";
import type { PointXY } from "../../../../shared/geo/plane.ts";
import type { SensitiveDraft } from "../draft.ts";
import type { FieldShape } from "../fieldShapes.ts";
import type { Land } from "../land.ts";
import { clearanceM } from "../sensitivePlaces.ts";

interface Neighbour extends Omit<SensitiveDraft["properties"], "radiusM"> {
  readonly radiusM: number;
  /** Name of the case's field that it lies beside. */
  readonly beside: string;
  /** Wanted direction from the middle of the field, counterclockwise from east. */
  readonly directionRad: number;
  /** From the edge of the field to the edge of the place. */
  readonly gapM: number;
}

const northWest = (3 * Math.PI) / 4;

/** The places that the cases speak of. */
const named: readonly Neighbour[] = [
  {
    id: "school-lunera",
    kind: "school",
    name: "Escuela de Lunera de Abajo",
    radiusM: 45,
    beside: "School Paddock",
    directionRad: 0,
    gapM: 12,
  },
  {
    id: "hives-folgares",
    kind: "apiary",
    name: "Hives at the chapel of Santa Órvita",
    radiusM: 8,
    beside: "Bee Meadow",
    directionRad: northWest,
    gapM: 55,
  },
  {
    id: "gardens-lunera",
    kind: "susceptible",
    name: "Kitchen gardens of Lunera",
    radiusM: 60,
    beside: "Gardener's Neighbour",
    directionRad: northWest,
    gapM: 70,
  },
  {
    id: "organic-acebal",
    kind: "organic",
    name: "Organic seed plot of Acebal",
    radiusM: 40,
    beside: "Harvester's Eve",
    directionRad: northWest,
    gapM: 10,
  },
];

export function neighbours(land: Land, indexOfField: (name: string) => number): SensitiveDraft[] {
  return named.map(({ beside, directionRad, gapM, ...properties }) => {
    const spot = freeSpot(land, land.laid.shapes[indexOfField(beside)]!, directionRad, properties.radiusM + gapM);
    return { type: "Feature", geometry: { type: "Point", coordinates: land.toPosition(spot) }, properties };
  });
}

/** A spot so far from the field's edge: in the wanted direction when nothing lies there, else in the nearest free one. */
function freeSpot(land: Land, shape: FieldShape, directionRad: number, offM: number): PointXY {
  for (let turn = 0; turn < 24; turn++) {
    const angleRad = directionRad + (turn % 2 === 0 ? 1 : -1) * Math.ceil(turn / 2) * (Math.PI / 12);
    const spot = outFrom(shape, angleRad, offM);
    const near = land.laid.grid.near(spot, offM).map(({ fieldIndex }) => land.laid.shapes[fieldIndex]!);
    if (near.every((field) => clearanceM(spot, field) >= 0.8 * offM)) return spot;
  }
  throw new Error("no free ground beside the field");
}

/** The point so far beyond the field's last ground in a direction from its centre. */
function outFrom({ centre, radiusM, polygons }: FieldShape, angleRad: number, offM: number): PointXY {
  const at = (distanceM: number): PointXY => [
    centre[0] + distanceM * Math.cos(angleRad),
    centre[1] + distanceM * Math.sin(angleRad),
  ];
  const ground = polygons.map(({ outer }) => [outer]);
  let edgeM = radiusM;
  while (edgeM > 0 && !contains(ground, at(edgeM))) edgeM -= 2;
  return at(edgeM + offM);
}
