import { lateCents } from "../chains.ts";
import type { Problem } from "../problem.ts";
import type { Moves, Stops } from "./moves.ts";
import type { Outing } from "./outings.ts";
import { type Way, waysOf } from "./ways.ts";

/**
 * The stops that one outing could make, under numbers of their own. Ways of stop k to fit the day's windows are those from firstWay[k] up to firstWay[k + 1]: the work may
 * start from openMin to lastMin.
 */
export interface DayStops {
  readonly count: number;
  /** Number among all stops. */
  readonly stop: Int32Array;
  readonly block: Int32Array;
  /** Of work, without pauses. */
  readonly minutes: Int32Array;
  readonly waterL: Float64Array;
  readonly firstWay: Int32Array;
  readonly openMin: Int32Array;
  readonly lastMin: Int32Array;
  readonly lengthMin: Int32Array;
  /** Running and lateness. */
  readonly wayCents: Float64Array;
  /** endStep[k * span + m]: step of time in which the work ends at the earliest when the crew is ready at minute m; -1 when it fits no more. */
  readonly endStep: Int16Array;
  readonly stepMin: number;
  /** From one stop to another in so little time that both may end in one step, and how many may. */
  readonly withinStep: { readonly from: readonly number[]; readonly to: readonly number[]; readonly passes: number };
  readonly span: number;
  /** No route has more. */
  readonly mostStops: number;
  readonly outMin: Int32Array;
  readonly outCents: Float64Array;
  readonly homeMin: Int32Array;
  readonly homeCents: Float64Array;
}

/** Times count from the beginning of the shift. */
export function dayStopsOf(problem: Problem, stops: Stops, moves: Moves, { slot, profile }: Outing): DayStops {
  const { routes, calendar } = problem;
  const { minutes, variant, centsPerKm, centsPerWorkMin } = routes.profiles[profile]!;
  const { planning } = problem.operation.settings;
  const { slotCount, travelMin, travelKm, placeCount, windowTimes, windowFirst, windowLast } = routes;
  const fromMin = routes.fromMin[slot]!;
  const span = routes.toMin[slot]! - fromMin + 1;
  const day = routes.dayOfSlot[slot]!;
  const midnightMin = calendar.dayStartMin[day + 1]! - fromMin;
  const base = routes.startPlace[slot]!;

  const kept: number[] = [];
  const firstWay = [0];
  const ways: Way[] = [];
  const wayCents: number[] = [];
  for (let stop = 0; stop < stops.block.length; stop++) {
    const block = stops.block[stop]!;
    if (routes.could[block * slotCount + slot] === 0) continue;
    const workMin = minutes[block]! < 0 ? routes.ask(profile, block) : minutes[block]!;
    if (workMin === 0) continue;
    const at = variant[block]! * routes.days + day;
    const own = waysOf(planning, windowTimes, windowFirst[at]!, windowLast[at]!, fromMin, span, workMin);
    if (own.length === 0) continue;
    for (const way of own) {
      const endsOn = way.openMin + way.lengthMin > midnightMin ? day + 1 : day;
      const runningMin = workMin + way.pauses * planning.resumeMin;
      ways.push(way);
      wayCents.push(runningMin * centsPerWorkMin + lateCents(routes, block, endsOn));
    }
    firstWay.push(ways.length);
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
    openMin: Int32Array.from(ways, ({ openMin }) => openMin),
    lastMin: Int32Array.from(ways, ({ lastMin }) => lastMin),
    lengthMin: Int32Array.from(ways, ({ lengthMin }) => lengthMin),
    wayCents: Float64Array.from(wayCents),
    endStep: earliestEnds(count, firstWay, ways, span),
    stepMin,
    withinStep: withinStep(stops, moves, kept, work),
    span,
    mostStops: mostStops(block, work, span),
    outMin: Int32Array.from(ofPlace((place) => travelMin[base * placeCount + place]! + moves.firstSetupMin)),
    outCents: Float64Array.from(ofPlace((place) => travelKm[base * placeCount + place]! * centsPerKm)),
    homeMin: Int32Array.from(ofPlace((place) => travelMin[place * placeCount + base]! + moves.packupMin)),
    homeCents: Float64Array.from(ofPlace((place) => travelKm[place * placeCount + base]! * centsPerKm)),
  };
}

/** Our choice: fine enough for a bound. */
const stepMin = 15;

function earliestEnds(count: number, firstWay: readonly number[], ways: readonly Way[], span: number): Int16Array {
  const steps = new Int16Array(count * span).fill(-1);
  for (let k = 0; k < count; k++) {
    for (const { openMin, lastMin, lengthMin } of ways.slice(firstWay[k], firstWay[k + 1])) {
      for (let ready = 0; ready <= lastMin; ready++) {
        const step = Math.floor((Math.max(ready, openMin) + lengthMin) / stepMin);
        const at = k * span + ready;
        if (steps[at]! < 0 || step < steps[at]!) steps[at] = step;
      }
    }
  }
  return steps;
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

/** As many of the shortest works as fit the shift one after the other. */
function mostStops(block: Int32Array, work: Int32Array, span: number): number {
  const shortest = [...new Map(Array.from(block, (one, k) => [one, work[k]!])).values()].sort((a, b) => a - b);
  let count = 0;
  let sumMin = 0;
  while (count < shortest.length && sumMin + shortest[count]! < span) sumMin += shortest[count++]!;
  return count;
}
