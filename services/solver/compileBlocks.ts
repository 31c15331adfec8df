import { cutAcross, cutBlocks } from "../../shared/fieldwork/blocks.ts";
import { gearOf } from "../../shared/fieldwork/flow.ts";
import { swathOnMapM } from "../../shared/fieldwork/ground.ts";
import { workTimeOn } from "../../shared/fieldwork/workTime.ts";
import { areaM2 } from "../../shared/geo/area.ts";
import type { AreaXY, PointXY } from "../../shared/geo/plane.ts";
import { frameOf } from "../../shared/geo/swath.ts";
import type { Operation } from "../../shared/model/operation.ts";
import { haFromM2 } from "../../shared/units/units.ts";
import { type Grounds, outfitInput, padsOf } from "./compileWork.ts";
import { isCutAs } from "./keptCut.ts";
import type { ProblemOrder, Signatures, WorkTable } from "./problem.ts";

/** Our choice: a block takes at most this share of the longest window, so that it finds a place in it. */
export const windowShare = 0.8;
/** Our choice: nor is the tender's water used up to the last litre. */
const waterShare = 0.95;
/** Our choice: smaller blocks are not worth a visit; orders with a very wet rate get blocks of this size even if it takes a large tender. */
export const blockLeastHa = 2;

export interface CutContext {
  /** Index of the ground in the table of whole grounds. */
  readonly index: number;
  /** Starts and ends in turn; null where the type may never work it. */
  readonly windowsOf: (type: number) => Int32Array | null;
  /** The largest outfit of each crew and type. */
  readonly outfits: readonly number[];
  readonly signatures: Signatures;
  readonly wholeGrounds: WorkTable;
  readonly groundFor: Grounds;
  /** Into so many blocks, as when one of them was locked; undefined where nothing says so. */
  readonly parts: number | undefined;
  /** As a plan that people know has it cut; undefined where none has. */
  readonly kept: readonly AreaXY[] | undefined;
}

/** Our choice: crews that take longer than this many times the quickest do not set the size; they would make crumbs of a large order. */
export const slowestTimes = 4;

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
  const { kept } = context;
  if (slowest < 0) return kept === undefined ? [area] : [...kept];
  if (order.liquid && order.ratePerHa > 0) {
    const waters = operation.fleet.tenders.map((tender) => tender.waterL);
    const largestL = Math.max(...waters);
    const waterL = Math.min(...waters.filter((each) => each * slowestTimes >= largestL));
    maxAreaHa = Math.min(maxAreaHa, (waterShare * waterL) / order.ratePerHa);
  }
  const pads = padsOf(operation, order);
  maxAreaHa = Math.max(maxAreaHa, blockLeastHa);
  // Small enough, and with nowhere else to be worked from.
  const parts = context.parts ?? 1;
  if (pads.length < 2 && areaHa <= maxAreaHa && parts === 1) return kept === undefined ? [area] : [...kept];
  const { type } = context.signatures.at(slowest);
  const gear = gearOf(type, order.liquid ? "liquid" : "granular", order.densityKgPerL)!;
  const { headingRad } = context.groundFor({ area, order }, type, gear).swathPlan;
  const swathM = swathOnMapM(gear.swathM, operation.fields.features[order.field]!.properties.slopePct);
  const minutesOf = (piece: AreaXY) => {
    const ground = context.groundFor({ area: piece, order }, type, gear);
    const found = workTimeOn(ground, outfitInput(context.signatures.at(slowest), order));
    return found.ok ? found.minutes : Number.POSITIVE_INFINITY;
  };
  const wholeMin = context.wholeGrounds.minutes(context.index, slowest);
  const pieces = betweenPads(area, pads, headingRad, wholeMin - type.setupMin - type.packupMin, minutesOf);
  const cutTo = (mostHa: number) =>
    pieces.flatMap((piece) => cutBlocks(piece, { swathM, headingRad, maxAreaHa: mostHa }));
  const afresh = (context.parts === undefined ? undefined : cutAgain(cutTo, areaHa, parts)) ?? cutTo(maxAreaHa);
  if (kept === undefined || isCutAs(afresh, kept)) return afresh;
  const isLocked = context.parts === kept.length;
  const mostHa = maxAreaHa / windowShare;
  return isLocked || kept.every((piece) => haFromM2(areaM2(piece)) <= mostHa) ? [...kept] : afresh;
}

/** Shares by which blocks may be larger than the mean, tried in turn: strips do not come out even. */
const unevenTimes = [1.01, 1.05, 1.1, 1.2, 1.35, 1.5, 1.75, 1.99];

/** Cut as before into so many blocks; undefined where that does not come out. */
function cutAgain(cutTo: (mostHa: number) => AreaXY[], areaHa: number, parts: number): AreaXY[] | undefined {
  for (const times of unevenTimes) {
    const areas = cutTo((times * areaHa) / parts);
    if (areas.length === parts) return areas;
  }
  return undefined;
}

/** Along a long field with pads at both ends two halves may take less than the whole, moving the outfit between them included. */
function betweenPads(
  area: AreaXY,
  pads: readonly PointXY[],
  headingRad: number,
  beatenMin: number,
  minutesOf: (piece: AreaXY) => number,
): AreaXY[] {
  if (pads.length < 2) return [area];
  const alongM = pads.map(frameOf(headingRad).along);
  const halves = cutAcross(area, headingRad, (Math.min(...alongM) + Math.max(...alongM)) / 2);
  if (halves.length < 2 || halves.some((half) => haFromM2(areaM2(half)) < blockLeastHa)) return [area];
  return halves.reduce((sum, half) => sum + minutesOf(half), 0) < beatenMin ? halves : [area];
}

export function longest(windows: Int32Array): number {
  let longestMin = 0;
  for (let w = 0; w < windows.length; w += 2) longestMin = Math.max(longestMin, windows[w + 1]! - windows[w]!);
  return longestMin;
}
