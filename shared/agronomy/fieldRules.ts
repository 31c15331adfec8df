import { addDays, type Calendar, daysBetween, minutesPerHour } from "../model/calendar.ts";
import { readingsOf } from "../model/clockReadings.ts";
import { shortDateWords } from "../model/dateWords.ts";
import type { FieldProperties } from "../model/field.ts";
import type { Order } from "../model/order.ts";
import { clip, type Interval, union } from "./intervals.ts";
import type { Judgement } from "./limits.ts";
import type { MinuteRule } from "./minuteRule.ts";
import type { Mix } from "./mix.ts";

/** Limits by the order's own dates. */
export function datesRule(order: Order, calendar: Calendar): MinuteRule {
  const earliestMin = calendar.minOfLocal(order.earliest);
  const latestMin = calendar.minOfLocal(order.latest);
  const { horizonMin } = calendar;
  const judgement = (min: number, allowed: string, sentence: string): Judgement => ({
    limit: "dates",
    actual: localTime(calendar, min),
    allowed,
    unit: "",
    sentence,
  });
  const begins = `order begins on ${firstReading(calendar, order.earliest)}`;
  const ended = `order ended on ${firstReading(calendar, order.latest)}`;
  return {
    limit: "dates",
    stops: clip(
      union([
        { startMin: 0, endMin: earliestMin },
        { startMin: latestMin, endMin: horizonMin },
      ]),
      0,
      horizonMin,
    ),
    judgeAt: (min) => {
      if (min < earliestMin) return judgement(min, order.earliest, begins);
      if (min + 1 > latestMin) return judgement(min, order.latest, ended);
      return undefined;
    },
  };
}

/** Limits by what people do on the field: closures, entries and the re-entry interval before both. */
export function peopleRules(field: FieldProperties, mix: Mix, calendar: Calendar): MinuteRule[] {
  const inHorizon = (intervals: readonly Interval[]) => clip(union(intervals), 0, calendar.horizonMin);
  const closures = field.closures.map((closure) => ({
    ...closure,
    ...span(calendar, closure),
    sentence: `field closed until ${lastReading(calendar, closure.to)}: ${closure.reason}`,
  }));
  const entries = field.entries.map((entry) => ({
    ...entry,
    ...span(calendar, entry),
    sentence: `people in the field until ${lastReading(calendar, entry.to)}: ${entry.who}`,
  }));
  /** Of several at once the one that ends last is told: only then is the field free. */
  const lastToEnd = <Span extends Interval>(spans: readonly Span[], min: number) =>
    spans
      .filter(({ startMin, endMin }) => startMin < min + 1 && endMin > min)
      .reduce<Span | undefined>((last, one) => (last && last.endMin >= one.endMin ? last : one), undefined);
  const arrivals = [
    ...entries.map(({ startMin, from, who }) => ({
      startMin,
      words: `entry by ${who} on ${firstReading(calendar, from)}`,
    })),
    ...closures
      .filter(({ people }) => people)
      .map(({ startMin, from, reason }) => ({
        startMin,
        words: `people are in the field from ${firstReading(calendar, from)} (${reason})`,
      })),
  ].sort((a, b) => a.startMin - b.startMin);

  return [
    {
      limit: "closed",
      stops: inHorizon(closures),
      judgeAt: (min) => {
        const closure = lastToEnd(closures, min);
        return (
          closure && {
            limit: "closed",
            actual: localTime(calendar, min),
            allowed: closure.to,
            unit: "",
            sentence: closure.sentence,
          }
        );
      },
    },
    {
      limit: "entry",
      stops: inHorizon(entries),
      judgeAt: (min) => {
        const entry = lastToEnd(entries, min);
        return (
          entry && {
            limit: "entry",
            actual: localTime(calendar, min),
            allowed: entry.to,
            unit: "",
            sentence: entry.sentence,
          }
        );
      },
    },
    {
      limit: "rei",
      stops: inHorizon(arrivals.map(({ startMin }) => ({ startMin: startMin - mix.reiMin, endMin: startMin }))),
      // The hours left grow fewer up to each arrival.
      turnsMin: arrivals.map(({ startMin }) => startMin - 1),
      judgeAt: (min) => {
        const next = arrivals.find(({ startMin }) => startMin > min && min + 1 + mix.reiMin > startMin);
        return (
          next && {
            limit: "rei",
            actual: (next.startMin - (min + 1)) / minutesPerHour,
            allowed: mix.reiHours,
            unit: "h",
            sentence: `${next.words}, label wants ${mix.reiHours} h before re-entry`,
          }
        );
      },
    },
  ];
}

