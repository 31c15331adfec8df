import type { PointXY } from "../../../shared/geo/plane.ts";
import type { Random } from "./random.ts";

/** The lie of the land: a river from west to east on the metre plane, fields and farms on both banks. */
export interface Valley {
  readonly lengthM: number;
  readonly halfWidthM: number;
  riverYAt(xM: number): number;
  /** Slope of the river's line at a place, as an angle counterclockwise from east. */
  riverAngleAt(xM: number): number;
}

/** Share of the valley's ground that the contractor's fields cover, and its length against its width. Our choice. */
const coveredFrac = 0.06;
const lengthPerWidth = 4.5;

export function makeValley(random: Random, fieldsHa: number): Valley {
  const widthM = Math.max(2500, Math.sqrt((fieldsHa * 10_000) / coveredFrac / lengthPerWidth));
  const lengthM = widthM * lengthPerWidth;
  const bends = [lengthM * 0.7, lengthM * 0.23, 2900].map((waveM, index) => ({
    waveM,
    heightM: [0.16 * widthM, 0.07 * widthM, 120][index]! * random.between(0.7, 1.2),
    phase: random.between(0, 2 * Math.PI),
  }));
  const slopeAt = (xM: number) =>
    bends.reduce(
      (sum, { waveM, heightM, phase }) =>
        sum + ((2 * Math.PI * heightM) / waveM) * Math.cos((2 * Math.PI * xM) / waveM + phase),
      0,
    );
  return {
    lengthM,
    halfWidthM: widthM / 2,
    riverYAt: (xM) =>
      bends.reduce((sum, { waveM, heightM, phase }) => sum + heightM * Math.sin((2 * Math.PI * xM) / waveM + phase), 0),
    riverAngleAt: (xM) => Math.atan(slopeAt(xM)),
  };
}

/** The river's line in reaches of about five kilometres, each with a point every hundred and fifty metres. */
export function riverReaches(valley: Valley): PointXY[][] {
  const stepM = 150;
  const stepsPerReach = 33;
  const steps = Math.ceil((valley.lengthM * 1.1) / stepM);
  const points = Array.from({ length: steps + 1 }, (_, step): PointXY => {
    const xM = -0.55 * valley.lengthM + step * stepM;
    return [xM, valley.riverYAt(xM)];
  });
  const reaches: PointXY[][] = [];
  for (let start = 0; start < points.length - 1; start += stepsPerReach) {
    reaches.push(points.slice(start, start + stepsPerReach + 1));
  }
  return reaches;
}
