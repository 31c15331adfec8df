import { clip, type Interval } from "./intervals.ts";
import { inversionLevels } from "./inversion.ts";
import type { Judgement } from "./limits.ts";
import type { MinuteRule } from "./minuteRule.ts";

/** Our choice: any figure is worse than words, since it can be compared. */
export const wordExcess = -1;

/** How far a figure lies beyond its limit, as a share of the limit; beyond a limit of zero without bound. */
export function relativeExcess({ actual, allowed }: Judgement): number {
  if (typeof actual !== "number" || typeof allowed !== "number") return wordExcess;
  return actual === allowed ? 0 : Math.abs(actual - allowed) / Math.abs(allowed);
}

/** The worse of two judgements of one limit, the first of equals. */
export function worseOf(a: Judgement, b: Judgement): Judgement {
  if (a.limit === "inversion") return levelOf(b) > levelOf(a) ? b : a;
  // Rain is told in mm or in per cent, harvest in days or in hours: only as shares of what is allowed do they compare.
  const measure = a.unit === b.unit && a.allowed === b.allowed ? excess : relativeExcess;
  return measure(b) > measure(a) ? b : a;
}

/** A rule as it stands where it is worst in a stretch; undefined when it stops none of its minutes. */
export function worstIn(rule: MinuteRule, stretch: Interval, steps: readonly Interval[]): Judgement | undefined {
  const edges = steps.flatMap(({ startMin, endMin }) => [startMin, endMin]);
  const cuts = [...edges, stretch.endMin]
    .filter((min) => min > stretch.startMin && min <= stretch.endMin)
    .sort((a, b) => a - b);
  let [fromMin, worst] = [stretch.startMin, undefined as Judgement | undefined];
  for (const toMin of cuts) {
    for (const piece of clip(rule.stops, fromMin, toMin)) {
      const here = worstOfPiece(rule, piece);
      worst = worst === undefined ? here : worseOf(worst, here);
    }
    fromMin = toMin;
  }
  return worst;
}

/** The worst of minutes that the rule stops, all in one step or in none. */
export function worstOfPiece({ judgeAt, turnsMin }: MinuteRule, { startMin, endMin }: Interval): Judgement {
  const first = judgeAt(startMin)!;
  if (turnsMin === undefined) return first;
  const turns = turnsMin.filter((min) => min > startMin && min < endMin - 1);
  return [...turns, endMin - 1].map((min) => judgeAt(min)!).reduce(worseOf, first);
}

function levelOf({ actual }: Judgement): number {
  return (inversionLevels as readonly Judgement["actual"][]).indexOf(actual);
}

function excess({ actual, allowed }: Judgement): number {
  return typeof actual === "number" && typeof allowed === "number" ? Math.abs(actual - allowed) : wordExcess;
}
