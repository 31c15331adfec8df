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
  if (!isParted(segments)) {
    return shortest(
      waysThrough(segments).map((way) => [way]),
      comesFrom,
    );
  }
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

/** The pieces of the order with the shortest way between them. */
function shortest(orders: readonly (readonly Way[])[], comesFrom: PointXY | undefined): PassSegment[] {
  let best = orders[0]!;
  let bestM = Number.POSITIVE_INFINITY;
  for (const order of orders) {
    const awayM = awayAlongM(order, comesFrom, bestM);
    if (awayM >= bestM) continue;
    best = order;
    bestM = awayM;
  }
  return best.flatMap(flown);
}

/** The way between pieces; not followed beyond a most. */
function awayAlongM(order: readonly Way[], comesFrom: PointXY | undefined, mostM: number): number {
  let awayM = 0;
  let at = comesFrom;
  for (const way of order) {
    for (let index = 0; index < way.arm.length && awayM < mostM; index++) {
      if (at !== undefined) awayM += distanceM(at, beginOf(way, index));
      at = endOf(way, index);
    }
  }
  return awayM;
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
    const before = onlyBeside(segment, byPass.get(segment.pass - 1));
    const only = before && onlyBeside(before, byPass.get(segment.pass)) && before;
    const arm = only && armOf.get(only);
    if (arm === undefined) arms.push([segment]);
    else arm.push(segment);
    armOf.set(segment, arm ?? arms[arms.length - 1]!);
  }
  return arms;
}

/** The piece of another pass that shares some of the length with the piece, if there is one and no other. */
function onlyBeside(
  { from, to, lengthM }: PassSegment,
  others: readonly PassSegment[] | undefined,
): PassSegment | undefined {
  if (others === undefined) return undefined;
  const uX = (to[0] - from[0]) / lengthM;
  const uY = (to[1] - from[1]) / lengthM;
  let only: PassSegment | undefined;
  for (const other of others) {
    const fromM = (other.from[0] - from[0]) * uX + (other.from[1] - from[1]) * uY;
    const toM = (other.to[0] - from[0]) * uX + (other.to[1] - from[1]) * uY;
    if (!(fromM < lengthM && toM > 0)) continue;
    if (only !== undefined) return undefined;
    only = other;
  }
  return only;
}

/** From either side of an arm, and along its first piece in either direction. */
interface Way {
  readonly arm: readonly PassSegment[];
  readonly isFromLast: boolean;
  readonly isFlipped: boolean;
}

function waysThrough(arm: readonly PassSegment[]): Way[] {
  return [
    { arm, isFromLast: false, isFlipped: false },
    { arm, isFromLast: false, isFlipped: true },
    { arm, isFromLast: true, isFlipped: false },
    { arm, isFromLast: true, isFlipped: true },
  ];
}

function pieceOf({ arm, isFromLast }: Way, index: number): PassSegment {
  return arm[isFromLast ? arm.length - 1 - index : index]!;
}

/** Forth and back. */
function isBack({ isFlipped }: Way, index: number): boolean {
  return (index % 2 === 1) !== isFlipped;
}

function beginOf(way: Way, index: number): PointXY {
  const piece = pieceOf(way, index);
  return isBack(way, index) ? piece.to : piece.from;
}

function endOf(way: Way, index: number): PointXY {
  const piece = pieceOf(way, index);
  return isBack(way, index) ? piece.from : piece.to;
}

function flown(way: Way): PassSegment[] {
  return way.arm.map((_, index) => (isBack(way, index) ? flipped(pieceOf(way, index)) : pieceOf(way, index)));
}

function byNearestEnd(first: Way, others: readonly (readonly PassSegment[])[]): Way[] {
  const order = [first];
  let ways = others.flatMap(waysThrough);
  while (ways.length > 0) {
    const last = order[order.length - 1]!;
    const from = endOf(last, last.arm.length - 1);
    let next = ways[0]!;
    let nextM = Number.POSITIVE_INFINITY;
    for (const way of ways) {
      const awayM = distanceM(from, beginOf(way, 0));
      if (awayM >= nextM) continue;
      next = way;
      nextM = awayM;
    }
    ways = ways.filter(({ arm }) => arm !== next.arm);
    order.push(next);
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
