import { deltaTC, pressurePa } from "../../../../shared/agronomy/air.ts";
import type { Operation } from "../../../../shared/model/operation.ts";
import type { WeatherStep } from "../../../../shared/model/weather.ts";

/** A step of the weather as a screen shows it. */
export interface StationHour {
  readonly step: WeatherStep;
  /** Seconds since 1970. */
  readonly startS: number;
  /** On the operation's clock. */
  readonly date: string;
  readonly clock: string;
  readonly deltaTC: number;
}

export const stationsOf = ({ weather }: Operation): readonly string[] => [
  ...new Set(weather.map(({ stationId }) => stationId)),
];

/** The hours of a station, in order. */
export function stationHours({ settings, weather }: Operation, stationId: string): readonly StationHour[] {
  const airPressurePa = pressurePa(settings.altitudeM);
  const clock = new Intl.DateTimeFormat("sv-SE", {
    timeZone: settings.timeZone,
    dateStyle: "short",
    timeStyle: "short",
  });
  return weather
    .filter((step) => step.stationId === stationId)
    .map((step) => {
      const start = new Date(step.start);
      const [date = "", time = ""] = clock.format(start).split(" ");
      return {
        step,
        startS: start.getTime() / 1000,
        date,
        clock: time,
        deltaTC: deltaTC(step.temperatureC, step.humidityPct, airPressurePa),
      };
    })
    .sort((a, b) => a.startS - b.startS);
}

export interface WindLimits {
  readonly windMaxKph: number | null;
  readonly windMinKph: number | null;
  readonly gustMaxKph: number | null;
}

const strictest = (values: readonly (number | undefined)[], pick: (...values: number[]) => number) => {
  const given = values.filter((value) => value !== undefined);
  return given.length === 0 ? null : pick(...given);
};

/** What any order of the week may be held up by: the operation's own limits, and the labels of what is ordered. Every order and aircraft has its own beside. */
export function windLimits({ orders, products, settings: { limits } }: Operation): WindLimits {
  const ordered = new Set<string>(orders.flatMap((order) => order.products.map(({ productId }) => productId)));
  const labels = products.filter(({ id }) => ordered.has(id));
  const least = strictest(
    labels.map(({ windMinKph }) => windMinKph),
    Math.max,
  );
  return {
    windMaxKph: strictest([limits.windMaxKph, ...labels.map(({ windMaxKph }) => windMaxKph)], Math.min),
    windMinKph: least === 0 ? null : least,
    gustMaxKph: strictest([limits.gustMaxKph, ...labels.map(({ gustMaxKph }) => gustMaxKph)], Math.min),
  };
}

export interface Span {
  readonly fromS: number;
  readonly toS: number;
}

/** What stops the work of every order alike, by how it is told. */
export type Closing = "rain" | "wind" | "gust" | "windLow";

/** The gravest limit that the hour does not keep; null: it is calm. */
export function closingOf(
  { step: { gustKph, rainMm, windKph } }: Pick<StationHour, "step">,
  { gustMaxKph, windMaxKph, windMinKph }: WindLimits,
): Closing | null {
  if (rainMm > 0) return "rain";
  if (windKph > (windMaxKph ?? Infinity)) return "wind";
  if (gustKph > (gustMaxKph ?? Infinity)) return "gust";
  return windKph < (windMinKph ?? 0) ? "windLow" : null;
}

/** Hours of one station in which wind is within the limits and no rain falls, joined where they follow each other. */
export function calmSpans(hours: readonly StationHour[], limits: WindLimits): readonly Span[] {
  const spans: Span[] = [];
  for (const hour of hours) {
    if (closingOf(hour, limits) !== null) continue;
    const { startS, step } = hour;
    const toS = startS + step.stepMin * 60;
    const last = spans.at(-1);
    if (last?.toS === startS) spans[spans.length - 1] = { fromS: last.fromS, toS };
    else spans.push({ fromS: startS, toS });
  }
  return spans;
}
