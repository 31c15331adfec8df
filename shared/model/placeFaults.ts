import { planeOf, toAreaXY } from "../geo/convert.ts";
import { greatCircleKm, nearestOnShape } from "../geo/distance.ts";
import type { LonLat } from "../geo/plane.ts";
import type { Fault, Path } from "./faults.ts";
import type { FieldFeature, SensitiveGeometry } from "./field.ts";
import type { Located, Parts } from "./parts.ts";
import type { Base } from "./settings.ts";

/** Our choice: a contractor drives no farther. */
const farthestKm = 1000;
/** Our choice: beyond this a place is suspect when it would lie near a base with its coordinates the other way round. */
const suspectKm = 300;
const nearKm = 100;
/** Our choice: aircraft do not ferry farther between loads. */
const farthestPadKm = 5;

interface Place {
  path: Path;
  position: LonLat;
}

function firstPosition(geometry: SensitiveGeometry): LonLat {
  switch (geometry.type) {
    case "Point":
      return geometry.coordinates;
    case "LineString":
      return geometry.coordinates[0]!;
    case "Polygon":
      return geometry.coordinates[0]![0]!;
    case "MultiPolygon":
      return geometry.coordinates[0]![0]![0]!;
  }
}

function placesOf(parts: Parts): Place[] {
  const stations = new Map<string, Place>();
  for (const { path, item } of parts.weather.entries) {
    if (!stations.has(item.stationId)) stations.set(item.stationId, { path, position: [item.lonDeg, item.latDeg] });
  }
  return [
    ...[...parts.fields.entries, ...parts.sensitive.entries].map(({ path, item }) => ({
      path: [...path, "geometry"],
      position: firstPosition(item.geometry),
    })),
    ...parts.waterPoints.entries.map(({ path, item }): Place => ({ path, position: [item.lonDeg, item.latDeg] })),
    ...stations.values(),
  ];
}

function nearestBase([lonDeg, latDeg]: LonLat, bases: readonly Base[]): { base: Base; awayKm: number } {
  return bases
    .map((base) => ({ base, awayKm: greatCircleKm([lonDeg, latDeg], [base.lonDeg, base.latDeg]) }))
    .reduce((best, next) => (next.awayKm < best.awayKm ? next : best));
}

function farFaults(parts: Parts, bases: readonly Base[]): Fault[] {
  return placesOf(parts).flatMap(({ path, position }) => {
    const { awayKm } = nearestBase(position, bases);
    if (awayKm <= suspectKm) return [];
    const [lonDeg, latDeg] = position;
    const swapped = Math.abs(lonDeg) <= 90 ? nearestBase([latDeg, lonDeg], bases) : undefined;
    const value = { latDeg, lonDeg };
    const away = `it is ${Math.round(awayKm)} km from the nearest base`;
    if (swapped !== undefined && swapped.awayKm <= nearKm) {
      const hint = `with latitude and longitude swapped it is ${Math.round(swapped.awayKm)} km from base ${swapped.base.id}`;
      return [{ path, value, expected: `a place near a base; ${away}, but ${hint}` }];
    }
    if (awayKm <= farthestKm) return [];
    return [{ path, value, expected: `a place within ${farthestKm} km of a base; ${away}` }];
  });
}

function padFaults({ path, item: { geometry, properties } }: Located<FieldFeature>): Fault[] {
  const plane = planeOf(geometry);
  const area = toAreaXY(plane, geometry);
  return properties.pads.flatMap(({ latDeg, lonDeg }, at) => {
    const awayKm = nearestOnShape(plane.toXY([lonDeg, latDeg]), { kind: "area", area }).distanceM / 1000;
    if (awayKm <= farthestPadKm) return [];
    const expected = `a place within ${farthestPadKm} km of its field; it is ${awayKm.toFixed(1)} km away`;
    return [{ path: [...path, "properties", "pads", at], value: { latDeg, lonDeg }, expected }];
  });
}

/**
 * Places out of reach of every base, places that have their latitude and longitude the wrong way round, and pads away
 * from their field. A pad is judged only beside a field that is sound and in its place.
 */
export function placeFaults(parts: Parts, groundFaults: readonly Fault[]): Fault[] {
  const bases = parts.bases.entries.map(({ item }) => item);
  // A base that could not be read might be the near one.
  const far = bases.length > 0 && bases.length === parts.bases.size ? farFaults(parts, bases) : [];
  const unsound = new Set([...far, ...groundFaults].map(({ path }) => (path[0] === "fields" ? path[2] : undefined)));
  const sound = parts.fields.entries.filter(({ path }) => !unsound.has(path[2]));
  return [...far, ...sound.flatMap(padFaults)];
}
