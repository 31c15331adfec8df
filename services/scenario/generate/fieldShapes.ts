import { contains } from "../../../shared/geo/area.ts";
import type { PointXY, Ring } from "../../../shared/geo/plane.ts";
import type { Random } from "./random.ts";
import { distanceToRingM, fieldRing, moved, ovalRing, reachM, turned } from "./shapes.ts";

export interface PolygonShape {
  readonly outer: Ring;
  readonly holes: readonly Ring[];
}

/** A field on the metre plane: its polygons and the places beside it where aircraft land. */
export interface FieldShape {
  readonly polygons: readonly PolygonShape[];
  readonly pads: readonly PointXY[];
  readonly centre: PointXY;
  /** Everything, pads too, lies within this distance of the centre. */
  readonly radiusM: number;
}

export interface ShapeWishes {
  readonly areaHa: number;
  readonly holes: number;
  readonly parts: 1 | 2;
  readonly pads: 1 | 2;
  /** Direction of the long side, counterclockwise from east. */
  readonly angleRad: number;
}

export function moveField(shape: FieldShape, by: PointXY): FieldShape {
  return {
    polygons: shape.polygons.map(({ outer, holes }) => ({
      outer: moved(outer, by),
      holes: holes.map((hole) => moved(hole, by)),
    })),
    pads: moved(shape.pads, by),
    centre: [shape.centre[0] + by[0], shape.centre[1] + by[1]],
    radiusM: shape.radiusM,
  };
}

/** A field around the origin. */
export function makeFieldShape(random: Random, wishes: ShapeWishes): FieldShape {
  const outers = layParts(random, wishes).map((ring) => turned(ring, wishes.angleRad));
  const polygons = outers.map((outer, index) => ({
    outer,
    holes: index === 0 ? makeHoles(random, outer, wishes.holes, wishes.areaHa) : [],
  }));
  const pads = layPads(random, outers, wishes.pads);
  return { polygons, pads, centre: [0, 0], radiusM: Math.max(...outers.map(reachM), reachM(pads)) };
}

/** Two parts lie end to end with a track between them. */
function layParts(random: Random, { areaHa, parts }: ShapeWishes): Ring[] {
  if (parts === 1) return [fieldRing(random, areaHa * 10_000)];
  const share = random.between(0.35, 0.65);
  const west = fieldRing(random, share * areaHa * 10_000);
  const east = fieldRing(random, (1 - share) * areaHa * 10_000);
  const westEndX = Math.max(...west.map(([x]) => x));
  const eastStartX = Math.min(...east.map(([x]) => x));
  const trackM = random.between(8, 25);
  const shiftM = (westEndX + trackM - eastStartX) / 2;
  return [moved(west, [-shiftM, 0]), moved(east, [shiftM, 0])];
}

/** Obstacles: a pond, a pylon, a copse. One that finds no room is left out. */
function makeHoles(random: Random, outer: Ring, count: number, areaHa: number): Ring[] {
  const reach = reachM(outer);
  const holes: { centre: PointXY; radiusM: number; ring: Ring }[] = [];
  for (let attempt = 0; attempt < 40 * count && holes.length < count; attempt++) {
    const ring = ovalRing(
      random,
      random.between(0.004, 0.02) * areaHa * 10_000,
      random.between(1, 1.6),
      random.whole(6, 10),
    );
    const radiusM = reachM(ring);
    const centre: PointXY = [random.between(-reach, reach) * 0.7, random.between(-reach, reach) * 0.7];
    const roomy = contains([[outer]], centre) && distanceToRingM(centre, outer) > radiusM + 15;
    const apart = holes.every(
      (hole) => Math.hypot(hole.centre[0] - centre[0], hole.centre[1] - centre[1]) > hole.radiusM + radiusM + 15,
    );
    if (roomy && apart) holes.push({ centre, radiusM, ring: moved(ring, centre) });
  }
  return holes.map(({ ring }) => ring);
}

/** Pads lie a few metres outside the middle of a side; the second as far as can be from the first. */
function layPads(random: Random, outers: readonly Ring[], count: 1 | 2): PointXY[] {
  const places = outers.flatMap((outer) =>
    outer.flatMap(([x, y], index): PointXY[] => {
      const [nextX, nextY] = outer[(index + 1) % outer.length]!;
      const length = Math.hypot(nextX - x, nextY - y);
      const offM = random.between(6, 16);
      // Outer rings run counterclockwise: the outside is to the right of a side.
      const place: PointXY = [
        (x + nextX) / 2 + ((nextY - y) / length) * offM,
        (y + nextY) / 2 - ((nextX - x) / length) * offM,
      ];
      const clear = outers.every((ring) => !contains([[ring]], place) && distanceToRingM(place, ring) > 4);
      return length > 12 && clear ? [place] : [];
    }),
  );
  const first = random.pick(places);
  if (count === 1) return [first];
  const fromFirst = ([x, y]: PointXY) => Math.hypot(x - first[0], y - first[1]);
  return [first, places.reduce((far, place) => (fromFirst(place) > fromFirst(far) ? place : far))];
}
