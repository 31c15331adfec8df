import { distanceM } from "../../../../shared/geo/distance.ts";
import { createPlane, type LonLat } from "../../../../shared/geo/plane.ts";
import type { StopOnMap } from "../../../../shared/plan/dayMap.ts";
import { haFromM2 } from "../../../../shared/units/units.ts";
import { mapWords } from "../strings/map.ts";
import type { MapLine } from "./items.ts";

/** Our choice: passes that lie nearer together on the screen run into one, and the heading stands for them. */
const leastGapPx = 3;
const arrowGapPx = 8;
/** A shorter heading would be an arrowhead alone. */
const leastHeadingPx = 24;

/** The passes of stops in the order flown; `tellsEnds`: which is the first and which the last stands beside them. */
export function passLines(stops: readonly StopOnMap[], tellsEnds: boolean): MapLine[] {
  return stops.flatMap((stop) => {
    const { blockId, headingDeg, number, passes, areaHa } = stop;
    const lengthsM = lengthsOf(stop);
    const allM = lengthsM.reduce((sum, one) => sum + one, 0);
    if (allM === 0) return [];
    const spacingM = areaHa / haFromM2(1) / allM;
    const closeMPerPx = spacingM / leastGapPx;
    const longest = middleLongOf(lengthsM);
    const drawn = { hasArrow: true, isFaded: false };
    const lines = passes.map((positions, at): MapLine => {
      const end = at === 0 ? "start" : at === passes.length - 1 ? "end" : null;
      return {
        ...drawn,
        id: `pass ${blockId} ${at}`,
        look: "pass",
        title: mapWords.pass(number, Math.round(headingDeg)),
        positions,
        seen: { aboveMPerPx: 0, upToMPerPx: closeMPerPx, arrowUpToMPerPx: spacingM / arrowGapPx },
        label: tellsEnds && end !== null ? { text: mapWords.passEnd[end], at: end, weight: 1400 } : null,
      };
    });
    const heading: MapLine = {
      ...drawn,
      id: `heading ${blockId}`,
      look: "heading",
      title: mapWords.pass(number, Math.round(headingDeg)),
      positions: passes[longest]!,
      seen: {
        aboveMPerPx: closeMPerPx,
        upToMPerPx: lengthsM[longest]! / leastHeadingPx,
        arrowUpToMPerPx: Number.POSITIVE_INFINITY,
      },
      label: null,
    };
    return [...lines, heading];
  });
}

/** Which pass stands for all: of the long ones the middle one, which lies well within the ground. */
function middleLongOf(lengthsM: readonly number[]): number {
  const leastM = 0.8 * Math.max(...lengthsM);
  const long = [...lengthsM.keys()].filter((at) => lengthsM[at]! >= leastM);
  return long[Math.floor(long.length / 2)]!;
}

function lengthsOf({ pad: [lonDeg, latDeg], passes }: StopOnMap): number[] {
  const plane = createPlane(lonDeg, latDeg);
  const lengthOf = (line: readonly LonLat[]) =>
    line.slice(1).reduce((sum, position, at) => sum + distanceM(plane.toXY(line[at]!), plane.toXY(position)), 0);
  return passes.map(lengthOf);
}
