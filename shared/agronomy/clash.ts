import type { Calendar } from "../model/calendar.ts";
import { gaps, type Interval, totalMin, union } from "./intervals.ts";
import type { Judgement, MinuteLimit } from "./limits.ts";
import type { MinuteRule } from "./minuteRule.ts";
import { dayAndDate, hoursAndMinutes } from "./timeWords.ts";

/** Bloom and inversion that together leave an order no minute, though each alone would leave some. */
export interface Clash {
  /** Minutes of the horizon within the order's dates and the flying day. */
  readonly flyableMin: number;
  /** How many of them bloom alone would leave, and inversion alone. */
  readonly leftByBloomMin: number;
  readonly leftByInversionMin: number;
  /** Each of the two in the first of those minutes that it stops. */
  readonly bloom: Judgement;
  readonly inversion: Judgement;
  readonly sentence: string;
}

/** The hours that people least expect to be lost: bees leave dawn and dusk, inversions forbid just these. */
export function findClash(rules: readonly MinuteRule[], calendar: Calendar): Clash | undefined {
  const ruleOf = (limit: MinuteLimit) => rules.find((rule) => rule.limit === limit);
  const bloomRule = ruleOf("bloom");
  const inversionRule = ruleOf("inversion");
  if (!bloomRule || !inversionRule) return undefined;
  const apart = union([...(ruleOf("dates")?.stops ?? []), ...(ruleOf("daylight")?.stops ?? [])]);
  const left = (...stops: readonly (readonly Interval[])[]) =>
    gaps(union([apart, ...stops].flat()), 0, calendar.horizonMin);

  const leftByBloomMin = totalMin(left(bloomRule.stops));
  const leftByInversionMin = totalMin(left(inversionRule.stops));
  if (leftByBloomMin === 0 || leftByInversionMin === 0) return undefined;
  if (left(bloomRule.stops, inversionRule.stops).length > 0) return undefined;

  const flyable = left();
  const bloomMin = firstStopped(bloomRule, flyable);
  const inversionMin = firstStopped(inversionRule, flyable);
  const bloom = bloomRule.judgeAt(bloomMin)!;
  const inversion = inversionRule.judgeAt(inversionMin)!;
  // Hours of the bees and of the night move from day to day.
  const words = (judgement: Judgement, min: number, leftMin: number) =>
    `on ${dayAndDate(calendar.dateOfMin(min))} ${judgement.sentence} (alone it would leave ${hoursAndMinutes(leftMin)} in all)`;
  const sentence =
    `bloom and inversion together leave no minute of the ${hoursAndMinutes(totalMin(flyable))} that could be flown: ` +
    `${words(bloom, bloomMin, leftByBloomMin)}; ${words(inversion, inversionMin, leftByInversionMin)}`;
  return { flyableMin: totalMin(flyable), leftByBloomMin, leftByInversionMin, bloom, inversion, sentence };
}

/** A clash leaves none of the minutes open, and neither limit stops all of them: each stops some. */
function firstStopped(rule: MinuteRule, flyable: readonly Interval[]): number {
  for (const { startMin, endMin } of flyable) {
    const stop = rule.stops.find((one) => one.startMin < endMin && one.endMin > startMin);
    if (stop) return Math.max(stop.startMin, startMin);
  }
  throw new Error(`limit ${rule.limit} stops none of the minutes`);
}
