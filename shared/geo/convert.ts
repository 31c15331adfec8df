import { centroid, withStandardTurn } from "./area.ts";
import { type AreaXY, createPlane, type LonLat, type Plane, type PointXY, type PolygonXY, type Ring } from "./plane.ts";
import type { ShapeXY } from "./shape.ts";

/** The GeoJSON geometries (RFC 7946) that fields and places come in, by their structure. */
export interface PointLike {
  readonly type: "Point";
  readonly coordinates: LonLat;
}
export interface LineStringLike {
  readonly type: "LineString";
  readonly coordinates: readonly LonLat[];
}
export interface PolygonLike {
  readonly type: "Polygon";
  readonly coordinates: readonly (readonly LonLat[])[];
}
export interface MultiPolygonLike {
  readonly type: "MultiPolygon";
  readonly coordinates: readonly (readonly (readonly LonLat[])[])[];
}
export type AreaLike = PolygonLike | MultiPolygonLike;
export type GeometryLike = PointLike | LineStringLike | AreaLike;

export interface MultiPolygonGeometry {
  type: "MultiPolygon";
  coordinates: [lonDeg: number, latDeg: number][][][];
}

export function toAreaXY(plane: Plane, geometry: AreaLike): AreaXY {
  const polygons = geometry.type === "Polygon" ? [geometry.coordinates] : geometry.coordinates;
  return polygons.map((rings) => withStandardTurn(rings.map((ring) => toRing(plane, ring))));
}

export function toShapeXY(plane: Plane, geometry: GeometryLike): ShapeXY {
  switch (geometry.type) {
    case "Point":
      return { kind: "point", point: plane.toXY(geometry.coordinates) };
    case "LineString":
      return { kind: "line", points: geometry.coordinates.map((position) => plane.toXY(position)) };
    case "Polygon":
    case "MultiPolygon":
      return { kind: "area", area: toAreaXY(plane, geometry) };
  }
}

export function toLineString(plane: Plane, points: readonly PointXY[]): LineStringLike {
  return { type: "LineString", coordinates: points.map((point) => roundPosition(plane.toPosition(point))) };
}

/** RFC 7946: outer rings counter-clockwise, holes clockwise, first position repeated at the end; 7 decimals are 11 mm. */
export function toMultiPolygon(plane: Plane, area: AreaXY): MultiPolygonGeometry {
  const toPolygon = (polygon: PolygonXY) =>
    withStandardTurn(polygon).map((ring) => {
      const positions = ring.map((point) => roundPosition(plane.toPosition(point)));
      const kept = positions.filter((position, i) => !isSame(position, positions[(i + 1) % positions.length]!));
      const [lonDeg, latDeg] = kept[0] ?? positions[0]!;
      return [...kept, [lonDeg, latDeg] as [number, number]];
    });
  return { type: "MultiPolygon", coordinates: area.map(toPolygon) };
}

/** Centre of gravity of an area geometry, in degrees. */
export function geometryCentroidLonLat(geometry: AreaLike): [lonDeg: number, latDeg: number] {
  const first = geometry.type === "Polygon" ? geometry.coordinates[0]?.[0] : geometry.coordinates[0]?.[0]?.[0];
  if (first === undefined) throw new RangeError("a geometry without positions has no centroid");
  // The second time the plane touches the ground inside the area, which is where it is true.
  return centroidIn(centroidIn(first));

  function centroidIn([lonDeg, latDeg]: LonLat): [number, number] {
    const plane = createPlane(lonDeg, latDeg);
    return plane.toPosition(centroid(toAreaXY(plane, geometry)));
  }
}

/** The plane that touches the ground at the centre of the area. */
export function planeOf(geometry: AreaLike): Plane {
  return createPlane(...geometryCentroidLonLat(geometry));
}

function toRing(plane: Plane, positions: readonly LonLat[]): Ring {
  const points = positions.map((position): PointXY => plane.toXY(position));
  return points.filter((point, i) => !isSame(point, points[(i + 1) % points.length]!));
}

function isSame(a: readonly [number, number], b: readonly [number, number]): boolean {
  return a[0] === b[0] && a[1] === b[1];
}

function roundPosition([lonDeg, latDeg]: [number, number]): [number, number] {
  return [Math.round(lonDeg * 1e7) / 1e7, Math.round(latDeg * 1e7) / 1e7];
}
