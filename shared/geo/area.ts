import type { AreaXY, PointXY, PolygonXY, Ring } from "./plane.ts";

/** Area of a ring by the shoelace formula; positive when it runs counter-clockwise. */
export function signedRingAreaM2(ring: Ring): number {
  if (ring.length < 3) return 0;
  // Relative to the first point, so that a ring far from the origin keeps its digits.
  const first = ring[0]!;
  let twiceM2 = 0;
  for (let i = 1; i + 1 < ring.length; i++) twiceM2 += turnOf(first, ring[i]!, ring[i + 1]!);
  return twiceM2 / 2;
}

export function isCounterClockwise(ring: Ring): boolean {
  return signedRingAreaM2(ring) > 0;
}

/** The polygon with its outer ring counter-clockwise and its holes clockwise. */
export function withStandardTurn(polygon: PolygonXY): PolygonXY {
  return polygon.map((ring, index) => (isCounterClockwise(ring) === (index === 0) ? ring : ring.toReversed()));
}

function polygonAreaM2(polygon: PolygonXY): number {
  return polygon.reduce((sumM2, ring, index) => {
    const ringM2 = Math.abs(signedRingAreaM2(ring));
    return index === 0 ? ringM2 : sumM2 - ringM2;
  }, 0);
}

export function areaM2(area: AreaXY): number {
  return area.reduce((sumM2, polygon) => sumM2 + polygonAreaM2(polygon), 0);
}

/** Centre of gravity. An area without extent has its first point as centre. */
export function centroid(area: AreaXY): PointXY {
  const start = area[0]?.[0]?.[0];
  if (start === undefined) throw new RangeError("an empty area has no centroid");
  const [x0M, y0M] = start;
  let sixM2 = 0;
  let momentX = 0;
  let momentY = 0;
  for (const polygon of area) {
    for (const ring of withStandardTurn(polygon)) {
      for (let i = 0; i < ring.length; i++) {
        const [axM, ayM] = ring[i]!;
        const [bxM, byM] = ring[(i + 1) % ring.length]!;
        const cross = (axM - x0M) * (byM - y0M) - (bxM - x0M) * (ayM - y0M);
        sixM2 += 3 * cross;
        momentX += cross * (axM + bxM - 2 * x0M);
        momentY += cross * (ayM + byM - 2 * y0M);
      }
    }
  }
  return sixM2 === 0 ? start : [x0M + momentX / sixM2, y0M + momentY / sixM2];
}

/** Whether the point lies in the area, by the parity of crossings to the east; on an edge either answer may come. */
export function contains(area: AreaXY, [xM, yM]: PointXY): boolean {
  return area.some((polygon) => {
    let inside = false;
    for (const ring of polygon) {
      for (let i = 0; i < ring.length; i++) {
        const a = ring[i]!;
        const b = ring[i + 1 < ring.length ? i + 1 : 0]!;
        if (a[1] > yM !== b[1] > yM && xM < a[0] + ((yM - a[1]) / (b[1] - a[1])) * (b[0] - a[0])) inside = !inside;
      }
    }
    return inside;
  });
}

/** Twice the area of the triangle, positive when it turns left. */
export function turnOf(a: PointXY, b: PointXY, c: PointXY): number {
  return (b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1]);
}

/** Whether c, known to lie on the line through a and b, lies between them. */
function isBetween([axM, ayM]: PointXY, [bxM, byM]: PointXY, [cxM, cyM]: PointXY): boolean {
  return (
    Math.min(axM, bxM) <= cxM && cxM <= Math.max(axM, bxM) && Math.min(ayM, byM) <= cyM && cyM <= Math.max(ayM, byM)
  );
}

/** Whether the segments ab and cd share a point. */
export function segmentsMeet(a: PointXY, b: PointXY, c: PointXY, d: PointXY): boolean {
  const c1 = Math.sign(turnOf(a, b, c));
  const d1 = Math.sign(turnOf(a, b, d));
  const a1 = Math.sign(turnOf(c, d, a));
  const b1 = Math.sign(turnOf(c, d, b));
  if (c1 !== d1 && a1 !== b1 && c1 * d1 <= 0 && a1 * b1 <= 0) return true;
  return (
    (c1 === 0 && isBetween(a, b, c)) ||
    (d1 === 0 && isBetween(a, b, d)) ||
    (a1 === 0 && isBetween(c, d, a)) ||
    (b1 === 0 && isBetween(c, d, b))
  );
}

/** Whether the ring crosses or touches itself, or folds back on itself. Points repeated in a row do not count. */
export function selfIntersects(ring: Ring): boolean {
  const points = ring.filter((point, i) => {
    const [xM, yM] = ring[(i + 1) % ring.length]!;
    return point[0] !== xM || point[1] !== yM;
  });
  const count = points.length;
  if (count < 3) return true;
  const edges = points
    .map((from, index) => {
      const to = points[(index + 1) % count]!;
      return { index, from, to, minXM: Math.min(from[0], to[0]), maxXM: Math.max(from[0], to[0]) };
    })
    .sort((p, q) => p.minXM - q.minXM);
  for (let i = 0; i < count; i++) {
    const p = edges[i]!;
    for (let j = i + 1; j < count && edges[j]!.minXM <= p.maxXM; j++) {
      const q = edges[j]!;
      if ((p.index + 1) % count === q.index) {
        if (foldsBack(p.from, p.to, q.to)) return true;
      } else if ((q.index + 1) % count === p.index) {
        if (foldsBack(q.from, q.to, p.to)) return true;
      } else if (segmentsMeet(p.from, p.to, q.from, q.to)) return true;
    }
  }
  return false;
}

function foldsBack(a: PointXY, b: PointXY, c: PointXY): boolean {
  return turnOf(a, b, c) === 0 && (a[0] - b[0]) * (c[0] - b[0]) + (a[1] - b[1]) * (c[1] - b[1]) > 0;
}
