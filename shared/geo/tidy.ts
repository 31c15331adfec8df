import { areaM2 } from "./area.ts";
import { distanceM } from "./distance.ts";
import type { AreaXY, PointXY, PolygonXY, Ring } from "./plane.ts";

/** Corners nearer to each other than this are one. */
const leastEdgeM = 0.05;
/** Narrower than this is what rounding leaves along an outline: positions with 7 decimals lie up to 8 mm off on either side. */
const sliverM = 0.04;

/** Ground without what rounded positions leave where one piece was cut from another: slivers, and edges of millimetres that run forth and back, which no clipping is good at. */
export function tidy(area: AreaXY): AreaXY {
  return area.map((polygon) => polygon.map(withoutSpikes)).filter((polygon) => !isSliver(polygon));
}

function withoutSpikes(ring: Ring): Ring {
  const kept: PointXY[] = [];
  for (const point of ring) {
    if (kept.length === 0 || distanceM(kept.at(-1)!, point) >= leastEdgeM) kept.push(point);
  }
  while (kept.length > 3 && distanceM(kept[0]!, kept.at(-1)!) < leastEdgeM) kept.pop();
  return kept;
}

function isSliver(polygon: PolygonXY): boolean {
  const lengthM = polygon
    .flatMap((ring) => ring.map((point, at) => [point, ring[(at + 1) % ring.length]!] as const))
    .reduce((sum, [from, to]) => sum + distanceM(from, to), 0);
  return polygon[0]!.length < 3 || areaM2([polygon]) <= (lengthM / 2) * sliverM;
}
