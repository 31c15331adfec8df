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
  /** How many segments there are. */
  readonly pieces: number;
  /** Pieces that are flown: an obstacle or a bay in the outline parts a pass into several. Made when asked for. */
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
export function stripsOf(area: AreaXY, headingRad: number, swathM: number): Strips {
  const sin = Math.sin(headingRad);
  const cos = Math.cos(headingRad);
  let minM = Number.POSITIVE_INFINITY;
  let maxM = Number.NEGATIVE_INFINITY;
  for (const polygon of area) {
    for (const point of polygon[0]!) {
      const acrossM = point[0] * cos - point[1] * sin;
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
  const strips = stripsOf(area, headingRad, swathM);
  const all = passesOver(area, headingRad, strips);
  if (area.length === 1) return all;
  const frame = frameOf(headingRad);
  const missed = area.filter((polygon) => !isMet(polygon, frame, strips));
  if (missed.length === 0) return all;
  let { count, pieces, lengthM } = all;
  const own = missed.map((polygon) => {
    const ownStrips = stripsOf([polygon], headingRad, swathM);
    const passes = passesOver([polygon], headingRad, ownStrips);
    count += passes.count;
    pieces += passes.pieces;
    lengthM += passes.lengthM;
    return { passes, strips: ownStrips.count };
  });
  const listSegments = () => {
    const segments = [...all.segments];
    // A number is left out, so that pieces of two polygons are never neighbours.
    let firstPass = strips.count + 1;
    for (const { passes, strips: ownCount } of own) {
      for (const segment of passes.segments) segments.push({ ...segment, pass: firstPass + segment.pass });
      firstPass += ownCount + 1;
    }
    return segments;
  };
  return passesOf({ headingRad, count, pieces, lengthM }, listSegments);
}

function passesOf(sums: Omit<Passes, "segments">, listSegments: () => PassSegment[]): Passes {
  return {
    ...sums,
    get segments() {
      return listSegments();
    },
  };
}

/** Whether a centre line runs over the polygon. */
function isMet(polygon: PolygonXY, { across }: Frame, { firstEdgeM, spacingM }: Strips): boolean {
  const acrossM = polygon[0]!.map(across);
  const from = Math.ceil((Math.min(...acrossM) - firstEdgeM) / spacingM - 0.5);
  return firstEdgeM + (from + 0.5) * spacingM < Math.max(...acrossM);
}

function passesOver(area: AreaXY, headingRad: number, strips: Strips): Passes {
  crossLines(area, headingRad, strips);
  let count = 0;
  let pieces = 0;
  let lengthM = 0;
  for (let pass = 0; pass < strips.count; pass++) {
    const first = firstOfPass[pass]!;
    const end = firstOfPass[pass + 1]!;
    if (end > first) count++;
    for (let at = first; at + 1 < end; ) {
      const to = endOfPiece(at, end);
      pieces++;
      lengthM += crossingM[to]! - crossingM[at]!;
      at = to + 1;
    }
  }
  return passesOf({ headingRad, count, pieces, lengthM }, () => segmentsOver(area, headingRad, strips));
}

function segmentsOver(area: AreaXY, headingRad: number, strips: Strips): PassSegment[] {
  crossLines(area, headingRad, strips);
  const sin = Math.sin(headingRad);
  const cos = Math.cos(headingRad);
  const segments: PassSegment[] = [];
  for (let pass = 0; pass < strips.count; pass++) {
    const acrossM = strips.firstEdgeM + (pass + 0.5) * strips.spacingM;
    const end = firstOfPass[pass + 1]!;
    for (let at = firstOfPass[pass]!; at + 1 < end; ) {
      const to = endOfPiece(at, end);
      const fromM = crossingM[at]!;
      const toM = crossingM[to]!;
      segments.push({
        pass,
        from: [fromM * sin + acrossM * cos, fromM * cos - acrossM * sin],
        to: [toM * sin + acrossM * cos, toM * cos - acrossM * sin],
        lengthM: toM - fromM,
      });
      at = to + 1;
    }
  }
  return segments;
}

/** A piece goes from outside to inside at a crossing and out again at the next, or at a later one where a gap is too small to count. */
function endOfPiece(at: number, end: number): number {
  let to = at + 1;
  while (to + 2 < end && crossingM[to + 1]! - crossingM[to]! <= gapMaxM) to += 2;
  return to;
}

/**
 * Where the outline crosses the centre lines of one area, used for area after area: crossings of pass p are crossingM[firstOfPass[p]] up to
 * firstOfPass[p + 1], in order along the line.
 */
let firstOfPass = new Int32Array(256);
/** While they are sorted: where the next of each pass goes at most. */
let endOfPass = new Int32Array(256);
let crossingM = new Float64Array(1024);
/** As they are found, edge by edge. */
let foundPass = new Int32Array(1024);
let foundM = new Float64Array(1024);

function crossLines(area: AreaXY, headingRad: number, { count, firstEdgeM, spacingM }: Strips): void {
  const sin = Math.sin(headingRad);
  const cos = Math.cos(headingRad);
  if (firstOfPass.length <= count) firstOfPass = new Int32Array(2 * count + 2);
  firstOfPass.fill(0, 0, count + 1);
  let found = 0;
  for (const polygon of area) {
    for (const ring of polygon) {
      const last = ring[ring.length - 1]!;
      let alongBeforeM = last[0] * sin + last[1] * cos;
      let acrossBeforeM = last[0] * cos - last[1] * sin;
      for (const corner of ring) {
        const alongM = corner[0] * sin + corner[1] * cos;
        const acrossM = corner[0] * cos - corner[1] * sin;
        const isRising = acrossBeforeM <= acrossM;
        const lowM = isRising ? acrossBeforeM : acrossM;
        const highM = isRising ? acrossM : acrossBeforeM;
        const lowAlongM = isRising ? alongBeforeM : alongM;
        const highAlongM = isRising ? alongM : alongBeforeM;
        alongBeforeM = alongM;
        acrossBeforeM = acrossM;
        if (highM === lowM) continue;
        // Half-open, so that a line through a corner is crossed once.
        for (let pass = Math.max(0, Math.ceil((lowM - firstEdgeM) / spacingM - 0.5)); pass < count; pass++) {
          const centreM = firstEdgeM + (pass + 0.5) * spacingM;
          if (centreM >= highM) break;
          if (centreM < lowM) continue;
          if (found === foundM.length) growFound();
          foundPass[found] = pass;
          foundM[found++] = lowAlongM + ((centreM - lowM) / (highM - lowM)) * (highAlongM - lowAlongM);
          firstOfPass[pass + 1] = firstOfPass[pass + 1]! + 1;
        }
      }
    }
  }
  for (let pass = 0; pass < count; pass++) firstOfPass[pass + 1] = firstOfPass[pass + 1]! + firstOfPass[pass]!;
  sortIntoPasses(found, count);
}

function growFound(): void {
  const [passes, alongM] = [foundPass, foundM];
  foundPass = new Int32Array(2 * passes.length);
  foundM = new Float64Array(2 * alongM.length);
  foundPass.set(passes);
  foundM.set(alongM);
}

/** Each by insertion among those of its pass: most lines are crossed twice. */
function sortIntoPasses(found: number, count: number): void {
  if (crossingM.length < found) crossingM = new Float64Array(foundM.length);
  if (endOfPass.length < count) endOfPass = new Int32Array(firstOfPass.length);
  for (let pass = 0; pass < count; pass++) endOfPass[pass] = firstOfPass[pass]!;
  for (let one = 0; one < found; one++) {
    const pass = foundPass[one]!;
    const first = firstOfPass[pass]!;
    const alongM = foundM[one]!;
    let at = endOfPass[pass]!;
    endOfPass[pass] = at + 1;
    for (; at > first && crossingM[at - 1]! > alongM; at--) crossingM[at] = crossingM[at - 1]!;
    crossingM[at] = alongM;
  }
}
