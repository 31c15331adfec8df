import { type Calendar, minutesPerHour } from "../model/calendar.ts";
import { rememberBy } from "../model/remember.ts";
import type { Limits } from "../model/settings.ts";
import type { AirBounds, Bound } from "./airBounds.ts";
import { clip, gaps, type Interval, union } from "./intervals.ts";
import { figures, type Judgement, type MinuteLimit, shortest } from "./limits.ts";
import type { MinuteRule } from "./minuteRule.ts";
import { startSeenFrom } from "./timeWords.ts";
import { type AirStep, type Station, stepAt } from "./weather.ts";
import { windAtHeightKph } from "./windProfile.ts";

/** A limit that one step alone decides: the figure, between what it must lie, and how people say it. */
interface StepLimit {
  readonly limit: MinuteLimit;
  readonly unit: string;
  figureOf(step: AirStep, bounds: AirBounds): number;
  least(bounds: AirBounds): Bound | undefined;
  most(bounds: AirBounds): Bound | undefined;
  words(figure: string, step: AirStep, bounds: AirBounds): string;
}

const none = () => undefined;

const stepLimits: readonly StepLimit[] = [
  {
    limit: "windLow",
    unit: "km/h",
    figureOf: meanWindKph,
    least: ({ windMinKph }) => windMinKph,
    most: none,
    words: windWords,
  },
  {
    limit: "wind",
    unit: "km/h",
    figureOf: meanWindKph,
    least: none,
    most: ({ windMaxKph }) => windMaxKph,
    words: windWords,
  },
  {
    limit: "gust",
    unit: "km/h",
    figureOf: ({ gustKph }) => gustKph,
    least: none,
    most: ({ gustMaxKph }) => gustMaxKph,
    words: (figure) => `gusts ${figure} km/h`,
  },
  {
    limit: "deltaT",
    unit: "°C",
    figureOf: ({ deltaTC }) => deltaTC,
    least: ({ deltaTMinC }) => deltaTMinC,
    most: ({ deltaTMaxC }) => deltaTMaxC,
    words: (figure) => `Delta T ${figure} °C`,
  },
  {
    limit: "temperature",
    unit: "°C",
    figureOf: ({ temperatureC }) => temperatureC,
    least: ({ temperatureMinC }) => temperatureMinC,
    most: ({ temperatureMaxC }) => temperatureMaxC,
    words: (figure) => `temperature ${figure} °C`,
  },
  {
    limit: "humidity",
    unit: "%",
    figureOf: ({ humidityPct }) => humidityPct,
    least: ({ humidityMinPct }) => humidityMinPct,
    most: ({ humidityMaxPct }) => humidityMaxPct,
    words: (figure) => `humidity ${figure} %`,
  },
];

/** The mean wind where its limits hold. */
function meanWindKph({ windKph, windHeightM }: AirStep, { windHeightM: wantedM }: AirBounds): number {
  return wantedM === undefined ? windKph : windAtHeightKph(windKph, windHeightM, wantedM);
}

/** With the figure of the forecast beside it where that is another. */
function windWords(figure: string, { windKph, windHeightM }: AirStep, { windHeightM: wantedM }: AirBounds): string {
  if (wantedM === undefined) return `wind ${figure} km/h`;
  const given = wantedM === windHeightM ? "" : ` (${shortest(windKph, 1)} km/h at ${windHeightM} m)`;
  return `wind ${figure} km/h at ${wantedM} m${given}`;
}

/** A station, and when its air stops work, which many sets of bounds share limit by limit. */
export interface StationAir {
  readonly station: Station;
  stopsOf(stepLimit: StepLimit, bounds: AirBounds): readonly Interval[];
}

export function createStationAir(station: Station, horizonMin: number): StationAir {
  const stopsOf = rememberBy(
    (stepLimit: StepLimit, bounds: AirBounds) =>
      [
        stepLimit.limit,
        stepLimit.least(bounds)?.value,
        stepLimit.most(bounds)?.value,
        stepLimit.unit === "km/h" ? bounds.windHeightM : undefined,
      ].join(" "),
    (stepLimit: StepLimit, bounds: AirBounds) => clip(union(stepsOutside(stepLimit, station, bounds)), 0, horizonMin),
  );
  return { station, stopsOf };
}

function stepsOutside(stepLimit: StepLimit, { steps }: Station, bounds: AirBounds): AirStep[] {
  const least = stepLimit.least(bounds)?.value;
  const most = stepLimit.most(bounds)?.value;
  if (least === undefined && most === undefined) return [];
  return steps.filter((step) => {
    const figure = stepLimit.figureOf(step, bounds);
    return (least !== undefined && figure < least) || (most !== undefined && figure > most);
  });
}

