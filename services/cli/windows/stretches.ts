import { clip, type Interval } from "../../../shared/agronomy/intervals.ts";
import type { Judgement, LimitName } from "../../../shared/agronomy/limits.ts";
import type { OrderHour } from "../../../shared/agronomy/windows.ts";

/** A time that is open, or closed by the same limits all along. */
export interface Stretch extends Interval {
  /** What stops it, each limit as it stands where it is worst; none: it is open. */
  readonly judgements: readonly Judgement[];
}

/** While a limit of one of these lists stops an hour, nobody asks for those after it: not for the sun when the field is closed, not for the wind at night. */
const askedFirst: readonly (readonly LimitName[])[] = [
  ["dates", "closed", "entry", "rei", "phi", "retreatment"],
  ["daylight"],
];

/** The stretches of [startMin, endMin), in order. `judge` tells what stops a minute. */
export function stretchesOf(
  hours: readonly OrderHour[],
  judge: (min: number) => readonly Judgement[],
  { startMin, endMin }: Interval,
): Stretch[] {
  const merged: Stretch[] = [];
  for (const hour of hours) {
    for (const part of clip([hour], startMin, endMin)) {
      for (const piece of piecesOf(hour, judge, part)) {
        const last = merged.at(-1);
        if (last !== undefined && keyOf(last.judgements) === keyOf(piece.judgements)) {
          merged[merged.length - 1] = joined(last, piece);
        } else {
          merged.push(piece);
        }
      }
    }
  }
  return merged;
}

/** An hour that is the same from end to end is one piece; another is looked at minute by minute. */
function piecesOf(hour: OrderHour, judge: (min: number) => readonly Judgement[], span: Interval): Stretch[] {
  const { startMin, endMin } = span;
  const judgements = worthTelling(hour.judgements);
  const isSameAt = (min: number) => keyOf(worthTelling(judge(min))) === keyOf(judgements);
  if (hour.openMin === 0 ? isSameAt(startMin) && isSameAt(endMin - 1) : judgements.length === 0) {
    return [{ startMin, endMin, judgements }];
  }
  return Array.from({ length: endMin - startMin }, (_, index) => ({
    startMin: startMin + index,
    endMin: startMin + index + 1,
    judgements: worthTelling(judge(startMin + index)),
  }));
}

function keyOf(judgements: readonly Judgement[]): string {
  return judgements.map(({ limit }) => limit).join();
}

function worthTelling(judgements: readonly Judgement[]): readonly Judgement[] {
  for (const limits of askedFirst) {
    const first = judgements.filter(({ limit }) => limits.includes(limit));
    if (first.length > 0) return first;
  }
  // While it rains, nobody asks whether it will.
  const isRain = judgements.some(({ limit }) => limit === "rain");
  return isRain ? judgements.filter(({ limit }) => limit !== "rainfast") : judgements;
}

/** Two stretches, one after the other, that the same limits stop. */
function joined(first: Stretch, second: Stretch): Stretch {
  const judgements = first.judgements.map((judgement, at) => worse(judgement, second.judgements[at]!));
  return { startMin: first.startMin, endMin: second.endMin, judgements };
}

function worse(a: Judgement, b: Judgement): Judgement {
  return a.unit === b.unit && excess(b) > excess(a) ? b : a;
}

/** How far beyond what is allowed; words have no measure. */
function excess({ actual, allowed }: Judgement): number {
  return typeof actual === "number" && typeof allowed === "number" ? Math.abs(actual - allowed) : 0;
}
