import type { Interval } from "./intervals.ts";
import { type Judgement, type MinuteLimit, minuteLimits } from "./limits.ts";
import type { Station } from "./weather.ts";
import type { RuleSet, Windows } from "./windows.ts";
import { relativeExcess, wordExcess, worseOf, worstOfPiece } from "./worst.ts";

/** What stopped an order in every step of its forecast that lies in the horizon; all arrays run by step. */
export interface OrderRecord {
  readonly stepStartMin: Int32Array;
  readonly stepEndMin: Int32Array;
  /** Bit i is set when minuteLimits[i] stops some minute of the step. */
  readonly bits: Uint32Array;
  /** Minutes of the step that lie in a window. */
  readonly openMin: Int32Array;
  /** Index in minuteLimits of the limit that is exceeded most in any minute of the step, as a share of what it allows; -1 when nothing stops. */
  readonly worstLimit: Int8Array;
  /** What was measured against what in the worst minute of the step, NaN for limits told in words. */
  readonly worstActual: Float64Array;
  readonly worstAllowed: Float64Array;
}

/** The forecast's steps that lie in the horizon, at least in part. */
export interface RecordSteps {
  readonly stepStartMin: Int32Array;
  readonly stepEndMin: Int32Array;
}

/** The part of a record that one set of rules answers for; sets are shared by many orders. */
export interface RecordMarks extends Pick<OrderRecord, "bits" | "worstLimit" | "worstActual" | "worstAllowed"> {
  /** How far the worst limit is exceeded, as a share of what it allows; -1 for limits told in words. */
  readonly worstExcess: Float64Array;
}

/** Limits without a figure to measure: their judgements need not be asked for one. */
const wordLimits: readonly MinuteLimit[] = ["dates", "closed", "entry", "daylight", "noForecast", "inversion", "bloom"];
const nothing = -1;

export function recordSteps(station: Station | undefined, horizonMin: number): RecordSteps {
  const steps = (station?.steps ?? []).filter(({ startMin, endMin }) => startMin < horizonMin && endMin > 0);
  return {
    stepStartMin: Int32Array.from(steps, ({ startMin }) => startMin),
    stepEndMin: Int32Array.from(steps, ({ endMin }) => endMin),
  };
}

export function recordMarks({ rules }: RuleSet, steps: RecordSteps): RecordMarks {
  const count = steps.stepStartMin.length;
  const marks: RecordMarks = {
    bits: new Uint32Array(count),
    worstLimit: new Int8Array(count).fill(nothing),
    worstActual: new Float64Array(count).fill(Number.NaN),
    worstAllowed: new Float64Array(count).fill(Number.NaN),
    worstExcess: new Float64Array(count),
  };
  // In telling order, so that of equals the first one told is the worst.
  const inOrder = rules
    .map((rule) => ({ rule, index: minuteLimits.indexOf(rule.limit) }))
    .sort((a, b) => a.index - b.index);
  for (const { rule, index } of inOrder) {
    const isInWords = wordLimits.includes(rule.limit);
    /** By step, where the rule has figures. */
    const worst = new Map<number, Judgement>();
    eachOverlap(steps, rule.stops, (step, stop) => {
      marks.bits[step]! |= 1 << index;
      if (marks.worstLimit[step] === nothing) {
        marks.worstLimit[step] = index;
        marks.worstExcess[step] = wordExcess;
      }
      if (isInWords) return;
      const startMin = Math.max(stop.startMin, steps.stepStartMin[step]!);
      const here = worstOfPiece(rule, { startMin, endMin: Math.min(stop.endMin, steps.stepEndMin[step]!) });
      const before = worst.get(step);
      worst.set(step, before === undefined ? here : worseOf(before, here));
    });
    for (const [step, judgement] of worst) {
      const excess = relativeExcess(judgement);
      if (excess === wordExcess || excess <= marks.worstExcess[step]!) continue;
      marks.worstLimit[step] = index;
      marks.worstActual[step] = Number(judgement.actual);
      marks.worstAllowed[step] = Number(judgement.allowed);
      marks.worstExcess[step] = excess;
    }
  }
  return marks;
}

/** Puts together what the sets of one answer say of each step. No limit is in two of them. */
export function joinRecord(steps: RecordSteps, parts: readonly RecordMarks[], { windows }: Windows): OrderRecord {
  const count = steps.stepStartMin.length;
  const record: OrderRecord = {
    ...steps,
    bits: new Uint32Array(count),
    openMin: new Int32Array(count),
    worstLimit: new Int8Array(count).fill(nothing),
    worstActual: new Float64Array(count).fill(Number.NaN),
    worstAllowed: new Float64Array(count).fill(Number.NaN),
  };
  for (let step = 0; step < count; step++) {
    let worst: RecordMarks | undefined;
    for (const part of parts) {
      record.bits[step]! |= part.bits[step]!;
      if (part.worstLimit[step] !== nothing && isWorse(part, worst, step)) worst = part;
    }
    if (worst === undefined) continue;
    record.worstLimit[step] = worst.worstLimit[step]!;
    record.worstActual[step] = worst.worstActual[step]!;
    record.worstAllowed[step] = worst.worstAllowed[step]!;
  }
  eachOverlap(steps, windows, (step, { startMin, endMin }) => {
    const from = Math.max(startMin, steps.stepStartMin[step]!);
    record.openMin[step]! += Math.min(endMin, steps.stepEndMin[step]!) - from;
  });
  return record;
}

function isWorse(part: RecordMarks, than: RecordMarks | undefined, step: number): boolean {
  if (than === undefined) return true;
  const more = part.worstExcess[step]! - than.worstExcess[step]!;
  return more > 0 || (more === 0 && part.worstLimit[step]! < than.worstLimit[step]!);
}

/** Every pair of a step and an interval that share a minute, both lists in order of time. */
function eachOverlap(
  { stepStartMin, stepEndMin }: RecordSteps,
  intervals: readonly Interval[],
  visit: (step: number, interval: Interval) => void,
): void {
  let first = 0;
  for (const interval of intervals) {
    while (first < stepEndMin.length && stepEndMin[first]! <= interval.startMin) first++;
    for (let step = first; step < stepStartMin.length && stepStartMin[step]! < interval.endMin; step++) {
      visit(step, interval);
    }
  }
}
