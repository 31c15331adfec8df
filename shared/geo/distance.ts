import { contains, segmentsMeet } from "./area.ts";
import type { AreaXY, LonLat, PointXY, Ring } from "./plane.ts";
import type { ShapeXY } from "./shape.ts";

/** Mean radius (2a + b) / 3 of GRS 80: Moritz, Geodetic Reference System 1980, Journal of Geodesy 74 (2000). */
const meanRadiusKm = 6371.0088;
const radPerDeg = Math.PI / 180;

/** Great circle by the haversine formula, which keeps its digits over short distances. */
export function greatCircleKm(from: LonLat, to: LonLat): number {
  return haversineKm(from, cosineOfLat(from), to, cosineOfLat(to));
}

/** The same where many distances are wanted and the cosines are at hand. */
export function haversineKm(from: LonLat, cosineFrom: number, to: LonLat, cosineTo: number): number {
  const north = Math.sin(((to[1] - from[1]) * radPerDeg) / 2);
  const east = Math.sin(((to[0] - from[0]) * radPerDeg) / 2);
  const chordSquared = north * north + cosineFrom * cosineTo * east * east;
  return 2 * meanRadiusKm * Math.asin(Math.min(1, Math.sqrt(chordSquared)));
}

export function cosineOfLat(position: LonLat): number {
  return Math.cos(position[1] * radPerDeg);
}

/** A position on the same sphere, from its centre. Two of them are never farther apart, straight through the earth, than the great circle. */
export function onSphereKm([lonDeg, latDeg]: LonLat): readonly [xKm: number, yKm: number, zKm: number] {
  const lonRad = lonDeg * radPerDeg;
  const latRad = latDeg * radPerDeg;
  const outKm = meanRadiusKm * Math.cos(latRad);
  return [outKm * Math.cos(lonRad), outKm * Math.sin(lonRad), meanRadiusKm * Math.sin(latRad)];
}

export function distanceM(a: PointXY, b: PointXY): number {
  return lengthOfM(b[0] - a[0], b[1] - a[1]);
}

/** As Math.hypot to the last digit, which is ten times as slow and is asked for at every turn. */
export function lengthOfM(eastM: number, northM: number): number {
  const longM = Math.max(Math.abs(eastM), Math.abs(northM));
  if (longM === 0) return 0;
  const share = Math.min(Math.abs(eastM), Math.abs(northM)) / longM;
  return longM * Math.sqrt(1 + share * share);
}

/** Direction from one point to another, degrees clockwise from north, [0, 360). */
export function bearingDeg([axM, ayM]: PointXY, [bxM, byM]: PointXY): number {
  const angleDeg = (Math.atan2(bxM - axM, byM - ayM) * 180) / Math.PI;
  return angleDeg < 0 ? angleDeg + 360 : angleDeg;
}

export interface Nearest {
  readonly point: PointXY;
  readonly distanceM: number;
}

/** The point of the place that is nearest to the given one; inside an area that is the point itself. */
export function nearestOnShape(point: PointXY, shape: ShapeXY): Nearest {
  if (shape.kind === "point") return { point: shape.point, distanceM: distanceM(point, shape.point) };
  if (shape.kind === "line") return nearestOnEdges(point, edgesOfLine(shape.points));
  if (contains(shape.area, point)) return { point, distanceM: 0 };
  return nearestOnEdges(point, edgesOfArea(shape.area));
}

/** Least distance between an area and a place; 0 when they share ground. */
export function distanceToShapeM(area: AreaXY, shape: ShapeXY): number {
  if (aPointOfEachPart(shape).some((point) => contains(area, point))) return 0;
  if (shape.kind === "area" && aPointOfEachPart({ kind: "area", area }).some((point) => contains(shape.area, point))) {
    return 0;
  }
  const mine = edgesOfArea(area);
  if (shape.kind === "point") return nearestOnEdges(shape.point, mine).distanceM;
  const theirs = shape.kind === "line" ? edgesOfLine(shape.points) : edgesOfArea(shape.area);
  let leastM = Number.POSITIVE_INFINITY;
  for (const [a, b] of mine) {
    for (const [c, d] of theirs) {
      if (segmentsMeet(a, b, c, d)) return 0;
      leastM = Math.min(
        leastM,
        distanceM(a, nearestOnSegment(a, c, d)),
        distanceM(b, nearestOnSegment(b, c, d)),
        distanceM(c, nearestOnSegment(c, a, b)),
        distanceM(d, nearestOnSegment(d, a, b)),
      );
    }
  }
  return leastM;
}

type Edge = readonly [from: PointXY, to: PointXY];

function edgesOfLine(points: readonly PointXY[]): Edge[] {
  return points.slice(1).map((to, index): Edge => [points[index]!, to]);
}

function edgesOfArea(area: AreaXY): Edge[] {
  const edgesOfRing = (ring: Ring) => ring.map((from, index): Edge => [from, ring[(index + 1) % ring.length]!]);
  return area.flat().flatMap(edgesOfRing);
}

/** What lies wholly inside an area meets none of its edges, but each of its points tells so. */
function aPointOfEachPart(shape: ShapeXY): PointXY[] {
  const starts =
    shape.kind === "point"
      ? [shape.point]
      : shape.kind === "line"
        ? shape.points.slice(0, 1)
        : shape.area.flatMap(([outerRing]) => outerRing?.slice(0, 1) ?? []);
  if (starts.length === 0) throw new RangeError("a shape without points is nowhere");
  return starts;
}

function nearestOnEdges(point: PointXY, edges: readonly Edge[]): Nearest {
  let nearest: Nearest | undefined;
  for (const [from, to] of edges) {
    const candidate = nearestOnSegment(point, from, to);
    const candidateM = distanceM(point, candidate);
    if (nearest === undefined || candidateM < nearest.distanceM) nearest = { point: candidate, distanceM: candidateM };
  }
  if (nearest === undefined) throw new RangeError("a shape without edges is nowhere");
  return nearest;
}

function nearestOnSegment(point: PointXY, a: PointXY, b: PointXY): PointXY {
  const dxM = b[0] - a[0];
  const dyM = b[1] - a[1];
  const lengthSquared = dxM * dxM + dyM * dyM;
  const along = lengthSquared === 0 ? 0 : ((point[0] - a[0]) * dxM + (point[1] - a[1]) * dyM) / lengthSquared;
  const share = Math.max(0, Math.min(1, along));
  return [a[0] + share * dxM, a[1] + share * dyM];
}
