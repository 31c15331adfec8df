/** RFC 7946 position: longitude, then latitude, degrees, WGS 84; further numbers are ignored. */
export type LonLat = readonly [lonDeg: number, latDeg: number, ...rest: number[]];

/** A point of a local plane: x metres to the east, y metres to the north of its origin. */
export type PointXY = readonly [xM: number, yM: number];
/** A closed ring whose last point is not a repetition of the first. */
export type Ring = readonly PointXY[];
/** The outer ring first, then holes. Outer rings run counter-clockwise, holes clockwise. */
export type PolygonXY = readonly Ring[];
/** Polygons that do not overlap. */
export type AreaXY = readonly PolygonXY[];

export interface Plane {
  toXY(position: LonLat): PointXY;
  toPosition(point: PointXY): [lonDeg: number, latDeg: number];
}

/** WGS 84 ellipsoid: NGA.STND.0036 (2014), table 3.1. */
const equatorRadiusM = 6_378_137;
const flattening = 1 / 298.257223563;
const eccentricitySquared = flattening * (2 - flattening);

/**
 * A plane that touches the ellipsoid at its origin. A step north is worth the radius of curvature in the meridian, a step
 * east that in the prime vertical times the cosine of the latitude: Snyder, Map Projections, a Working Manual (USGS
 * Professional Paper 1395, 1987), eqs. 4-18 and 4-20. Lengths to the east are off by tan(latitude) x (distance north of the
 * origin / 6371 km), so put the origin inside the field. Good for some kilometres; not near the poles.
 */
export function createPlane(originLonDeg: number, originLatDeg: number): Plane {
  const radPerDeg = Math.PI / 180;
  const latRad = originLatDeg * radPerDeg;
  const curve = 1 - eccentricitySquared * Math.sin(latRad) ** 2;
  const meridianRadiusM = (equatorRadiusM * (1 - eccentricitySquared)) / curve ** 1.5;
  const primeVerticalRadiusM = equatorRadiusM / Math.sqrt(curve);
  const mPerDegEast = primeVerticalRadiusM * Math.cos(latRad) * radPerDeg;
  const mPerDegNorth = meridianRadiusM * radPerDeg;
  return {
    toXY: ([lonDeg, latDeg]) => [wrapDeg(lonDeg - originLonDeg) * mPerDegEast, (latDeg - originLatDeg) * mPerDegNorth],
    toPosition: ([xM, yM]) => [wrapDeg(originLonDeg + xM / mPerDegEast), originLatDeg + yM / mPerDegNorth],
  };
}

/** Longitudes that differ by a whole turn are one meridian. */
function wrapDeg(angleDeg: number): number {
  return angleDeg >= -180 && angleDeg <= 180 ? angleDeg : angleDeg - 360 * Math.round(angleDeg / 360);
}
