import { greatCircleKm } from "../geo/distance.ts";
import type { LonLat } from "../geo/plane.ts";
import type { Fault, Path } from "./faults.ts";
import type { SensitiveGeometry } from "./field.ts";
import type { Parts } from "./parts.ts";
import type { Base } from "./settings.ts";

/** Our choice: a contractor drives no farther. */
const farthestKm = 1000;
/** Our choice: beyond this a place is suspect when it would lie near a base with its coordinates the other way round. */
const suspectKm = 300;
const nearKm = 100;

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

/** Places out of reach of every base, and places that have their latitude and longitude the wrong way round. */
export function placeFaults(parts: Parts): Fault[] {
  const bases = parts.bases.entries.map(({ item }) => item);
  // A base that could not be read might be the near one.
  if (bases.length === 0 || bases.length < parts.bases.size) return [];
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
