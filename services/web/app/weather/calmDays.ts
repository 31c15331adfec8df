import { addDays } from "../../../../shared/model/days.ts";
import type { Settings } from "../../../../shared/model/settings.ts";
import { type Closing, calmSpans, closingOf, type Span, type StationHour, type WindLimits } from "./stationHours.ts";

/** A stretch of a day's strip, in shares of 24 hours. */
export interface Stretch {
  readonly from: number;
  readonly to: number;
}

export interface CalmDay {
  readonly date: string;
  /** What the day is drawn of; none where no weather is known. */
  readonly cells: readonly (Stretch & { readonly closing: Closing | null })[];
  /** Outside the flying day. */
  readonly nights: readonly Stretch[];
  /** Calm and in the flying day, clocks as 05:30. */
  readonly calm: readonly { readonly from: string; readonly to: string }[];
  readonly calmS: number;
  /** What closes the flying day where it is not calm, most first. */
  readonly closed: readonly { readonly closing: Closing; readonly seconds: number }[];
}

const daySeconds = 86_400;
const shareOf = (clock: string) => (Number(clock.slice(0, 2)) * 3600 + Number(clock.slice(3, 5)) * 60) / daySeconds;

/** The days of the plan, each with what is calm in it at one station. */
export function calmDays(
  hours: readonly StationHour[],
  limits: WindLimits,
  flying: readonly Span[],
  { days, firstDay, timeZone }: Pick<Settings, "days" | "firstDay" | "timeZone">,
): readonly CalmDay[] {
  const clock = clockIn(timeZone);
  return Array.from({ length: days }, (_, day) => {
    const date = addDays(firstDay, day);
    const own = hours.filter((hour) => hour.date === date);
    const cells = own.map((hour) => {
      const from = shareOf(hour.clock);
      return { from, to: Math.min(1, from + (hour.step.stepMin * 60) / daySeconds), closing: closingOf(hour, limits) };
    });
    const calm = calmSpans(own, limits).flatMap((span) => shared(span, flying));
    const closedS = new Map<Closing, number>();
    for (const hour of own) {
      const closing = closingOf(hour, limits);
      if (closing === null) continue;
      const span = { fromS: hour.startS, toS: hour.startS + hour.step.stepMin * 60 };
      closedS.set(closing, (closedS.get(closing) ?? 0) + lengthS(shared(span, flying)));
    }
    const light = flying
      .filter(({ fromS }) => clock(fromS).date === date)
      .map(({ fromS, toS }) => ({
        from: shareOf(clock(fromS).time),
        to: clock(toS).date === date ? shareOf(clock(toS).time) : 1,
      }));
    return {
      date,
      cells,
      nights: gapsOf(light),
      calm: calm.map(({ fromS, toS }) => ({ from: clock(fromS).time, to: clock(toS).time })),
      calmS: lengthS(calm),
      closed: [...closedS]
        .filter(([, seconds]) => seconds > 0)
        .map(([closing, seconds]) => ({ closing, seconds }))
        .sort((a, b) => b.seconds - a.seconds),
    };
  });
}

const shared = ({ fromS, toS }: Span, spans: readonly Span[]): readonly Span[] =>
  spans
    .map((span) => ({ fromS: Math.max(fromS, span.fromS), toS: Math.min(toS, span.toS) }))
    .filter((span) => span.toS > span.fromS);

const lengthS = (spans: readonly Span[]) => spans.reduce((sum, { fromS, toS }) => sum + toS - fromS, 0);

function gapsOf(stretches: readonly Stretch[]): readonly Stretch[] {
  const edges = [{ from: 0, to: 0 }, ...stretches, { from: 1, to: 1 }];
  return edges
    .slice(1)
    .map(({ from }, at) => ({ from: edges[at]!.to, to: from }))
    .filter(({ from, to }) => to > from);
}

function clockIn(timeZone: string) {
  const form = new Intl.DateTimeFormat("sv-SE", { timeZone, dateStyle: "short", timeStyle: "short" });
  return (seconds: number) => {
    const [date = "", time = ""] = form.format(new Date(seconds * 1000)).split(" ");
    return { date, time };
  };
}
