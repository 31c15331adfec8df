import { distanceM } from "../geo/distance.ts";
import type { PointXY } from "../geo/plane.ts";
import type { Leg } from "./path.ts";

/** A block shared out over loads; all arrays run by sortie, in the order flown. */
export interface Sorties {
  /** Out to where the sortie begins on the passes and back from where it breaks off. */
  readonly ferryM: Float64Array;
  readonly turns: Float64Array;
  readonly hopM: Float64Array;
  readonly ferrySumM: number;
  readonly turnsSum: number;
  readonly hopSumM: number;
}

/** Our choice: a break this near to the end of a piece is at its end, so that rounding does not leave a turn to the next sortie. */
const endSlackM = 1e-6;

/**
 * Fly the pieces in order and break off whenever a load's share of their length is done; the next sortie goes on from there. A break
 * at the end of a piece saves the way to the next: the aircraft comes to it from the pad.
 */
export function sortiesAlong(legs: readonly Leg[], passM: number, pad: PointXY, loads: number): Sorties {
  const ferryM = new Float64Array(loads);
  const turns = new Float64Array(loads);
  const hopM = new Float64Array(loads);
  const lengthM = legs.reduce((sum, leg) => sum + leg.lengthM, 0);
  // Splinters that no centre line meets are flown, too: they lengthen every piece alike.
  const stretch = lengthM > 0 ? passM / lengthM : 1;
  const shareM = passM / loads;

  let sortie = 0;
  let flownM = 0;
  ferryM[0] = distanceM(pad, legs[0]!.from);
  legs.forEach((leg, index) => {
    const legM = leg.lengthM * stretch;
    // A sortie that begins with this piece has come from the pad.
    const isReached = index > 0 && flownM > sortie * shareM + endSlackM;
    if (isReached) {
      turns[sortie]! += leg.turns;
      hopM[sortie]! += leg.hopM;
    } else if (index > 0) {
      ferryM[sortie]! += distanceM(pad, leg.from);
    }
    const endM = flownM + legM;
    while (sortie < loads - 1 && endM >= (sortie + 1) * shareM - endSlackM) {
      const breakM = (sortie + 1) * shareM - flownM;
      const share = legM > 0 ? Math.min(1, breakM / legM) : 1;
      const at: PointXY = [
        leg.from[0] + share * (leg.to[0] - leg.from[0]),
        leg.from[1] + share * (leg.to[1] - leg.from[1]),
      ];
      ferryM[sortie]! += distanceM(pad, at);
      sortie++;
      // What begins at the end of a piece begins with the next one.
      const isAtEnd = endM <= sortie * shareM + endSlackM;
      if (!isAtEnd) ferryM[sortie]! += distanceM(pad, at);
    }
    flownM = endM;
  });
  ferryM[sortie]! += distanceM(pad, legs[legs.length - 1]!.to);
  return { ferryM, turns, hopM, ferrySumM: sum(ferryM), turnsSum: sum(turns), hopSumM: sum(hopM) };
}

function sum(values: Float64Array): number {
  let total = 0;
  for (const value of values) total += value;
  return total;
}
