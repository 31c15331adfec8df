import { lengthOfM } from "../geo/distance.ts";
import type { PointXY } from "../geo/plane.ts";
import type { Leg } from "./path.ts";

/** A block shared out over loads; all arrays run by sortie, in the order flown. */
export interface Sorties {
  /** Out to where the sortie begins on the passes and back from where it breaks off. */
  readonly ferryM: Float64Array;
  readonly turns: Float64Array;
  readonly hopM: Float64Array;
}

/** The same summed over all sorties. */
export interface SortieSums {
  readonly ferryM: number;
  readonly turns: number;
  readonly hopM: number;
}

/** What a sortie takes beside its passes. */
export interface SortieTimes {
  readonly takeoffLandingS: number;
  readonly ferrySpeedMps: number;
  readonly turnS: number;
}

/** Pieces in the order flown, as they are seen from one pad. */
export interface PadPath {
  sums(loads: number): SortieSums;
  sorties(loads: number): Sorties;
  /**
   * Seconds of each sortie beside the passes. A path may be flown from either end. Our choice: the end that is farther from the pad comes first, so
   * that the last landing is soon.
   */
  besideS(loads: number, times: SortieTimes): readonly number[];
  /** Whether the path is flown from its end for that. */
  isBackwards(loads: number): boolean;
}

/** Our choice: a break this near to the end of a piece is at its end, so that rounding does not leave a turn to the next sortie. */
const endSlackM = 1e-6;

/** Pieces in the order flown, wherever the pad is; one entry of each list by piece. Lists of numbers take a fraction of what so many legs take. */
export interface FlownPath {
  readonly passM: number;
  readonly fromX: readonly number[];
  readonly fromY: readonly number[];
  readonly toX: readonly number[];
  readonly toY: readonly number[];
  /** Direction of each piece by metre flown; turned round where `sense` is -1. */
  readonly alongX: readonly number[];
  readonly alongY: readonly number[];
  readonly sense: 1 | -1;
  /** Flown up to and with each piece: length, turns and hops. */
  readonly endM: readonly number[];
  readonly turnsTo: readonly number[];
  readonly hopToM: readonly number[];
}

export function flownPath(legs: readonly Leg[], passM: number): FlownPath {
  const count = legs.length;
  let lengthM = 0;
  for (const leg of legs) lengthM += leg.lengthM;
  // Splinters that no centre line meets are flown, too: they lengthen every piece alike.
  const stretch = lengthM > 0 ? passM / lengthM : 1;
  const [fromX, fromY, toX, toY] = [zeros(count), zeros(count), zeros(count), zeros(count)];
  const [alongX, alongY, endM, turnsTo] = [zeros(count), zeros(count), zeros(count), zeros(count)];
  const hopToM = zeros(count);
  let [upToM, turns, hopM] = [0, 0, 0];
  for (let at = 0; at < count; at++) {
    const leg = legs[at]!;
    fromX[at] = leg.from[0];
    fromY[at] = leg.from[1];
    toX[at] = leg.to[0];
    toY[at] = leg.to[1];
    const flownM = lengthM > 0 ? leg.lengthM * stretch : passM / count;
    alongX[at] = flownM > 0 ? (leg.to[0] - leg.from[0]) / flownM : 0;
    alongY[at] = flownM > 0 ? (leg.to[1] - leg.from[1]) / flownM : 0;
    upToM += flownM;
    turns += leg.turns;
    hopM += leg.hopM;
    endM[at] = upToM;
    turnsTo[at] = turns;
    hopToM[at] = hopM;
  }
  return { passM, fromX, fromY, toX, toY, alongX, alongY, sense: 1, endM, turnsTo, hopToM };
}

/** Pieces that are flown forth and back, in the same order, each the other way. Beyond a turn to the next pass the way to it is a hop. */
export function flippedPath(path: FlownPath, swathM: number): FlownPath {
  const { fromX, fromY, toX, toY } = path;
  const hopToM = zeros(fromX.length);
  for (let at = 1; at < fromX.length; at++) {
    const awayM = lengthOfM(toX[at]! - fromX[at - 1]!, toY[at]! - fromY[at - 1]!);
    hopToM[at] = hopToM[at - 1]! + Math.max(0, awayM - swathM);
  }
  return { ...path, fromX: toX, fromY: toY, toX: fromX, toY: fromY, sense: -1, hopToM };
}

function zeros(count: number): number[] {
  return new Array<number>(count).fill(0);
}

/**
 * Fly the pieces in order and break off whenever a load's share of their length is done; the next sortie goes on from there. A break
 * at the end of a piece saves the way to the next: the aircraft comes to it from the pad.
 */
export function createPadPath(path: FlownPath, pad: PointXY): PadPath {
  return new PathFromPad(path, pad);
}

class PathFromPad implements PadPath {
  readonly #path: FlownPath;
  readonly #pad: PointXY;

  constructor(path: FlownPath, pad: PointXY) {
    this.#path = path;
    this.#pad = pad;
  }

