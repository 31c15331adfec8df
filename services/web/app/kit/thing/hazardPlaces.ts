import type { Hazard } from "../../../../../shared/model/field.ts";

const decimals = 7;

/** As people copy places from a phone: latitude, longitude; one place after the other along a line. */
export function placesText(geometry: Hazard["geometry"] | undefined): string {
  if (geometry === undefined) return "";
  const positions = geometry.type === "Point" ? [geometry.coordinates] : geometry.coordinates;
  return positions.map(([lonDeg, latDeg]) => `${latDeg}, ${lonDeg}`).join("; ");
}

/** One place is a point, several are a line; undefined: it is not to be read as places. */
export function typedPlaces(typed: string): Hazard["geometry"] | undefined {
  const positions = typed
    .split(/[;\n]/)
    .map((place) => place.trim())
    .filter((place) => place !== "")
    .map((place) => place.split(/[,\s]+/).map(Number));
  if (positions.length === 0 || positions.some((pair) => pair.length !== 2 || pair.some(Number.isNaN))) {
    return undefined;
  }
  const coordinates = positions.map(([latDeg, lonDeg]): [number, number] => [
    Number(lonDeg!.toFixed(decimals)),
    Number(latDeg!.toFixed(decimals)),
  ]);
  return coordinates.length === 1
    ? { type: "Point", coordinates: coordinates[0]! }
    : { type: "LineString", coordinates };
}
