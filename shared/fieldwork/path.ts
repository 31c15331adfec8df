import { distanceM } from "../geo/distance.ts";
import type { PointXY } from "../geo/plane.ts";
import type { PassSegment } from "../geo/swath.ts";

/** A piece that is flown with the gear on, and how the aircraft comes to it from the piece before. */
export interface Leg extends PassSegment {
  readonly turns: number;
  /** Flown beyond what a turn to the neighbouring pass takes. */
  readonly hopM: number;
}

/**
 * Pieces in the order and direction flown. Pieces of neighbouring passes that lie side by side, with no other beside them, form one
 * arm of the field, flown forth and back (cells of a boustrophedon decomposition: Choset and Pignon, Coverage path planning: the
 * boustrophedon cellular decomposition, 1998); from the end of an arm the aircraft goes on to the nearest end of those that are left.
 * Begun at whichever end of the first or the last arm makes the shortest way, from where the aircraft comes from if that is given.
 */
export function inFlyingOrder(segments: readonly PassSegment[], comesFrom?: PointXY): PassSegment[] {
  if (segments.length === 0) return [];
  if (!isParted(segments)) return shortest(waysThrough(segments).map(flown), comesFrom);
  const arms = armsOf(segments);
  // Headings of a line have no front: counted from the other side, the first is the last.
  const ends = arms.filter((arm) => arm.includes(segments[0]!) || arm.includes(segments[segments.length - 1]!));
  return shortest(
    ends.flatMap((end) => {
      const left = arms.filter((arm) => arm !== end);
      return waysThrough(end).map((way) => byNearestEnd(way, left));
    }),
    comesFrom,
  );
}

function shortest(orders: readonly PassSegment[][], comesFrom: PointXY | undefined): PassSegment[] {
  let best = orders[0]!;
  let bestM = Number.POSITIVE_INFINITY;
  for (const order of orders) {
    let awayM = comesFrom === undefined ? 0 : distanceM(comesFrom, order[0]!.from);
    for (let index = 1; index < order.length; index++) awayM += distanceM(order[index - 1]!.to, order[index]!.from);
    if (awayM >= bestM) continue;
    best = order;
    bestM = awayM;
  }
  return best;
}

function isParted(segments: readonly PassSegment[]): boolean {
  return segments.some(({ pass }, index) => index > 0 && segments[index - 1]!.pass === pass);
}

/** Chains of pieces, each the only one beside the piece before it. */
function armsOf(segments: readonly PassSegment[]): (readonly PassSegment[])[] {
  const byPass = new Map<number, PassSegment[]>();
  for (const segment of segments) {
    const others = byPass.get(segment.pass);
    if (others) others.push(segment);
    else byPass.set(segment.pass, [segment]);
  }
  const armOf = new Map<PassSegment, PassSegment[]>();
  const arms: PassSegment[][] = [];
  for (const segment of segments) {
    const before = besides(segment, byPass.get(segment.pass - 1));
    const only =
      before.length === 1 && besides(before[0]!, byPass.get(segment.pass)).length === 1 ? before[0] : undefined;
    const arm = only && armOf.get(only);
    if (arm === undefined) arms.push([segment]);
    else arm.push(segment);
    armOf.set(segment, arm ?? arms[arms.length - 1]!);
  }
  return arms;
}

/** Pieces of another pass that share some of the length with the piece. */
function besides({ from, to, lengthM }: PassSegment, others: readonly PassSegment[] = []): PassSegment[] {
  const [uX, uY] = [(to[0] - from[0]) / lengthM, (to[1] - from[1]) / lengthM];
  const alongM = ([xM, yM]: PointXY) => (xM - from[0]) * uX + (yM - from[1]) * uY;
  return others.filter((other) => alongM(other.from) < lengthM && alongM(other.to) > 0);
}

/** From either side of an arm, and along its first piece in either direction. */
interface Way {
  readonly arm: readonly PassSegment[];
  readonly isFromLast: boolean;
  readonly isFlipped: boolean;
}

function waysThrough(arm: readonly PassSegment[]): Way[] {
  return [false, true].flatMap((isFromLast) => [false, true].map((isFlipped) => ({ arm, isFromLast, isFlipped })));
}

function entryOf({ arm, isFromLast, isFlipped }: Way): PointXY {
  const first = isFromLast ? arm[arm.length - 1]! : arm[0]!;
  return isFlipped ? first.to : first.from;
}

function flown({ arm, isFromLast, isFlipped }: Way): PassSegment[] {
  const pieces = isFromLast ? arm.toReversed() : arm;
  return pieces.map((piece, index) => ((index % 2 === 1) === isFlipped ? piece : flipped(piece)));
}

function byNearestEnd(first: Way, others: readonly (readonly PassSegment[])[]): PassSegment[] {
  const order = flown(first);
  let ways = others.flatMap(waysThrough);
  while (ways.length > 0) {
    const { to } = order[order.length - 1]!;
    let next = ways[0]!;
    let nextM = Number.POSITIVE_INFINITY;
    for (const way of ways) {
      const awayM = distanceM(to, entryOf(way));
      if (awayM >= nextM) continue;
      next = way;
      nextM = awayM;
    }
    ways = ways.filter(({ arm }) => arm !== next.arm);
    order.push(...flown(next));
  }
  return order;
}

export function flipped({ pass, from, to, lengthM }: PassSegment): PassSegment {
  return { pass, from: to, to: from, lengthM };
}

/** Every piece after the first is reached by a turn and, when it is farther than the next pass, a hop. */
export function pathOf(pieces: readonly (PassSegment & Partial<Leg>)[], swathM: number): Leg[] {
  return pieces.map((piece, index) => {
    const { pass, from, to, lengthM } = piece;
    if (index === 0) return { pass, from, to, lengthM, turns: 0, hopM: 0 };
    const awayM = distanceM(pieces[index - 1]!.to, from);
    return { pass, from, to, lengthM, turns: piece.turns ?? 1, hopM: Math.max(0, awayM - swathM) };
  });
}
