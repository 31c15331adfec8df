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

/**
 * Fly the pieces in order and break off whenever a load's share of their length is done; the next sortie goes on from there. A break
 * at the end of a piece saves the way to the next: the aircraft comes to it from the pad.
 */
export function createPadPath(legs: readonly Leg[], passM: number, pad: PointXY): PadPath {
  const count = legs.length;
  const lengthM = legs.reduce((sum, leg) => sum + leg.lengthM, 0);
  // Splinters that no centre line meets are flown, too: they lengthen every piece alike.
  const stretch = lengthM > 0 ? passM / lengthM : 1;
  const fromPadM = Float64Array.from(legs, ({ from }) => distanceM(pad, from));
  const toPadM = Float64Array.from(legs, ({ to }) => distanceM(pad, to));
  /** Flown up to and with each piece: length, turns and hops. */
  const endM = new Float64Array(count);
  const turnsTo = new Float64Array(count);
  const hopToM = new Float64Array(count);
  legs.forEach((leg, index) => {
    endM[index] = (endM[index - 1] ?? 0) + (lengthM > 0 ? leg.lengthM * stretch : passM / count);
    turnsTo[index] = (turnsTo[index - 1] ?? 0) + leg.turns;
    hopToM[index] = (hopToM[index - 1] ?? 0) + leg.hopM;
  });

  /** Calls for every break: the piece it lies in, whether at its end, and how far the pad is. */
  const eachBreak = (loads: number, visit: (leg: number, isAtEnd: boolean, awayM: number) => void): void => {
    let leg = 0;
    for (let sortie = 1; sortie < loads; sortie++) {
      const atM = (passM * sortie) / loads;
      while (leg < count - 1 && endM[leg]! < atM - endSlackM) leg++;
      if (leg < count - 1 && endM[leg]! <= atM + endSlackM) {
        visit(leg, true, toPadM[leg]!);
        continue;
      }
      const { from, to } = legs[leg]!;
      const startM = endM[leg - 1] ?? 0;
      const share = Math.min(1, (atM - startM) / (endM[leg]! - startM));
      const xM = from[0] + share * (to[0] - from[0]) - pad[0];
      const yM = from[1] + share * (to[1] - from[1]) - pad[1];
      visit(leg, false, Math.sqrt(xM * xM + yM * yM));
    }
  };

  return {
    sums: (loads) => {
      let ferryM = fromPadM[0]! + toPadM[count - 1]!;
      let turns = turnsTo[count - 1]!;
      let hopM = hopToM[count - 1]!;
      eachBreak(loads, (leg, isAtEnd, awayM) => {
        if (!isAtEnd) {
          ferryM += 2 * awayM;
          return;
        }
        ferryM += awayM + fromPadM[leg + 1]!;
        turns -= legs[leg + 1]!.turns;
        hopM -= legs[leg + 1]!.hopM;
      });
      return { ferryM, turns, hopM };
    },
    sorties: (loads) => {
      const ferryM = new Float64Array(loads);
      const turns = new Float64Array(loads);
      const hopM = new Float64Array(loads);
      let sortie = 0;
      let outM = fromPadM[0]!;
      let turnsBefore = 0;
      let hopBeforeM = 0;
      const end = (awayM: number, leg: number) => {
        ferryM[sortie] = outM + awayM;
        turns[sortie] = turnsTo[leg]! - turnsBefore;
        hopM[sortie] = hopToM[leg]! - hopBeforeM;
        sortie++;
      };
      eachBreak(loads, (leg, isAtEnd, awayM) => {
        end(awayM, leg);
        // What begins at the end of a piece begins with the next one.
        const next = isAtEnd ? leg + 1 : leg;
        outM = isAtEnd ? fromPadM[next]! : awayM;
        turnsBefore = turnsTo[next]!;
        hopBeforeM = hopToM[next]!;
      });
      end(toPadM[count - 1]!, count - 1);
      return { ferryM, turns, hopM };
    },
  };
}
