import type { Interval } from "../../../shared/agronomy/intervals.ts";
import type { Judgement, LimitName } from "../../../shared/agronomy/limits.ts";
import { withoutRainAhead } from "../../../shared/agronomy/why.ts";
import { worseOf } from "../../../shared/agronomy/worst.ts";

/** A time that is open, or closed by the same all along. */
export interface Stretch extends Interval {
  /** What stops it, each limit as it stands where it is worst; none: it is open. */
  readonly judgements: readonly Judgement[];
  /** Whether a wind that blows towards a place is not the same all along. */
  readonly hasTurningWind: boolean;
}

/** While a limit of one of these lists stops a minute, nobody asks for those after it: not for the sun when the field is closed, not for the wind at night. */
const askedFirst: readonly (readonly LimitName[])[] = [
  ["dates", "closed", "entry", "rei", "phi", "retreatment"],
  ["daylight"],
];

/** The stretches of [startMin, endMin), in order. `judge` tells what stops a minute. */
export function stretchesOf(judge: (min: number) => readonly Judgement[], { startMin, endMin }: Interval): Stretch[] {
  const stretches: Stretch[] = [];
  let lastKey: string | undefined;
  for (let min = startMin; min < endMin; min++) {
    const judgements = worthTelling(judge(min));
    const key = judgements.map(keyOf).join("\n");
    const last = stretches.at(-1);
    if (last !== undefined && key === lastKey) stretches[stretches.length - 1] = continued(last, judgements);
    else stretches.push({ startMin: min, endMin: min + 1, judgements, hasTurningWind: false });
    lastKey = key;
  }
  return stretches;
}

function worthTelling(judgements: readonly Judgement[]): readonly Judgement[] {
  for (const limits of askedFirst) {
    const first = judgements.filter(({ limit }) => limits.includes(limit));
    if (first.length > 0) return first;
  }
  return withoutRainAhead(judgements);
}

/** Equal for what one line can tell: figures of a limit on one side of what is allowed, of which the worst is told, or the same words. */
function keyOf({ limit, actual, allowed, sentence }: Judgement): string {
  if (typeof actual === "number" && typeof allowed === "number")
    return `${limit} ${actual < allowed ? "under" : "over"}`;
  // The sentence holds the air of each step as evidence; what matters is the level.
  return limit === "inversion" ? `${limit} ${actual}` : `${limit} ${sentence}`;
}

function continued(stretch: Stretch, judgements: readonly Judgement[]): Stretch {
  return {
    startMin: stretch.startMin,
    endMin: stretch.endMin + 1,
    judgements: stretch.judgements.map((judgement, at) => worseOf(judgement, judgements[at]!)),
    hasTurningWind: stretch.hasTurningWind || judgements.some((one, at) => isOtherWind(one, stretch.judgements[at]!)),
  };
}

/** The same place or another one, but another wind towards it. */
function isOtherWind(a: Judgement, b: Judgement): boolean {
  return (a.limit === "drift" || a.limit === "driftNear") && a.sentence !== b.sentence;
}
