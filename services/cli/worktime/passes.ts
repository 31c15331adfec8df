import type { Leg } from "../../../shared/fieldwork/path.ts";
import { toLineString } from "../../../shared/geo/convert.ts";
import type { Plane, PointXY } from "../../../shared/geo/plane.ts";
import type { Done } from "./orderWork.ts";

/** The legs of an order as RFC 7946 features, in the order flown; a leg that two sorties share is cut where the first breaks off. */
export function passFeatures(plane: Plane, { jobs }: Done) {
  let legsBefore = 0;
  const features = jobs.flatMap(({ part, ground, work }) => {
    const { loads } = work.detail;
    const legs = ground.pads[work.padIndex]!.legs(loads);
    const first = legsBefore + 1;
    legsBefore += legs.length;
    return piecesOf(legs, loads).map(({ leg, sortie, from, to, lengthM }) => {
      const { pass } = legs[leg]!;
      return {
        type: "Feature" as const,
        properties: {
          leg: first + leg,
          part,
          sortie,
          // Laps are numbered from -1 downwards.
          kind: pass < 0 ? "lap" : "pass",
          number: pass < 0 ? -pass : pass + 1,
          lengthM: Number(lengthM.toFixed(2)),
        },
        geometry: toLineString(plane, [from, to]),
      };
    });
  });
  return { type: "FeatureCollection" as const, features };
}

interface Piece extends Pick<Leg, "from" | "to" | "lengthM"> {
  /** Index of its leg. */
  readonly leg: number;
  /** Counted from 1. */
  readonly sortie: number;
}

/** Our choice: a break this near to the end of a leg is at its end, so that rounding leaves no splinter. */
const endSlackM = 1e-6;

/** Every sortie flies an even share of the length. */
function piecesOf(legs: readonly Leg[], loads: number): Piece[] {
  const totalM = legs.reduce((sum, { lengthM }) => sum + lengthM, 0);
  const pieces: Piece[] = [];
  let sortie = 1;
  let atM = 0;
  legs.forEach(({ from, to, lengthM }, leg) => {
    const startM = atM;
    const endM = startM + lengthM;
    const pointAt = (placeM: number): PointXY => {
      const frac = (placeM - startM) / lengthM;
      return [from[0] + frac * (to[0] - from[0]), from[1] + frac * (to[1] - from[1])];
    };
    let begin = from;
    while (sortie < loads && (totalM * sortie) / loads < endM - endSlackM) {
      const breakM = (totalM * sortie) / loads;
      if (breakM > atM + endSlackM) {
        pieces.push({ leg, sortie, from: begin, to: pointAt(breakM), lengthM: breakM - atM });
        begin = pointAt(breakM);
        atM = breakM;
      }
      sortie++;
    }
    pieces.push({ leg, sortie, from: begin, to, lengthM: endM - atM });
    atM = endM;
  });
  return pieces;
}
