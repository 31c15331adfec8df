import { distanceM, distanceToShapeM } from "../../../shared/geo/distance.ts";
import type { PointXY } from "../../../shared/geo/plane.ts";
import type { SensitiveDraft } from "./draft.ts";
import type { FieldShape } from "./fieldShapes.ts";
import { closedRing, type ToPosition } from "./geojson.ts";
import type { LaidFields } from "./layFields.ts";
import type { Random } from "./random.ts";
import { moved, ovalRing, reachM } from "./shapes.ts";
import { riverReaches, type Valley } from "./valley.ts";

type Kind = SensitiveDraft["properties"]["kind"];

const kinds: readonly (readonly [Kind, number])[] = [
  ["dwelling", 12],
  ["apiary", 4],
  ["water", 4],
  ["susceptible", 5],
  ["organic", 3],
  ["school", 1],
];
const kindNames: Readonly<Record<Kind, string>> = {
  dwelling: "Farmhouse",
  apiary: "Hives",
  water: "Pond",
  susceptible: "Kitchen gardens",
  organic: "Organic plot",
  school: "Village school",
};
/** Places per field. Our choice. */
const placesPerField = 0.6;

/** The river and, near a share of the fields, the places that their buffers protect. None lies on a field. */
export function makeSensitivePlaces(
  random: Random,
  valley: Valley,
  fields: LaidFields,
  toPosition: ToPosition,
): SensitiveDraft[] {
  const river = riverReaches(valley).map(
    (reach, index): SensitiveDraft => ({
      type: "Feature",
      geometry: { type: "LineString", coordinates: reach.map(toPosition) },
      properties: { id: `river-${index + 1}`, kind: "water", name: `River, reach ${index + 1}` },
    }),
  );
  const places: SensitiveDraft[] = [];
  const wanted = Math.round(fields.shapes.length * placesPerField);
  // One that finds no free ground is tried elsewhere, but not for ever.
  for (let attempt = 0; attempt < 20 * wanted && places.length < wanted; attempt++) {
    const place = tryPlace(random, valley, fields, toPosition, `place-${places.length + 1}`);
    if (place) places.push(place);
  }
  return [...river, ...places];
}

function tryPlace(
  random: Random,
  valley: Valley,
  fields: LaidFields,
  toPosition: ToPosition,
  id: string,
): SensitiveDraft | null {
  const kind = random.weighted(kinds);
  const asPoint = kind === "dwelling" || kind === "apiary" || kind === "school";
  const radiusM = asPoint ? { dwelling: 15, apiary: 5, school: 40 }[kind] : 0;
  const ring = ovalRing(random, random.between(900, 12_000), random.between(1, 1.8), random.whole(7, 12));
  const reach = asPoint ? radiusM : reachM(ring);
  const centre = besideField(random, random.pick(fields.shapes), reach + random.between(10, 75));
  const free = fields.grid
    .near(centre, reach + 10)
    .every(({ fieldIndex }) => clearanceM(centre, fields.shapes[fieldIndex]!) > reach + 8);
  if (!free || Math.abs(centre[1] - valley.riverYAt(centre[0])) < reach + 25) return null;
  return {
    type: "Feature",
    geometry: asPoint
      ? { type: "Point", coordinates: toPosition(centre) }
      : { type: "Polygon", coordinates: [closedRing(moved(ring, centre), toPosition)] },
    properties: { id, kind, name: kindNames[kind], radiusM },
  };
}

/** A point at some distance outside the middle of one of the field's sides. */
function besideField(random: Random, shape: FieldShape, offM: number): PointXY {
  const { outer } = random.pick(shape.polygons);
  const side = random.whole(0, outer.length - 1);
  const [x, y] = outer[side]!;
  const [nextX, nextY] = outer[(side + 1) % outer.length]!;
  const length = Math.hypot(nextX - x, nextY - y);
  return [(x + nextX) / 2 + ((nextY - y) / length) * offM, (y + nextY) / 2 - ((nextX - x) / length) * offM];
}

/** Least distance from a point to the ground of the field, obstacles with it, and to its pads; 0 on the field. */
export function clearanceM(point: PointXY, shape: FieldShape): number {
  const ground = shape.polygons.map(({ outer }) => [outer]);
  const toPads = shape.pads.map((pad) => distanceM(pad, point));
  return Math.min(distanceToShapeM(ground, { kind: "point", point }), ...toPads);
}
