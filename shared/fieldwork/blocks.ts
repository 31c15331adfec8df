import { areaM2, withStandardTurn } from "../geo/area.ts";
import { intersection } from "../geo/clip.ts";
import type { AreaXY } from "../geo/plane.ts";
import { type Frame, frameOf, stripsOf } from "../geo/swath.ts";
import { haFromM2, m2FromHa } from "../units/units.ts";

/** Our choice, as for the treated area: what is left below this is nothing that can be worked on its own. */
const sliverHa = 0.05;
/** How far the knife reaches past the area. */
const marginM = 1;
/** A sum of strips may exceed the greatest area by rounding. */
const roundingShare = 1e-9;

export interface CutInput {
  readonly swathM: number;
  /** Direction of the passes, clockwise from north. */
  readonly headingRad: number;
  readonly maxAreaHa: number;
}

/**
 * Cut an area between passes into the fewest blocks that are no larger than asked for, as equal as strips allow. A strip
 * that is too large by itself stays whole, and a sliver goes with its neighbour.
 */
export function cutBlocks(area: AreaXY, { swathM, headingRad, maxAreaHa }: CutInput): AreaXY[] {
  if (haFromM2(areaM2(area)) <= maxAreaHa) return [area];
  const frame = frameOf(headingRad);
  const { count, firstEdgeM, spacingM } = stripsOf(area, headingRad, swathM);
  const belowM2 = areaBelow(area, frame);
  /** sumM2[k] is the ground of the first k strips. */
  const sumM2 = Array.from({ length: count + 1 }, (_, strip) =>
    strip === count ? areaM2(area) : belowM2(firstEdgeM + strip * spacingM),
  );
  const cuts = mergeSlivers(evenCuts(sumM2, m2FromHa(maxAreaHa)), sumM2);
  if (cuts.length === 2) return [area];
  return cuts.slice(1).map((to, index) => {
    const from = cuts[index]!;
    const fromM = from === 0 ? firstEdgeM - marginM : firstEdgeM + from * spacingM;
    const toM = to === count ? firstEdgeM + count * spacingM + marginM : firstEdgeM + to * spacingM;
    return intersection(area, bandOf(area, frame, fromM, toM));
  });
}

export interface FlownInput extends Omit<CutInput, "maxAreaHa"> {
  readonly doneHa: number;
  /** Whether the first pass is that farthest to the left of the heading. */
  readonly fromLeft: boolean;
}

/** The ground under the passes flown first: as many whole strips as come nearest to so many hectares. */
export function cutAfterPasses(area: AreaXY, { swathM, headingRad, doneHa, fromLeft }: FlownInput): AreaXY {
  const frame = frameOf(headingRad);
  const { count, firstEdgeM, spacingM } = stripsOf(area, headingRad, swathM);
  const belowM2 = areaBelow(area, frame);
  const wholeM2 = areaM2(area);
  const doneM2 = m2FromHa(doneHa);
  let strips = 0;
  let nearestM2 = doneM2;
  for (let flown = 1; flown <= count; flown++) {
    const edgeM = firstEdgeM + (fromLeft ? flown : count - flown) * spacingM;
    const flownM2 = flown === count ? wholeM2 : fromLeft ? belowM2(edgeM) : wholeM2 - belowM2(edgeM);
    if (Math.abs(flownM2 - doneM2) >= nearestM2) continue;
    nearestM2 = Math.abs(flownM2 - doneM2);
    strips = flown;
  }
  if (strips === 0) return [];
  if (strips === count) return area;
  const lastM = firstEdgeM + count * spacingM + marginM;
  const cutM = firstEdgeM + (fromLeft ? strips : count - strips) * spacingM;
  return intersection(
    area,
    fromLeft ? bandOf(area, frame, firstEdgeM - marginM, cutM) : bandOf(area, frame, cutM, lastM),
  );
}

/** The parts of an area on either side of a line across the passes; one of them when nothing lies on the other side. */
export function cutAcross(area: AreaXY, headingRad: number, alongM: number): AreaXY[] {
  const frame = frameOf(headingRad);
  const corners = area.flatMap((polygon) => polygon[0]!);
  const [us, vs] = [corners.map(frame.along), corners.map(frame.across)];
  const [fromM, toM] = [Math.min(...us) - marginM, Math.max(...us) + marginM];
  const [leftM, rightM] = [Math.min(...vs) - marginM, Math.max(...vs) + marginM];
  const box = (startM: number, endM: number): AreaXY => {
    const around = [frame.pointAt(startM, leftM), frame.pointAt(startM, rightM), frame.pointAt(endM, rightM)];
    return [withStandardTurn([[...around, frame.pointAt(endM, leftM)]])];
  };
  if (alongM <= fromM || alongM >= toM) return [area];
  return [box(fromM, alongM), box(alongM, toM)]
    .map((half) => intersection(area, half))
    .filter((half) => half.length > 0);
}

