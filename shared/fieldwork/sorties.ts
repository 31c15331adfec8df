import { distanceM } from "../geo/distance.ts";
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

/** Pieces in the order flown, as they are seen from one pad. */
export interface PadPath {
  readonly sums: (loads: number) => SortieSums;
  readonly sorties: (loads: number) => Sorties;
}

/** Our choice: a break this near to the end of a piece is at its end, so that rounding does not leave a turn to the next sortie. */
const endSlackM = 1e-6;

/** Pieces in the order flown, wherever the pad is. */
export interface FlownPath {
  readonly legs: readonly Leg[];
  readonly passM: number;
  /** Flown up to and with each piece: length, turns and hops. */
  readonly endM: readonly number[];
  readonly turnsTo: readonly number[];
  readonly hopToM: readonly number[];
  /** Direction of each piece by metre flown. */
  readonly alongX: readonly number[];
  readonly alongY: readonly number[];
}

export function flownPath(legs: readonly Leg[], passM: number): FlownPath {
  const count = legs.length;
  let lengthM = 0;
  for (const leg of legs) lengthM += leg.lengthM;
  // Splinters that no centre line meets are flown, too: they lengthen every piece alike.
  const stretch = lengthM > 0 ? passM / lengthM : 1;
  const endM: number[] = [];
  const turnsTo: number[] = [];
  const hopToM: number[] = [];
  const alongX: number[] = [];
  const alongY: number[] = [];
  let [upToM, turns, hopM] = [0, 0, 0];
  for (const leg of legs) {
    const flownM = lengthM > 0 ? leg.lengthM * stretch : passM / count;
    upToM += flownM;
    turns += leg.turns;
    hopM += leg.hopM;
    endM.push(upToM);
    turnsTo.push(turns);
    hopToM.push(hopM);
    alongX.push(flownM > 0 ? (leg.to[0] - leg.from[0]) / flownM : 0);
    alongY.push(flownM > 0 ? (leg.to[1] - leg.from[1]) / flownM : 0);
  }
  return { legs, passM, endM, turnsTo, hopToM, alongX, alongY };
}

/**
 * Fly the pieces in order and break off whenever a load's share of their length is done; the next sortie goes on from there. A break
 * at the end of a piece saves the way to the next: the aircraft comes to it from the pad.
 */
export function createPadPath(
  { legs, passM, endM, turnsTo, hopToM, alongX, alongY }: FlownPath,
  pad: PointXY,
): PadPath {
  const count = legs.length;
  const fromPadM = (leg: number) => distanceM(pad, legs[leg]!.from);
  const toPadM = (leg: number) => distanceM(pad, legs[leg]!.to);
  /** How far the pad is from a place on the passes, which lies in the piece. */
  const awayM = (leg: number, atM: number): number => {
    const intoM = atM - (leg === 0 ? 0 : endM[leg - 1]!);
    const { from } = legs[leg]!;
    const x = from[0] - pad[0] + intoM * alongX[leg]!;
    const y = from[1] - pad[1] + intoM * alongY[leg]!;
    return Math.sqrt(x * x + y * y);
  };
  /** The piece in which or at whose end a place lies, looked for from an earlier one. */
  const legAt = (atM: number, from: number): number => {
    let leg = from;
    while (leg < count - 1 && endM[leg]! < atM - endSlackM) leg++;
    return leg;
  };
  const isAtEndOf = (leg: number, atM: number) => leg < count - 1 && endM[leg]! <= atM + endSlackM;

  return {
    sums: (loads) => {
      let ferryM = fromPadM(0) + toPadM(count - 1);
      let turns = turnsTo[count - 1]!;
      let hopM = hopToM[count - 1]!;
      for (let sortie = 1, leg = 0; sortie < loads; sortie++) {
        const atM = (passM * sortie) / loads;
        leg = legAt(atM, leg);
        if (!isAtEndOf(leg, atM)) {
          ferryM += 2 * awayM(leg, atM);
          continue;
        }
        ferryM += toPadM(leg) + fromPadM(leg + 1);
        turns -= turnsTo[leg + 1]! - turnsTo[leg]!;
        hopM -= hopToM[leg + 1]! - hopToM[leg]!;
      }
      return { ferryM, turns, hopM };
    },
    sorties: (loads) => {
      const ferryM = new Float64Array(loads);
      const turns = new Float64Array(loads);
      const hopM = new Float64Array(loads);
      let leg = 0;
      let outM = fromPadM(0);
      let turnsBefore = 0;
      let hopBeforeM = 0;
      for (let sortie = 0; sortie < loads; sortie++) {
        const isLast = sortie === loads - 1;
        const atM = (passM * (sortie + 1)) / loads;
        leg = isLast ? count - 1 : legAt(atM, leg);
        const isAtEnd = !isLast && isAtEndOf(leg, atM);
        const backM = isLast || isAtEnd ? toPadM(leg) : awayM(leg, atM);
        ferryM[sortie] = outM + backM;
        turns[sortie] = turnsTo[leg]! - turnsBefore;
        hopM[sortie] = hopToM[leg]! - hopBeforeM;
        // What begins at the end of a piece begins with the next one.
        const next = isAtEnd ? leg + 1 : leg;
        outM = isAtEnd ? fromPadM(next) : backM;
        turnsBefore = turnsTo[next]!;
        hopBeforeM = hopToM[next]!;
      }
      return { ferryM, turns, hopM };
    },
  };
}
