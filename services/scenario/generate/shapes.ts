import { signedRingAreaM2 } from "../../../shared/geo/area.ts";
import { nearestOnShape } from "../../../shared/geo/distance.ts";
import type { PointXY, Ring } from "../../../shared/geo/plane.ts";
import type { Random } from "./random.ts";

export function moved(ring: Ring, [dx, dy]: PointXY): Ring {
  return ring.map(([x, y]) => [x + dx, y + dy]);
}

export function turned(ring: Ring, angleRad: number): Ring {
  const cos = Math.cos(angleRad);
  const sin = Math.sin(angleRad);
  return ring.map(([x, y]) => [x * cos - y * sin, x * sin + y * cos]);
}

/** Greatest distance of a corner from the origin. */
export function reachM(ring: Ring): number {
  return Math.max(...ring.map(([x, y]) => Math.hypot(x, y)));
}

/** From a point on either side of the ring. */
export function distanceToRingM(point: PointXY, ring: Ring): number {
  return nearestOnShape(point, { kind: "line", points: [...ring, ring[0]!] }).distanceM;
}

function scaledTo(ring: Ring, areaM2: number): Ring {
  const factor = Math.sqrt(areaM2 / signedRingAreaM2(ring));
  return ring.map(([x, y]) => [x * factor, y * factor]);
}

/** An oval with a wavy edge. Every ray from the middle meets the edge once, so it cannot cross itself. */
export function ovalRing(random: Random, areaM2: number, aspect: number, corners: number): Ring {
  const waves = [2, 3, 5].map((order) => ({
    order,
    height: random.between(0.02, 0.32 / order),
    phase: random.between(0, 2 * Math.PI),
  }));
  const ring = Array.from({ length: corners }, (_, index): PointXY => {
    const angle = (2 * Math.PI * (index + random.between(-0.25, 0.25))) / corners;
    const radius = waves.reduce((sum, { order, height, phase }) => sum + height * Math.cos(order * angle + phase), 1);
    return [aspect * radius * Math.cos(angle), radius * Math.sin(angle)];
  });
  return scaledTo(ring, areaM2);
}

/** A parcel of four corners, its sides out of true and bent at a point or two. */
function parcelRing(random: Random, areaM2: number, aspect: number): Ring {
  const jitter = () => random.between(-0.24, 0.24);
  const corner = (x: number, y: number): PointXY => [aspect * (x + jitter()), y + jitter()];
  const bend = (x: number, y: number): PointXY[] =>
    random.chance(0.6) ? [[aspect * (x + 0.6 * jitter()), y + 0.6 * jitter()]] : [];
  const ring = [
    corner(-1, -1),
    ...bend(0, -1),
    corner(1, -1),
    ...bend(1, 0),
    corner(1, 1),
    ...bend(0, 1),
    corner(-1, 1),
    ...bend(-1, 0),
  ];
  return scaledTo(ring, areaM2);
}

/** An L: a parcel with a quarter taken by somebody else. */
function notchedRing(random: Random, areaM2: number, aspect: number): Ring {
  const cutX = random.between(-0.1, 0.5);
  const cutY = random.between(-0.1, 0.4);
  const jitter = () => random.between(-0.12, 0.12);
  const corner = (x: number, y: number): PointXY => [aspect * (x + jitter()), y + jitter()];
  const ring = [corner(-1, -1), corner(1, -1), corner(1, cutY), corner(cutX, cutY), corner(cutX, 1), corner(-1, 1)];
  return scaledTo(ring, areaM2);
}

/** A strip that follows a bend of the river: upper and lower edge over the same stations, so it cannot cross itself. */
function bendRing(random: Random, areaM2: number, aspect: number): Ring {
  const bow = random.between(-0.9, 0.9);
  const stations = 9;
  const edge = (side: number) =>
    Array.from({ length: stations }, (_, index): PointXY => {
      const t = index / (stations - 1) - 0.5;
      const halfWidth = 0.5 * (0.75 + 0.5 * Math.cos(Math.PI * t)) * random.between(0.9, 1.1);
      return [2 * aspect * t, bow * (1 - 4 * t * t) + side * halfWidth];
    });
  const ring = [...edge(-1), ...edge(1).reverse()];
  const middleY = ring.reduce((sum, [, y]) => sum + y, 0) / ring.length;
  return scaledTo(moved(ring, [0, -middleY]), areaM2);
}

export function fieldRing(random: Random, areaM2: number): Ring {
  const kind = random.weighted([
    ["oval", 4],
    ["parcel", 5],
    ["notched", 2],
    ["bend", 2],
  ] as const);
  switch (kind) {
    case "oval":
      return ovalRing(random, areaM2, random.between(1, 2), random.whole(11, 26));
    case "parcel":
      return parcelRing(random, areaM2, random.between(1, 2.6));
    case "notched":
      return notchedRing(random, areaM2, random.between(1, 1.7));
    case "bend":
      return bendRing(random, areaM2, random.between(1.6, 2.6));
  }
}
