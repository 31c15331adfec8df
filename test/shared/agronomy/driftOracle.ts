import { contains } from "../../../shared/geo/area.ts";
import { geometryCentroidLonLat, toAreaXY, toShapeXY } from "../../../shared/geo/convert.ts";
import { bearingDeg, distanceToShapeM, nearestOnShape } from "../../../shared/geo/distance.ts";
import { type AreaXY, createPlane, type PointXY } from "../../../shared/geo/plane.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import type { Order } from "../../../shared/model/order.ts";
import type { WeatherStep } from "../../../shared/model/weather.ts";

const fromFinest = ["XF", "VF", "F", "M", "C", "VC", "XC", "UC"];

/** Every corner and every point that cuts an edge into ceil(length / 5 m) equal pieces. */
function outlineOf(area: AreaXY): PointXY[] {
  const points: PointXY[] = [];
  for (const ring of area.flat()) {
    for (let i = 0; i < ring.length; i++) {
      const [aXM, aYM] = ring[i]!;
      const [bXM, bYM] = ring[(i + 1) % ring.length]!;
      const pieces = Math.ceil(Math.hypot(bXM - aXM, bYM - aYM) / 5);
      for (let k = 0; k <= pieces; k++) {
        points.push([aXM + ((bXM - aXM) * k) / pieces, aYM + ((bYM - aYM) * k) / pieces]);
      }
    }
  }
  return points;
}

/** How far inside the area a point lies; negative outside. */
function insideM(area: AreaXY, point: PointXY): number {
  const edgeM = Math.min(
    ...area.flat().map((ring) => nearestOnShape(point, { kind: "line", points: [...ring, ring[0]!] }).distanceM),
  );
  return contains(area, point) ? edgeM : -edgeM;
}

/**
 * Whether ground where the figure is positive has at least so much area, the figure changing by no more than one from one metre to the
 * next: squares are quartered until it tells of all of a square, down to 5 cm.
 */
function hasArea(figureAt: (point: PointXY) => number, middle: PointXY, sideM: number, leastM2: number): boolean {
  let foundM2 = 0;
  const search = ([xM, yM]: PointXY, sideM: number): void => {
    if (foundM2 >= leastM2) return;
    const figure = figureAt([xM, yM]);
    const toCornerM = sideM / Math.SQRT2;
    if (figure <= -toCornerM) return;
    if (figure >= toCornerM || sideM < 0.05) {
      if (figure > 0) foundM2 += sideM ** 2;
      return;
    }
    for (const east of [-1, 1])
      for (const north of [-1, 1]) search([xM + (east * sideM) / 4, yM + (north * sideM) / 4], sideM / 2);
  };
  search(middle, sideM);
  return foundM2 >= leastM2;
}

/**
 * Rows `drift` and `driftNear` of the table in DEVELOPERS.md: which of them the wind of a step stops, for the part that waits
 * longest. Every point of the outline is asked again for every wind.
 */
export function driftOracle(operation: Operation, order: Order) {
  const { driftAngleDeg, windVariableBelowKph } = operation.settings.limits;
  const { geometry: fieldGeometry } = operation.fields.features.find(
    ({ properties }) => properties.id === order.fieldId,
  )!;
  const plane = createPlane(...geometryCentroidLonLat(fieldGeometry));
  const area = toAreaXY(plane, fieldGeometry);
  const outline = outlineOf(area);
  const products = order.products.map(({ productId }) => operation.products.find(({ id }) => id === productId)!);
  const finestOfLabels = products.map(({ dropletFinest }) => fromFinest.indexOf(dropletFinest ?? "XF"));
  const sprayed = order.dropletClass ? fromFinest.indexOf(order.dropletClass) : Math.max(...finestOfLabels);

  /** Every pair of a buffer in force and a place of its kind. */
  const pairs = products.flatMap(({ buffers }) =>
    buffers
      .filter(({ onlyFinerThan }) => !onlyFinerThan || sprayed < fromFinest.indexOf(onlyFinerThan))
      .flatMap((buffer) =>
        operation.sensitive.features
          .filter(({ properties }) => properties.kind === buffer.kind)
          .map(({ geometry, properties }) => ({
            buffer,
            shape: toShapeXY(plane, geometry),
            radiusM: geometry.type === "Point" ? properties.radiusM : 0,
          })),
      ),
  );
  const sparing = pairs.filter(
    ({ buffer }) => buffer.downwindOnly && buffer.downwindRule === "sparesPart" && order.maySplit,
  );
  const fixed = pairs.filter(({ buffer }) => !buffer.downwindOnly);
  /** How far the point lies beyond the buffer. */
  const beyondM = (point: PointXY) => (pair: (typeof pairs)[number]) =>
    nearestOnShape(point, pair.shape).distanceM - pair.radiusM - pair.buffer.distanceM;
  // Treated ground is inside the field and beyond every fixed buffer; near ground is within some that spares a part.
  const nearM = (point: PointXY) =>
    Math.min(
      insideM(area, point),
      ...fixed.map(beyondM(point)),
      Math.max(...sparing.map((pair) => -beyondM(point)(pair))),
    );
  const reachM = Math.max(...outline.map(([xM, yM]) => Math.max(Math.abs(xM), Math.abs(yM))));
  const hasNear = sparing.length > 0 && hasArea(nearM, [0, 0], 2 * reachM, 0.1);

  const limitsOf = ({ windKph, windFromDeg }: Pick<WeatherStep, "windKph" | "windFromDeg">): string[] => {
    const stopped = new Set<string>();
    for (const pair of pairs) {
      const { buffer, shape, radiusM } = pair;
      if (!buffer.downwindOnly) continue;
      const awayM = distanceToShapeM(area, shape) - radiusM;
      // Some of the field lies inside the place: every wind blows towards it.
      const isInside = awayM <= 0;
      const isVariable = windKph < windVariableBelowKph && awayM < buffer.distanceM;
      const isReached = outline.some((point) => {
        const nearest = nearestOnShape(point, shape);
        if (nearest.distanceM - radiusM >= buffer.distanceM) return false;
        const turnDeg = Math.abs(((bearingDeg(point, nearest.point) - (windFromDeg + 180) + 900) % 360) - 180);
        return turnDeg <= driftAngleDeg;
      });
      if (!isInside && !isVariable && !isReached) continue;
      if (!sparing.includes(pair)) stopped.add("drift");
      else if (hasNear) stopped.add("driftNear");
    }
    return [...stopped];
  };
  /** Whether a buffer that spares a part reaches the field, but no treated ground. */
  const isNearFieldOnly =
    !hasNear &&
    sparing.some(({ buffer, shape, radiusM }) => distanceToShapeM(area, shape) - radiusM < buffer.distanceM);
  return { limitsOf, isNearFieldOnly };
}
