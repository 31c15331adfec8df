import type { Calendar } from "../model/calendar.ts";
import { clockTold } from "../model/clockReadings.ts";
import { type Interval, intervalAt } from "./intervals.ts";
import type { Judgement } from "./limits.ts";
import { dayAndDate, spanSeenFrom } from "./timeWords.ts";

/** What is asked about: one order under one kind of aircraft. */
export interface Asked {
  /** What stops it at every minute. */
  readonly always: readonly Judgement[];
  readonly windows: readonly Interval[];
  /** Those of the part that is far from places downwind; none when the order has no such part. */
  readonly restWindows: readonly Interval[];
  judge(min: number): readonly Judgement[];
}

/** One sentence that answers whether the order may be worked at a minute, why not, and when instead. */
export function whySentence(asked: Asked, min: number, calendar: Calendar): string {
  const at = `${dayAndDate(calendar.dateOfMin(min))} ${clockTold(calendar, min)}`;
  if (asked.always.length > 0) return `${at}: no, nor at any other time: ${sentences(asked.always)}`;
  if (min < 0 || min >= calendar.horizonMin) {
    const [first, last] = [calendar.dates[0]!, calendar.dates[calendar.dates.length - 1]!];
    return `${at}: no, it lies outside the plan, which goes from ${dayAndDate(first)} to ${dayAndDate(last)}`;
  }
  const window = intervalAt(asked.windows, min);
  if (window)
    return `${at}: yes, open from ${spanSeenFrom(window, min, calendar)}; ${endWords(asked, window, calendar)}`;
  const rest = intervalAt(asked.restWindows, min);
  const farther = rest ? `; farther ground is open from ${spanSeenFrom(rest, min, calendar)}` : "";
  return `${at}: no, ${sentences(asked.judge(min))}${farther}; ${instead(asked.windows, min, calendar)}`;
}

function sentences(judgements: readonly Judgement[]): string {
  return withoutRainAhead(judgements)
    .map(({ sentence }) => sentence)
    .join("; ");
}

/** While it rains, nobody asks whether it will. */
export function withoutRainAhead(judgements: readonly Judgement[]): readonly Judgement[] {
  const isRain = judgements.some(({ limit }) => limit === "rain");
  return isRain ? judgements.filter(({ limit }) => limit !== "rainfast") : judgements;
}

function endWords(asked: Asked, { endMin }: Interval, calendar: Calendar): string {
  return endMin < calendar.horizonMin ? `then ${sentences(asked.judge(endMin))}` : "then the plan ends";
}

/** The next open time, or else the last one before. */
function instead(windows: readonly Interval[], min: number, calendar: Calendar): string {
  const next = windows.find(({ startMin }) => startMin > min);
  if (next) return `the next open hour is ${spanSeenFrom(next, min, calendar)}`;
  const last = windows[windows.length - 1];
  if (last) return `no open hour comes after it, the last was ${spanSeenFrom(last, min, calendar)}`;
  return "no hour of the plan is open";
}
