import type { Interval } from "./intervals.ts";
import { type MinuteLimit, minuteLimits } from "./limits.ts";
import type { Station } from "./weather.ts";
import type { RuleSet, Windows } from "./windows.ts";

/** What stopped an order in every step of its forecast that lies in the horizon; all arrays run by step. */
export interface OrderRecord {
  readonly stepStartMin: Int32Array;
  readonly stepEndMin: Int32Array;
  /** Bit i is set when minuteLimits[i] stops some minute of the step. */
  readonly bits: Uint32Array;
  /** Minutes of the step that lie in a window. */
  readonly openMin: Int32Array;
  /** Index in minuteLimits of the limit with the greatest relative excess; -1 when nothing stops. */
  readonly worstLimit: Int8Array;
  /** What was measured against what, NaN for limits told in words. */
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
/** Our choice: any figure is worse than words, since it can be compared. */
const wordExcess = -1;
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
    eachOverlap(steps, rule.stops, (step, stop) => {
      const bit = 1 << index;
      if ((marks.bits[step]! & bit) !== 0) return;
      marks.bits[step]! |= bit;
      let [actual, allowed, excess] = [Number.NaN, Number.NaN, wordExcess];
      if (!isInWords) {
        const judgement = rule.judgeAt(Math.max(stop.startMin, steps.stepStartMin[step]!));
        if (typeof judgement?.actual === "number" && typeof judgement.allowed === "number") {
          ({ actual, allowed } = { actual: judgement.actual, allowed: judgement.allowed });
          excess = relativeExcess(actual, allowed);
        }
      }
      if (marks.worstLimit[step] !== nothing && excess <= marks.worstExcess[step]!) return;
      marks.worstLimit[step] = index;
      marks.worstActual[step] = actual;
      marks.worstAllowed[step] = allowed;
      marks.worstExcess[step] = excess;
    });
  }
  return marks;
}

/** How far a figure lies beyond its limit, as a share of the limit; beyond a limit of zero without bound. */
function relativeExcess(actual: number, allowed: number): number {
  return actual === allowed ? 0 : Math.abs(actual - allowed) / Math.abs(allowed);
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
