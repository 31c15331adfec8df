import { offset } from "../../geo/clip.ts";
import type { AreaXY, PointXY } from "../../geo/plane.ts";
import type { Mix, Stop } from "./facts.ts";
import { type Ledger, rounding, shown } from "./report.ts";

/** Passes run along the prescribed heading but for this, DEVELOPERS.md, `heading`. */
const headingToleranceDeg = 0.5;

function prescribedHeadingDeg({ order, field }: Mix): number | undefined {
  return order.headingDeg ?? field.properties.headingDeg;
}

/** The rule `heading`. */
export function checkHeading(ledger: Ledger, { mix, block, work, subject }: Stop): void {
  const prescribedDeg = prescribedHeadingDeg(mix);
  if (prescribedDeg === undefined) return;
  const { headingDeg } = work.detail;
  const isAlong = betweenLinesDeg(headingDeg, prescribedDeg) <= headingToleranceDeg + rounding;
  ledger.expect("heading", isAlong, subject, () => ({
    sentence: `block ${block.id} is flown at ${shown(headingDeg)} degrees, its passes must run at ${shown(prescribedDeg)} degrees`,
    actual: headingDeg,
    allowed: prescribedDeg,
  }));
}

/** A line has no front: between two of them lie at most 90 degrees. */
function betweenLinesDeg(aDeg: number, bDeg: number): number {
  const turnDeg = Math.abs(aDeg - bDeg) % 180;
  return Math.min(turnDeg, 180 - turnDeg);
}

export interface Headland {
  readonly widthM: number;
  /** The whole field. */
  readonly field: AreaXY;
}

/**
 * Metres across the heading that passes and laps must cover between them, a lap counting for one swath though it covers
 * one on either side. The headland is taken along the block's own outline, so that no more is asked of a plan than laps
 * round the field or laps round the block take. A block without headland is flown in passes alone, over all its width.
 */
export function widthToCoverM(area: AreaXY, headingDeg: number, swathM: number, headland: Headland): number {
  const wholeM = widthAcrossM(area, headingDeg);
  const { widthM, field } = headland;
  if (widthM === 0 || offset(field, -widthM).length === 0) return wholeM;
  const laps = Math.ceil(widthM / swathM - rounding);
  const innerM = widthAcrossM(offset(area, -widthM), headingDeg);
  return Math.min(wholeM, innerM + laps * swathM);
}

/** How much of a line across the passes the ground covers, seen along the passes. */
function widthAcrossM(area: AreaXY, headingDeg: number): number {
  const headingRad = (headingDeg * Math.PI) / 180;
  const across = ([xM, yM]: PointXY) => xM * Math.cos(headingRad) - yM * Math.sin(headingRad);
  const spans = area
    .map((polygon) => polygon[0]!.map(across))
    .map((offsets) => ({ fromM: Math.min(...offsets), toM: Math.max(...offsets) }))
    .sort((a, b) => a.fromM - b.fromM);
  let coveredM = 0;
  let atM = Number.NEGATIVE_INFINITY;
  for (const { fromM, toM } of spans) {
    coveredM += Math.max(0, toM - Math.max(fromM, atM));
    atM = Math.max(atM, toM);
  }
  return coveredM;
}