/** Limits by the harvest ahead and the applications behind. */
export function intervalRules(field: FieldProperties, mix: Mix, calendar: Calendar): MinuteRule[] {
  const rules: MinuteRule[] = [];
  const { harvestDate } = field;
  if (harvestDate !== undefined) {
    const harvestMin = calendar.minOfDate(harvestDate);
    const firstDayWithout = addDays(harvestDate, 1 - mix.phiDays);
    const lastDayEndMin = calendar.minOfDate(firstDayWithout);
    const startMin = Math.min(lastDayEndMin, harvestMin - mix.reiMin);
    // The same words on every day of a week.
    const [harvestOn, noWorkFrom] = [dateTold(calendar, harvestDate), dateTold(calendar, firstDayWithout)];
    const sentenceAt = (min: number) => {
      if (min >= harvestMin) return `harvest is due on ${harvestOn}, no work on the field from that day on`;
      return min >= lastDayEndMin
        ? `harvest begins on ${harvestOn}, label wants ${dayCount(mix.phiDays)} before it, no work from ${noWorkFrom} on`
        : `harvest begins on ${harvestOn}, label wants ${mix.reiHours} h before re-entry`;
    };
    rules.push({
      limit: "phi",
      stops: clip([{ startMin, endMin: calendar.horizonMin }], 0, calendar.horizonMin),
      turnsMin: [lastDayEndMin - 1],
      judgeAt: (min) => {
        if (min < startMin) return undefined;
        const sentence = sentenceAt(min);
        if (min < lastDayEndMin) {
          const actual = (harvestMin - (min + 1)) / minutesPerHour;
          return { limit: "phi", actual, allowed: mix.reiHours, unit: "h", sentence };
        }
        const actual = daysBetween(calendar.dateOfMin(min), harvestDate);
        return { limit: "phi", actual, allowed: mix.phiDays, unit: "days", sentence };
      },
    });
  }

  const past = field.pastApplications
    .flatMap(({ productId, endedAt }) => {
      const mixed = mix.products.find(({ product }) => product.id === productId);
      if (!mixed) return [];
      const endedOn = endedAt.slice(0, "2027-06-07".length);
      const retreatmentDays = mixed.use?.retreatmentDays ?? 0;
      const until = addDays(endedOn, retreatmentDays);
      const wanted =
        retreatmentDays > 0
          ? `label wants ${dayCount(retreatmentDays)} between applications, no work before ${dateTold(calendar, until)}`
          : "no work before that day";
      const sentence = `${mixed.product.name} was applied on ${dateTold(calendar, endedOn)}, ${wanted}`;
      return [{ endedOn, retreatmentDays, sentence, endMin: calendar.minOfDate(until) }];
    })
    // The one that must be waited for longest is told.
    .sort((a, b) => b.endMin - a.endMin);
  rules.push({
    limit: "retreatment",
    stops: clip(union(past.map(({ endMin }) => ({ startMin: 0, endMin }))), 0, calendar.horizonMin),
    judgeAt: (min) => {
      const [longest] = past;
      if (longest === undefined || min >= longest.endMin) return undefined;
      const { endedOn, retreatmentDays, sentence } = longest;
      const days = daysBetween(endedOn, calendar.dateOfMin(min));
      return {
        limit: "retreatment",
        actual: days,
        allowed: retreatmentDays,
        unit: "days",
        sentence,
      };
    },
  });
  return rules;
}

function span(calendar: Calendar, times: { from: string; to: string }): Interval {
  return { startMin: calendar.minOfLocal(times.from), endMin: calendar.lastMinOfLocal(times.to) };
}

function localTime(calendar: Calendar, min: number): string {
  return `${calendar.dateOfMin(min)}T${calendar.clockOfMin(min)}`;
}

/** A day without the year where that is plain. */
function dateTold({ dates }: Calendar, date: string): string {
  return shortDateWords(date, dates[0]!);
}

/** `Mon 7 June 05:30` of 2027-06-07T05:30; of a time that the clocks show twice the first. */
function firstReading(calendar: Calendar, localDateTime: string): string {
  return reading(calendar, localDateTime, "first");
}

function lastReading(calendar: Calendar, localDateTime: string): string {
  return reading(calendar, localDateTime, "second");
}

function reading(calendar: Calendar, localDateTime: string, which: "first" | "second"): string {
  const isTwice = readingsOf(calendar, localDateTime).length > 1;
  const [date, clock] = localDateTime.split("T");
  return `${dateTold(calendar, date!)} ${clock}${isTwice ? ` (${which} time)` : ""}`;
}

function dayCount(days: number): string {
  return days === 1 ? "1 day" : `${days} days`;
}
