import { type Calendar, minutesPerHour } from "../model/calendar.ts";
import { clip, gaps, type Interval, totalMin, union } from "./intervals.ts";
import type { InversionLevel } from "./inversion.ts";
import { type Judgement, type LimitName, limitNames, type MinuteLimit } from "./limits.ts";
import type { MinuteRule } from "./minuteRule.ts";
import { worstIn } from "./worst.ts";

export interface Windows {
  /** Sorted and disjoint. */
  readonly windows: readonly Interval[];
  /** Minutes of the horizon that each limit stops, whatever else stops them too; limits that stop none are absent. */
  readonly lostMin: Readonly<Partial<Record<MinuteLimit, number>>>;
}

export interface OrderHour extends Interval {
  /** Minutes of the hour that lie in a window. */
  readonly openMin: number;
  /** Each limit that stops some minute of the hour, as it stands where it is worst. */
  readonly judgements: readonly Judgement[];
  /** The gravest level in the hour, whatever the labels make of it. */
  readonly inversionRisk: InversionLevel;
  /** How far the forecast is trusted in the last minute of the hour. */
  readonly confidenceFrac: number;
}

/** What is known of hours beside what stops them. */
export interface HourFacts {
  /** By hour. */
  readonly inversionLevels: readonly InversionLevel[];
  /** The steps of the forecast that reach into each hour. */
  readonly steps: readonly (readonly Interval[])[];
  confidenceOf(min: number): number;
}

/** Rules that several answers share, with all that they stop put together once. */
export interface RuleSet {
  readonly rules: readonly MinuteRule[];
  readonly stopped: readonly Interval[];
  readonly lostMin: Windows["lostMin"];
}

export type LimitStops = Pick<MinuteRule, "limit" | "stops">;

export function createRuleSet(rules: readonly MinuteRule[]): RuleSet {
  const lostMin: Partial<Record<MinuteLimit, number>> = {};
  for (const { limit, stops } of rules) if (stops.length > 0) lostMin[limit] = totalMin(stops);
  return { rules, stopped: union(rules.flatMap(({ stops }) => stops)), lostMin };
}

/** What the sets leave of the horizon; no limit is in two of them. */
export function windowsOf(sets: readonly RuleSet[], horizonMin: number): Windows {
  return {
    windows: gaps(union(sets.flatMap(({ stopped }) => stopped)), 0, horizonMin),
    lostMin: Object.assign({}, ...sets.map(({ lostMin }) => lostMin)),
  };
}

/** Every limit that stops the minute, in the order in which people are told of them. */
export function judgeMinute(rules: readonly MinuteRule[], min: number): Judgement[] {
  return inTellingOrder(rules.map((rule) => rule.judgeAt(min)).filter((judgement) => judgement !== undefined));
}

/** When each limit stops minutes of the horizon, whatever else stops them; limits in the order in which people are told of them. */
export function stopsByLimit(rules: readonly MinuteRule[]): LimitStops[] {
  return inTellingOrder(rules.map(({ limit, stops }) => ({ limit, stops })));
}

/** The horizon cut every 60 minutes from each local midnight: the last hour of a day on which the clocks change by less is shorter. */
export function hoursOfHorizon({ dates, dayStartMin }: Calendar): Interval[] {
  return dates.flatMap((_, day) => {
    const [midnightMin, nextMin] = [dayStartMin[day]!, dayStartMin[day + 1]!];
    return Array.from({ length: Math.ceil((nextMin - midnightMin) / minutesPerHour) }, (_, hour) => ({
      startMin: midnightMin + hour * minutesPerHour,
      endMin: Math.min(midnightMin + (hour + 1) * minutesPerHour, nextMin),
    }));
  });
}

export function hoursOf(
  hours: readonly Interval[],
  rules: readonly MinuteRule[],
  { windows }: Windows,
  facts: HourFacts,
): OrderHour[] {
  return hours.map(({ startMin, endMin }, hour) => {
    const judgements = rules.map((rule) => worstIn(rule, { startMin, endMin }, facts.steps[hour]!));
    return {
      startMin,
      endMin,
      openMin: totalMin(clip(windows, startMin, endMin)),
      judgements: inTellingOrder(judgements.filter((judgement) => judgement !== undefined)),
      inversionRisk: facts.inversionLevels[hour]!,
      confidenceFrac: facts.confidenceOf(endMin - 1),
    };
  });
}

/** The same hours where limits stop every minute, whatever the hour: none of them is open. */
export function hoursUnder(limits: readonly Judgement[], hours: readonly OrderHour[]): OrderHour[] {
  return hours.map((hour) =>
    limits.length === 0 ? hour : { ...hour, openMin: 0, judgements: [...limits, ...hour.judgements] },
  );
}

function inTellingOrder<Told extends { readonly limit: LimitName }>(told: readonly Told[]): Told[] {
  const rank = ({ limit }: Told) => limitNames.indexOf(limit);
  return [...told].sort((a, b) => rank(a) - rank(b));
}
