import type { Interval } from "../../../shared/agronomy/intervals.ts";
import type { Judgement, LimitName } from "../../../shared/agronomy/limits.ts";

/** A time that is open, or closed by the same all along. */
export interface Stretch extends Interval {
  /** What stops it, each limit as it stands where it is worst; none: it is open. */
  readonly judgements: readonly Judgement[];
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
    else stretches.push({ startMin: min, endMin: min + 1, judgements });
    lastKey = key;
  }
  return stretches;
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
    judgements: stretch.judgements.map((judgement, at) => worse(judgement, judgements[at]!)),
  };
}

/** The one farther beyond what is allowed; words have no measure. */
function worse(a: Judgement, b: Judgement): Judgement {
  const measure = a.unit === b.unit ? excess : relativeExcess;
  return measure(b) > measure(a) ? b : a;
}

function excess({ actual, allowed }: Judgement): number {
  return typeof actual === "number" && typeof allowed === "number" ? Math.abs(actual - allowed) : 0;
}

/** Rain is told in mm or in per cent, harvest in days or in hours: only as shares of what is allowed do they compare. */
function relativeExcess(judgement: Judgement): number {
  return excess(judgement) / Math.abs(Number(judgement.allowed));
}
