import { planeOf, toAreaXY } from "../geo/convert.ts";
import { nearestOnShape } from "../geo/distance.ts";
import { addDays } from "./calendar.ts";
import { repeated } from "./crossReferences.ts";
import type { Fault, Path } from "./faults.ts";
import type { FieldFeature, Hazard } from "./field.ts";
import type { Located, Parts } from "./parts.ts";
import { localDateSchema } from "./quantities.ts";
import { settingsSchema } from "./settings.ts";

/** Our choice: what stands farther away is in nobody's way over this field. A long wire is told as far as it runs near. */
const farthestKm = 2;

function hazardsOf({ path, item }: Located<FieldFeature>): Located<Hazard>[] {
  return (item.properties.hazards ?? []).map((hazard, at) => ({
    path: [...path, "properties", "hazards", at],
    item: hazard,
  }));
}

/** Every place of a hazard with where it stands. */
function positionsOf({ path, item: { geometry } }: Located<Hazard>): { path: Path; position: readonly number[] }[] {
  const coordinates = [...path, "geometry", "coordinates"];
  return geometry.type === "Point"
    ? [{ path: coordinates, position: geometry.coordinates }]
    : geometry.coordinates.map((position, at) => ({ path: [...coordinates, at], position }));
}

function farFaults(field: Located<FieldFeature>): Fault[] {
  const { geometry } = field.item;
  const places = hazardsOf(field).flatMap(positionsOf);
  if (places.length === 0) return [];
  const plane = planeOf(geometry);
  const area = toAreaXY(plane, geometry);
  const awayKm = ([lonDeg, latDeg]: readonly number[]) =>
    nearestOnShape(plane.toXY([lonDeg!, latDeg!]), { kind: "area", area }).distanceM / 1000;
  return places.flatMap(({ path, position }) => {
    const km = awayKm(position);
    if (km <= farthestKm) return [];
    const [lonDeg, latDeg] = position;
    const isSwapped = Math.abs(lonDeg!) <= 90 && awayKm([latDeg!, lonDeg!]) <= farthestKm;
    const away = isSwapped
      ? "with latitude and longitude swapped it is"
      : `it is ${km < 100 ? km.toFixed(1) : Math.round(km)} km away`;
    return [{ path, value: position, expected: `a place within ${farthestKm} km of its field; ${away}` }];
  });
}

function lengthFaults(hazard: Located<Hazard>): Fault[] {
  const { geometry } = hazard.item;
  if (geometry.type === "Point") return [];
  const [lonDeg, latDeg] = geometry.coordinates[0]!;
  if (geometry.coordinates.some(([lon, lat]) => lon !== lonDeg || lat !== latDeg)) return [];
  const path = [...hazard.path, "geometry", "coordinates"];
  return [{ path, value: geometry.coordinates, expected: "a line between two different places, or a Point" }];
}

/** The same line may have been told from its other end. */
function sameWords({ geometry, kind }: Hazard): string {
  const { coordinates, type } = geometry;
  const ways = type === "LineString" ? [coordinates, coordinates.toReversed()] : [coordinates];
  return `${kind} ${ways.map((way) => JSON.stringify(way)).sort()[0]}`;
}

/** A survey is looked back upon. */
function surveyFaults(parts: Parts): Fault[] {
  const firstDay = localDateSchema.safeParse(parts.firstDay);
  const days = settingsSchema.shape.days.safeParse(parts.days);
  if (!firstDay.success || !days.success) return [];
  const lastDay = addDays(firstDay.data, days.data - 1);
  return parts.fields.entries.flatMap(({ path, item: { properties } }) => {
    const { hazardsSurveyed } = properties;
    if (hazardsSurveyed === undefined || hazardsSurveyed <= lastDay) return [];
    const expected = `a day not after ${lastDay}, the last day of the operation`;
    return [{ path: [...path, "properties", "hazardsSurveyed"], value: hazardsSurveyed, expected }];
  });
}

/** Hazards that are told twice, have no length, or stand far from their field; surveys to come. Where the ground of a field is unsound, nothing is said of what is near it. */
export function hazardFaults(parts: Parts, placeAndGroundFaults: readonly Fault[]): Fault[] {
  const ofGround = placeAndGroundFaults.filter(({ path }) => path[0] === "fields" && path[3] === "geometry");
  const unsound = new Set(ofGround.map(({ path }) => path[2]));
  return [
    ...parts.fields.entries.flatMap((field) => {
      const hazards = hazardsOf(field);
      const keys = hazards.map(({ item, path }) => ({ path, item: sameWords(item) }));
      const twice = repeated(keys, "a hazard of this field").map((fault) => ({
        ...fault,
        value: hazards.find(({ path }) => path === fault.path)?.item,
      }));
      return [...hazards.flatMap(lengthFaults), ...twice, ...(unsound.has(field.path[2]) ? [] : farFaults(field))];
    }),
    ...surveyFaults(parts),
  ];
}