  sums(loads: number): SortieSums {
    return sumsOf(this.#path, this.#pad, loads);
  }

  sorties(loads: number): Sorties {
    fly(this.#path, this.#pad, loads);
    return { ferryM: ferryM.slice(0, loads), turns: turns.slice(0, loads), hopM: hopM.slice(0, loads) };
  }

  isBackwards(loads: number): boolean {
    fly(this.#path, this.#pad, loads);
    return ferryM[0]! < ferryM[loads - 1]!;
  }

  besideS(loads: number, { takeoffLandingS, ferrySpeedMps, turnS }: SortieTimes): readonly number[] {
    const isFromEnd = this.isBackwards(loads);
    const besideS = new Array<number>(loads).fill(0);
    for (let sortie = 0; sortie < loads; sortie++) {
      const at = isFromEnd ? loads - 1 - sortie : sortie;
      besideS[sortie] = takeoffLandingS + (ferryM[at]! + hopM[at]!) / ferrySpeedMps + turns[at]! * turnS;
    }
    return besideS;
  }
}

function sumsOf(path: FlownPath, pad: PointXY, loads: number): SortieSums {
  const { passM, endM, turnsTo, hopToM } = path;
  const last = endM.length - 1;
  let sumFerryM = fromPadM(path, pad, 0) + toPadM(path, pad, last);
  let sumTurns = turnsTo[last]!;
  let sumHopM = hopToM[last]!;
  for (let sortie = 1, leg = 0; sortie < loads; sortie++) {
    const atM = (passM * sortie) / loads;
    leg = legAt(endM, atM, leg);
    if (!isAtEndOf(endM, leg, atM)) {
      sumFerryM += 2 * awayM(path, pad, leg, atM);
      continue;
    }
    sumFerryM += toPadM(path, pad, leg) + fromPadM(path, pad, leg + 1);
    sumTurns -= turnsTo[leg + 1]! - turnsTo[leg]!;
    sumHopM -= hopToM[leg + 1]! - hopToM[leg]!;
  }
  return { ferryM: sumFerryM, turns: sumTurns, hopM: sumHopM };
}

/** Of the path that was flown last, by sortie; used for path after path. */
let ferryM = new Float64Array(128);
let turns = new Float64Array(128);
let hopM = new Float64Array(128);

function fly(path: FlownPath, pad: PointXY, loads: number): void {
  const { passM, endM, turnsTo, hopToM } = path;
  if (ferryM.length < loads) {
    ferryM = new Float64Array(2 * loads);
    turns = new Float64Array(2 * loads);
    hopM = new Float64Array(2 * loads);
  }
  let leg = 0;
  let outM = fromPadM(path, pad, 0);
  let turnsBefore = 0;
  let hopBeforeM = 0;
  for (let sortie = 0; sortie < loads; sortie++) {
    const isLast = sortie === loads - 1;
    const atM = (passM * (sortie + 1)) / loads;
    leg = isLast ? endM.length - 1 : legAt(endM, atM, leg);
    const isAtEnd = !isLast && isAtEndOf(endM, leg, atM);
    const backM = isLast || isAtEnd ? toPadM(path, pad, leg) : awayM(path, pad, leg, atM);
    ferryM[sortie] = outM + backM;
    turns[sortie] = turnsTo[leg]! - turnsBefore;
    hopM[sortie] = hopToM[leg]! - hopBeforeM;
    // What begins at the end of a piece begins with the next one.
    const next = isAtEnd ? leg + 1 : leg;
    outM = isAtEnd ? fromPadM(path, pad, next) : backM;
    turnsBefore = turnsTo[next]!;
    hopBeforeM = hopToM[next]!;
  }
}

/** The piece in which or at whose end a place lies, looked for from an earlier one. */
function legAt(endM: readonly number[], atM: number, from: number): number {
  let leg = from;
  while (leg < endM.length - 1 && endM[leg]! < atM - endSlackM) leg++;
  return leg;
}

function isAtEndOf(endM: readonly number[], leg: number, atM: number): boolean {
  return leg < endM.length - 1 && endM[leg]! <= atM + endSlackM;
}

function fromPadM({ fromX, fromY }: FlownPath, pad: PointXY, leg: number): number {
  return lengthOfM(fromX[leg]! - pad[0], fromY[leg]! - pad[1]);
}

function toPadM({ toX, toY }: FlownPath, pad: PointXY, leg: number): number {
  return lengthOfM(toX[leg]! - pad[0], toY[leg]! - pad[1]);
}

/** How far the pad is from a place on the passes, which lies in the piece. */
function awayM(path: FlownPath, pad: PointXY, leg: number, atM: number): number {
  const intoM = path.sense * (atM - (leg === 0 ? 0 : path.endM[leg - 1]!));
  const x = path.fromX[leg]! - pad[0] + intoM * path.alongX[leg]!;
  const y = path.fromY[leg]! - pad[1] + intoM * path.alongY[leg]!;
  return Math.sqrt(x * x + y * y);
}

export function farthestM({ fromX, fromY, toX, toY }: FlownPath, pad: PointXY): number {
  let mostM = Number.NEGATIVE_INFINITY;
  for (let leg = 0; leg < fromX.length; leg++) {
    mostM = Math.max(
      mostM,
      lengthOfM(fromX[leg]! - pad[0], fromY[leg]! - pad[1]),
      lengthOfM(toX[leg]! - pad[0], toY[leg]! - pad[1]),
    );
  }
  return mostM;
}

export function nearestM({ fromX, fromY, toX, toY }: FlownPath, pad: PointXY): number {
  let leastM = Number.POSITIVE_INFINITY;
  for (let leg = 0; leg < fromX.length; leg++) {
    const [alongX, alongY] = [toX[leg]! - fromX[leg]!, toY[leg]! - fromY[leg]!];
    const [x, y] = [pad[0] - fromX[leg]!, pad[1] - fromY[leg]!];
    const lengthSquared = alongX * alongX + alongY * alongY;
    const share = lengthSquared === 0 ? 0 : Math.max(0, Math.min(1, (x * alongX + y * alongY) / lengthSquared));
    leastM = Math.min(leastM, lengthOfM(x - share * alongX, y - share * alongY));
  }
  return leastM;
}