function judgeStep(stepLimit: StepLimit, step: AirStep, bounds: AirBounds): Judgement | undefined {
  const { limit, unit } = stepLimit;
  const actual = stepLimit.figureOf(step, bounds);
  const [least, most] = [stepLimit.least(bounds), stepLimit.most(bounds)];
  const told = (bound: Bound, asks: string): Judgement => {
    const [figure, allowed] = figures(actual, bound.value);
    const sentence = `${stepLimit.words(figure, step, bounds)}, ${bound.whose} ${asks} ${allowed} ${unit}`;
    return { limit, actual, allowed: bound.value, unit, sentence };
  };
  if (least && actual < least.value) return told(least, "wants at least");
  if (most && actual > most.value) return told(most, "allows");
  return undefined;
}

/** All limits that the air at a station sets, for one set of bounds. */
export function airRules(
  { station, stopsOf }: StationAir,
  bounds: AirBounds,
  rainfastMin: number,
  limits: Limits,
  calendar: Calendar,
): MinuteRule[] {
  const inHorizon = (intervals: readonly Interval[]) => clip(union(intervals), 0, calendar.horizonMin);
  const rules = stepLimits.map(
    (stepLimit): MinuteRule => ({
      limit: stepLimit.limit,
      stops: stopsOf(stepLimit, bounds),
      judgeAt: (min) => {
        const step = stepAt(station, min);
        return step && judgeStep(stepLimit, step, bounds);
      },
    }),
  );
  const rainSteps = station.steps.filter((step) => step.isRain);
  rules.push({
    limit: "rain",
    stops: inHorizon(rainSteps),
    judgeAt: (min) => {
      const step = stepAt(station, min);
      return step?.isRain ? rainNow(step, limits) : undefined;
    },
  });

  // A label without a rainfast period looks no further than the minute itself.
  const uncovered = gaps(union(station.steps), 0, calendar.horizonMin + rainfastMin);
  const noStepAt = (min: number): Judgement | undefined =>
    stepAt(station, min) ? undefined : noForecast(station, `no forecast from station ${station.id} at this time`);
  if (rainfastMin === 0) {
    rules.push({ limit: "noForecast", stops: inHorizon(uncovered), judgeAt: noStepAt });
    return rules;
  }
  // [m+1, m+1+R) meets [from, to) when m lies in [from-R, to-1).
  const before = ({ startMin, endMin }: Interval) => ({ startMin: startMin - rainfastMin, endMin: endMin - 1 });
  const rainfast = `${figureHours(rainfastMin)} h`;
  rules.push({
    limit: "noForecast",
    stops: inHorizon([...uncovered, ...uncovered.map(before)]),
    judgeAt: (min) =>
      noStepAt(min) ??
      (gaps(station.steps, min + 1, min + 1 + rainfastMin).length > 0
        ? noForecast(station, `no forecast from station ${station.id} for all of the ${rainfast} after it`)
        : undefined),
  });
  rules.push({
    limit: "rainfast",
    stops: inHorizon(rainSteps.map(before)),
    turnsMin: [],
    judgeAt: (min) => {
      const next = rainSteps.find((step) => step.startMin < min + 1 + rainfastMin && step.endMin > min + 1);
      if (!next) return undefined;
      const dryMin = Math.max(0, next.startMin - (min + 1));
      return {
        limit: "rainfast",
        actual: dryMin / minutesPerHour,
        allowed: rainfastMin / minutesPerHour,
        unit: "h",
        sentence: `rain from ${startSeenFrom(next.startMin, min, calendar)}, label wants ${rainfast} without rain after it`,
      };
    },
  });
  return rules;
}

/** Tells the figure that was compared: the amount where that makes it rain, else the probability. */
function rainNow(step: AirStep, limits: Limits): Judgement {
  const { rainMm, stepMin, hourlyRainMm, rainProbabilityPct } = step;
  if (hourlyRainMm >= limits.rainMm) {
    const hourly = stepMin < minutesPerHour ? ` in ${stepMin} min, ${shortest(hourlyRainMm, 2)} mm an hour` : "";
    const sentence = `rain ${shortest(rainMm, 3)} mm${hourly}, counts as rain from ${limits.rainMm} mm`;
    return { limit: "rain", actual: hourlyRainMm, allowed: limits.rainMm, unit: "mm", sentence };
  }
  const sentence = `rain probability ${rainProbabilityPct} %, counts as rain from ${limits.rainProbabilityPct} %`;
  return { limit: "rain", actual: rainProbabilityPct, allowed: limits.rainProbabilityPct, unit: "%", sentence };
}

function noForecast(station: Station, sentence: string): Judgement {
  return { limit: "noForecast", actual: "none", allowed: `a step of station ${station.id}`, unit: "", sentence };
}

function figureHours(min: number): string {
  return String(Number((min / minutesPerHour).toFixed(2)));
}
