import { lateCents } from "../chains.ts";
import type { Problem } from "../problem.ts";
import type { Moves, Stops } from "./moves.ts";
import type { Outing } from "./outings.ts";

/**
 * The stops that one outing could make, under numbers of their own. Ways of stop k to fit the day's windows are those from firstWay[k] up to firstWay[k + 1]: the work may
 * start from openMin to lastMin.
 */
export interface DayStops {
  readonly count: number;
  /** Number among all stops. */
  readonly stop: Int32Array;
  readonly block: Int32Array;
  readonly minutes: Int32Array;
  readonly waterL: Float64Array;
  /** Running and, for the way, lateness. */
  readonly firstWay: Int32Array;
  readonly openMin: Int32Array;
  readonly lastMin: Int32Array;
  readonly wayCents: Float64Array;
  /** endStep[k * span + m]: step of time in which the work ends at the earliest when the crew is ready at minute m; -1 when it fits no more. */
  readonly endStep: Int16Array;
  readonly stepMin: number;
  /** From one stop to another in so little time that both may end in one step, and how many may. */
  readonly withinStep: { readonly from: readonly number[]; readonly to: readonly number[]; readonly passes: number };
  readonly span: number;
  readonly outMin: Int32Array;
  readonly outCents: Float64Array;
  readonly homeMin: Int32Array;
  readonly homeCents: Float64Array;
}

/** Times count from the beginning of the shift. */
export function dayStopsOf(problem: Problem, stops: Stops, moves: Moves, { slot, profile }: Outing): DayStops {
  const { routes, calendar } = problem;
  const { minutes, variant, centsPerKm, centsPerWorkMin } = routes.profiles[profile]!;
  const { slotCount, travelMin, travelKm, placeCount, windowTimes, windowFirst, windowLast } = routes;
  const fromMin = routes.fromMin[slot]!;
  const span = routes.toMin[slot]! - fromMin + 1;
  const day = routes.dayOfSlot[slot]!;
  const midnightMin = calendar.dayStartMin[day + 1]! - fromMin;
  const base = routes.startPlace[slot]!;

  const kept: number[] = [];
  const firstWay = [0];
  const opens: number[] = [];
  const lasts: number[] = [];
  const wayCents: number[] = [];
  for (let stop = 0; stop < stops.block.length; stop++) {
    const block = stops.block[stop]!;
    if (routes.could[block * slotCount + slot] === 0) continue;
    const workMin = minutes[block]! < 0 ? routes.ask(profile, block) : minutes[block]!;
    if (workMin === 0) continue;
    const at = variant[block]! * routes.days + day;
    for (let w = windowFirst[at]!; w < windowLast[at]!; w += 2) {
      const open = Math.max(0, windowTimes[w]! - fromMin);
      const last = Math.min(span - 1, windowTimes[w + 1]! - fromMin) - workMin;
      if (open > last) continue;
      opens.push(open);
      lasts.push(last);
      const endsOn = open + workMin > midnightMin ? day + 1 : day;
      wayCents.push(workMin * centsPerWorkMin + lateCents(routes, block, endsOn));
    }
    if (opens.length === firstWay[firstWay.length - 1]) continue;
    firstWay.push(opens.length);
    kept.push(stop);
  }
  const count = kept.length;
  const block = Int32Array.from(kept, (stop) => stops.block[stop]!);
  const ofPlace = (value: (place: number) => number) => kept.map((stop) => value(stops.place[stop]!));
  const work = Int32Array.from(block, (index) => minutes[index]!);
  return {
    count,
    stop: Int32Array.from(kept),
    block,
    minutes: work,
    waterL: Float64Array.from(block, (index) => problem.blocks[index]!.waterL),
    firstWay: Int32Array.from(firstWay),
    openMin: Int32Array.from(opens),
    lastMin: Int32Array.from(lasts),
    wayCents: Float64Array.from(wayCents),
    endStep: earliestEnds(work, firstWay, opens, lasts, span),
    stepMin,
    withinStep: withinStep(stops, moves, kept, work),
    span,
    outMin: Int32Array.from(ofPlace((place) => travelMin[base * placeCount + place]! + moves.firstSetupMin)),
    outCents: Float64Array.from(ofPlace((place) => travelKm[base * placeCount + place]! * centsPerKm)),
    homeMin: Int32Array.from(ofPlace((place) => travelMin[place * placeCount + base]! + moves.packupMin)),
    homeCents: Float64Array.from(ofPlace((place) => travelKm[place * placeCount + base]! * centsPerKm)),
  };
}

/** Our choice: fine enough for a bound. */
const stepMin = 10;

function earliestEnds(
  minutes: Int32Array,
  firstWay: readonly number[],
  opens: readonly number[],
  lasts: readonly number[],
  span: number,
): Int16Array {
  const ends = new Int16Array(minutes.length * span).fill(-1);
  for (let k = 0; k < minutes.length; k++) {
    for (let way = firstWay[k + 1]! - 1; way >= firstWay[k]!; way--) {
      for (let ready = 0; ready <= lasts[way]!; ready++) {
        ends[k * span + ready] = Math.floor((Math.max(ready, opens[way]!) + minutes[k]!) / stepMin);
      }
    }
  }
  return ends;
}

function withinStep(stops: Stops, moves: Moves, kept: readonly number[], work: Int32Array): DayStops["withinStep"] {
  const from: number[] = [];
  const to: number[] = [];
  let shortest = stepMin;
  for (let a = 0; a < kept.length; a++) {
    for (let b = 0; b < kept.length; b++) {
      if (stops.block[kept[a]!] === stops.block[kept[b]!]) continue;
      const minutes = moves.minutes[kept[a]! * stops.block.length + kept[b]!]! + work[b]!;
      if (minutes >= stepMin) continue;
      from.push(a);
      to.push(b);
      shortest = Math.min(shortest, minutes);
    }
  }
  return { from, to, passes: from.length === 0 ? 0 : Math.ceil(stepMin / shortest) };
}
