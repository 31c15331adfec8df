import type { AreaXY, PointXY, PolygonXY } from "./plane.ts";

/** Our choice: a width that is over a whole number of swaths by less than this share of one needs no further pass. */
const widthSlack = 1e-6;
/** Our choice: two pieces of a pass this near to each other are one; polygons that touch leave no gap. */
const gapMaxM = 0.01;

export interface PassSegment {
  /** Number of its pass, from 0. */
  readonly pass: number;
  readonly from: PointXY;
  readonly to: PointXY;
  readonly lengthM: number;
}

export interface Passes {
  readonly headingRad: number;
  /** Passes with ground under their centre line. */
  readonly count: number;
  /** Pieces that are flown: an obstacle or a bay in the outline parts a pass into several. */
  readonly segments: readonly PassSegment[];
  readonly lengthM: number;
}

/** The frame of a heading: a metre along it (u) and a metre across it to the right (v). */
export interface Frame {
  along(point: PointXY): number;
  across(point: PointXY): number;
  pointAt(alongM: number, acrossM: number): PointXY;
}

/** Heading clockwise from north. */
export function frameOf(headingRad: number): Frame {
  const sin = Math.sin(headingRad);
  const cos = Math.cos(headingRad);
  return {
    along: ([xM, yM]) => xM * sin + yM * cos,
    across: ([xM, yM]) => xM * cos - yM * sin,
    pointAt: (alongM, acrossM) => [alongM * sin + acrossM * cos, alongM * cos - acrossM * sin],
  };
}

export interface Strips {
  readonly count: number;
  readonly firstEdgeM: number;
  /** As the swath, or a little less: the overlap of the last pass is shared by all. */
  readonly spacingM: number;
}

/** Lay strips side by side across the heading so that they just cover the area. */
export function stripsOf(area: AreaXY, frame: Frame, swathM: number): Strips {
  let minM = Number.POSITIVE_INFINITY;
  let maxM = Number.NEGATIVE_INFINITY;
  for (const polygon of area) {
    for (const point of polygon[0]!) {
      const acrossM = frame.across(point);
      minM = Math.min(minM, acrossM);
      maxM = Math.max(maxM, acrossM);
    }
  }
  if (!(maxM >= minM)) throw new RangeError("an empty area has no strips");
  const widthM = maxM - minM;
  const count = Math.max(1, Math.ceil(widthM / swathM - widthSlack));
  return { count, firstEdgeM: minM, spacingM: widthM / count };
}

/**
 * The passes that cover an area at a heading: the centre line of every strip, as far as it runs over the area. A polygon that lies between
 * two centre lines has passes of its own.
 */
export function passesAt(area: AreaXY, headingRad: number, swathM: number): Passes {
  const frame = frameOf(headingRad);
  const strips = stripsOf(area, frame, swathM);
  const all = passesOver(area, headingRad, strips);
  if (area.length === 1) return all;
  const missed = area.filter((polygon) => !isMet(polygon, frame, strips));
  if (missed.length === 0) return all;
  const segments = [...all.segments];
  let { count, lengthM } = all;
  // A number is left out, so that pieces of two polygons are never neighbours.
  let firstPass = strips.count + 1;
  for (const polygon of missed) {
    const own = stripsOf([polygon], frame, swathM);
    const passes = passesOver([polygon], headingRad, own);
    for (const segment of passes.segments) segments.push({ ...segment, pass: firstPass + segment.pass });
    count += passes.count;
    lengthM += passes.lengthM;
    firstPass += own.count + 1;
  }
  return { headingRad, count, segments, lengthM };
}

/** Whether a centre line runs over the polygon. */
function isMet(polygon: PolygonXY, { across }: Frame, { firstEdgeM, spacingM }: Strips): boolean {
  const acrossM = polygon[0]!.map(across);
  const from = Math.ceil((Math.min(...acrossM) - firstEdgeM) / spacingM - 0.5);
  return firstEdgeM + (from + 0.5) * spacingM < Math.max(...acrossM);
}

function passesOver(area: AreaXY, headingRad: number, strips: Strips): Passes {
  const frame = frameOf(headingRad);
  const crossingsM: number[][] = Array.from({ length: strips.count }, () => []);
  for (const ring of area.flat()) {
    let last = ring[ring.length - 1]!;
    for (const next of ring) {
      addCrossings(frame, last, next);
      last = next;
    }
  }

  const segments: PassSegment[] = [];
  let lengthM = 0;
  let count = 0;
  crossingsM.forEach((alongM, pass) => {
    const acrossM = centreM(pass);
    if (alongM.length > 0) count++;
    for (const [fromM, toM] of piecesOf(alongM)) {
      const pieceM = toM - fromM;
      segments.push({
        pass,
        from: frame.pointAt(fromM, acrossM),
        to: frame.pointAt(toM, acrossM),
        lengthM: pieceM,
      });
      lengthM += pieceM;
    }
  });
  return { headingRad, count, segments, lengthM };

  function centreM(pass: number): number {
    return strips.firstEdgeM + (pass + 0.5) * strips.spacingM;
  }

  /** Where an edge crosses centre lines. Half-open, so that a line through a corner is crossed once. */
  function addCrossings({ along, across }: Frame, a: PointXY, b: PointXY): void {
    const [low, high] = across(a) <= across(b) ? [a, b] : [b, a];
    const lowM = across(low);
    const highM = across(high);
    if (highM === lowM) return;
    const first = Math.max(0, Math.ceil((lowM - strips.firstEdgeM) / strips.spacingM - 0.5));
    for (let pass = first; pass < strips.count; pass++) {
      const acrossM = centreM(pass);
      if (acrossM >= highM) break;
      if (acrossM < lowM) continue;
      const share = (acrossM - lowM) / (highM - lowM);
      crossingsM[pass]!.push(along(low) + share * (along(high) - along(low)));
    }
  }
}

/** Pieces between pairs of crossings, from inside to outside. */
function piecesOf(crossingsM: number[]): [fromM: number, toM: number][] {
  const sortedM = crossingsM.toSorted((a, b) => a - b);
  const pieces: [number, number][] = [];
  for (let i = 0; i + 1 < sortedM.length; i += 2) {
    const fromM = sortedM[i]!;
    const toM = sortedM[i + 1]!;
    const before = pieces[pieces.length - 1];
    if (before !== undefined && fromM - before[1] <= gapMaxM) before[1] = toM;
    else pieces.push([fromM, toM]);
  }
  return pieces;
}
