import type { LonLat } from "../../../../shared/geo/plane.ts";
import type { Bounds } from "../../../../shared/plan/mapPlaces.ts";
import { radFromDeg } from "../../../../shared/units/units.ts";

/** A flat map has no antimeridian: the longitude, a whole turn up or down, that is nearest to the map's middle. */
export function nearDeg(lonDeg: number, middleDeg: number): number {
  return lonDeg + 360 * Math.round((middleDeg - lonDeg) / 360);
}

/** Bounds whose east is never below their west; where they cross the antimeridian west is the greater (RFC 7946, section 5.2). */
export function unwrapped([west, south, east, north]: Bounds): Bounds {
  return [west, south, east < west ? east + 360 : east, north];
}

export function middleDegOf(bounds: Bounds): number {
  const [west, , east] = unwrapped(bounds);
  return (west + east) / 2;
}

/** Of what the bounds are on the ground, about. */
export function widthByHeight(bounds: Bounds): number {
  const [west, south, east, north] = unwrapped(bounds);
  const widthDeg = (east - west) * Math.cos(radFromDeg((south + north) / 2));
  return widthDeg > 0 && north > south ? widthDeg / (north - south) : 1;
}

export function wrapped([lonDeg, latDeg]: LonLat): LonLat {
  return [lonDeg - 360 * Math.round(lonDeg / 360), latDeg];
}