/**
 * Area of the part to the left of a line along the heading: Green's theorem, the integral of u dv along the outline as far
 * as v stays below the line; along the line itself dv is zero.
 */
function areaBelow(area: AreaXY, frame: Frame): (acrossM: number) => number {
  const edges = area.flatMap((polygon) =>
    withStandardTurn(polygon).flatMap((ring) =>
      ring.map((from, i) => {
        const to = ring[(i + 1) % ring.length]!;
        return { u0M: frame.along(from), v0M: frame.across(from), u1M: frame.along(to), v1M: frame.across(to) };
      }),
    ),
  );
  return (acrossM) => {
    let sumM2 = 0;
    for (const { u0M, v0M, u1M, v1M } of edges) {
      if (v0M === v1M) continue;
      const slope = (u1M - u0M) / (v1M - v0M);
      const fromM = Math.min(v0M, acrossM);
      const toM = Math.min(v1M, acrossM);
      sumM2 += (u0M + slope * ((fromM + toM) / 2 - v0M)) * (toM - fromM);
    }
    // The frame has its second axis to the right of the first, which turns the sign.
    return -sumM2;
  };
}

function bandOf(area: AreaXY, frame: Frame, fromM: number, toM: number): AreaXY {
  const alongM = area.flatMap((polygon) => polygon[0]!.map((point) => frame.along(point)));
  const startM = Math.min(...alongM) - marginM;
  const endM = Math.max(...alongM) + marginM;
  const corners = [
    frame.pointAt(startM, fromM),
    frame.pointAt(startM, toM),
    frame.pointAt(endM, toM),
    frame.pointAt(endM, fromM),
  ];
  return [withStandardTurn([corners])];
}

/**
 * Strip numbers at which blocks begin and end. The number of blocks is the least possible (filling one after the other
 * is optimal for strips in a row); given it, the sum of squares is least when the blocks are most equal, found by
 * dynamic programming over the last cut.
 */
function evenCuts(sumM2: readonly number[], maxM2: number): number[] {
  const count = sumM2.length - 1;
  const fits = (from: number, to: number) =>
    to === from + 1 || sumM2[to]! - sumM2[from]! <= maxM2 * (1 + roundingShare);

  let blocks = 1;
  let begin = 0;
  for (let strip = 1; strip <= count; strip++) {
    if (!fits(begin, strip)) {
      blocks++;
      begin = strip - 1;
    }
  }

  let leastCost: number[] = [0, ...Array<number>(count).fill(Number.POSITIVE_INFINITY)];
  const lastCuts: number[][] = [];
  for (let block = 0; block < blocks; block++) {
    const cost = Array<number>(count + 1).fill(Number.POSITIVE_INFINITY);
    const lastCut = Array<number>(count + 1).fill(-1);
    for (let to = 1; to <= count; to++) {
      for (let from = to - 1; from >= 0 && fits(from, to); from--) {
        const candidate = leastCost[from]! + (sumM2[to]! - sumM2[from]!) ** 2;
        if (candidate < cost[to]!) {
          cost[to] = candidate;
          lastCut[to] = from;
        }
      }
    }
    lastCuts.push(lastCut);
    leastCost = cost;
  }

  const cuts = [count];
  for (let block = blocks - 1; block >= 0; block--) cuts.unshift(lastCuts[block]![cuts[0]!]!);
  return cuts;
}

/** Drop the cut between a sliver and its smaller neighbour until no sliver is left. */
function mergeSlivers(cuts: readonly number[], sumM2: readonly number[]): number[] {
  const kept = [...cuts];
  const blockM2 = (block: number) => sumM2[kept[block + 1]!]! - sumM2[kept[block]!]!;
  for (let block = 0; block < kept.length - 1 && kept.length > 2; ) {
    if (haFromM2(blockM2(block)) >= sliverHa) {
      block++;
      continue;
    }
    const isLast = block === kept.length - 2;
    const joinsNext = block === 0 || (!isLast && blockM2(block + 1) < blockM2(block - 1));
    kept.splice(joinsNext ? block + 1 : block, 1);
    block = 0;
  }
  return kept;
}
