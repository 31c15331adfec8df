import { cutBlocks } from "../../shared/fieldwork/blocks.ts";
import { swathOnMapM } from "../../shared/fieldwork/ground.ts";
import type { AreaXY } from "../../shared/geo/plane.ts";
import type { Operation } from "../../shared/model/operation.ts";
import type { ProblemOrder, Signatures, WorkTable } from "./problem.ts";

/** Our choice: a block takes at most this share of the longest window, so that it finds a place in it. */
const windowShare = 0.8;
/** Our choice: nor is the tender's water used up to the last litre. */
const waterShare = 0.95;
/** Our choice: smaller blocks are not worth a visit; orders with a very wet rate get blocks of this size even if it takes a large tender. */
const blockLeastHa = 2;

export interface CutContext {
  /** Index of the ground in the table of whole grounds. */
  readonly index: number;
  /** Starts and ends in turn; null where the type may never work it. */
  readonly windowsOf: (type: number) => Int32Array | null;
  /** The largest outfit of each crew and type. */
  readonly outfits: readonly number[];
  readonly signatures: Signatures;
  readonly wholeGrounds: WorkTable;
}

/** Our choice: crews that take longer than this many times the quickest do not set the size; they would make crumbs of a large order. */
const slowestTimes = 4;

/** Cut ground of an order into blocks that the slowest of the crews fit for it finishes in the wanted time, a window, and one fill of a tender. */
export function cutOrder(
  operation: Operation,
  order: ProblemOrder,
  area: AreaXY,
  areaHa: number,
  context: CutContext,
): AreaXY[] {
  if (areaHa === 0) return [];
  if (!order.order.maySplit) return [area];
  const fit = context.outfits
    .map((outfit) => ({
      outfit,
      windows: context.windowsOf(context.signatures.at(outfit).option.type),
      minutes: context.wholeGrounds.minutes(context.index, outfit),
    }))
    .filter(({ windows, minutes }) => windows !== null && windows.length > 0 && minutes > 0);
  const quickestMin = Math.min(...fit.map(({ minutes }) => minutes));
  let maxAreaHa = Number.POSITIVE_INFINITY;
  let slowest = -1;
  for (const { outfit, windows, minutes } of fit) {
    if (minutes > slowestTimes * quickestMin) continue;
    const wantedMin = Math.min(operation.settings.planning.blockMaxMin, windowShare * longest(windows!));
    const perBlockHa = (areaHa * wantedMin) / minutes;
    if (perBlockHa < maxAreaHa) {
      maxAreaHa = perBlockHa;
      slowest = outfit;
    }
  }
  if (slowest < 0) return [area];
  if (order.liquid && order.ratePerHa > 0) {
    const waters = operation.fleet.tenders.map((tender) => tender.waterL);
    const largestL = Math.max(...waters);
    const waterL = Math.min(...waters.filter((each) => each * slowestTimes >= largestL));
    maxAreaHa = Math.min(maxAreaHa, (waterShare * waterL) / order.ratePerHa);
  }
  const outcome = context.wholeGrounds.outcome(context.index, slowest);
  if (!outcome.ok) return [area];
  const { type } = context.signatures.at(slowest);
  const gear = order.liquid ? type.liquid! : type.granular!;
  return cutBlocks(area, {
    swathM: swathOnMapM(gear.swathM, operation.fields.features[order.field]!.properties.slopePct),
    headingRad: outcome.swathPlan.headingRad,
    maxAreaHa: Math.max(maxAreaHa, blockLeastHa),
  });
}

function longest(windows: Int32Array): number {
  let longestMin = 0;
  for (let w = 0; w < windows.length; w += 2) longestMin = Math.max(longestMin, windows[w + 1]! - windows[w]!);
  return longestMin;
}
