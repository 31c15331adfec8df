import { type Calendar, minutesPerHour } from "../model/calendar.ts";
import type { Limits } from "../model/settings.ts";
import type { AirBounds, Bound } from "./airBounds.ts";
import { clip, gaps, type Interval, union } from "./intervals.ts";
import { figures, type Judgement, type MinuteLimit, shortest } from "./limits.ts";
import type { MinuteRule } from "./minuteRule.ts";
import { startSeenFrom } from "./timeWords.ts";
import { type AirStep, type Station, stepAt } from "./weather.ts";
import { windAtHeightKph } from "./windProfile.ts";

/** A figure of a step, and how people say it. */
interface Measured {
  readonly actual: number;
  readonly unit: string;
  readonly words: (figure: string) => string;
}

function tooLittle(limit: MinuteLimit, { actual, unit, words }: Measured, bound?: Bound): Judgement | undefined {
  if (!bound || actual >= bound.value) return undefined;
  const [figure, allowed] = figures(actual, bound.value);
  const sentence = `${words(figure)}, ${bound.whose} wants at least ${allowed} ${unit}`;
  return { limit, actual, allowed: bound.value, unit, sentence };
}

function tooMuch(limit: MinuteLimit, { actual, unit, words }: Measured, bound?: Bound): Judgement | undefined {
  if (!bound || actual <= bound.value) return undefined;
  const [figure, allowed] = figures(actual, bound.value);
  const sentence = `${words(figure)}, ${bound.whose} allows ${allowed} ${unit}`;
  return { limit, actual, allowed: bound.value, unit, sentence };
}

/** The mean wind where its limits hold, with the figure of the forecast beside it where that is another. */
function meanWind({ windKph, windHeightM }: AirStep, wantedM: number | undefined): Measured {
  const unit = "km/h";
  if (wantedM === undefined) return { actual: windKph, unit, words: (figure) => `wind ${figure} km/h` };
  const given = wantedM === windHeightM ? "" : ` (${shortest(windKph, 1)} km/h at ${windHeightM} m)`;
  return {
    actual: windAtHeightKph(windKph, windHeightM, wantedM),
    unit,
    words: (figure) => `wind ${figure} km/h at ${wantedM} m${given}`,
  };
}

const gusts = ({ gustKph }: AirStep): Measured => ({
  actual: gustKph,
  unit: "km/h",
  words: (figure) => `gusts ${figure} km/h`,
});
const deltaT = (step: AirStep): Measured => ({
  actual: step.deltaTC,
  unit: "°C",
  words: (figure) => `Delta T ${figure} °C`,
});
const temperature = ({ temperatureC }: AirStep): Measured => ({
  actual: temperatureC,
  unit: "°C",
  words: (figure) => `temperature ${figure} °C`,
});
const humidity = ({ humidityPct }: AirStep): Measured => ({
  actual: humidityPct,
  unit: "%",
  words: (figure) => `humidity ${figure} %`,
});

type StepJudge = (step: AirStep, bounds: AirBounds) => Judgement | undefined;

/** The limits that one step alone decides. */
const stepJudges: readonly (readonly [MinuteLimit, StepJudge])[] = [
  ["windLow", (step, bounds) => tooLittle("windLow", meanWind(step, bounds.windHeightM), bounds.windMinKph)],
  ["wind", (step, bounds) => tooMuch("wind", meanWind(step, bounds.windHeightM), bounds.windMaxKph)],
  ["gust", (step, bounds) => tooMuch("gust", gusts(step), bounds.gustMaxKph)],
  [
    "deltaT",
    (step, bounds) =>
      tooLittle("deltaT", deltaT(step), bounds.deltaTMinC) ?? tooMuch("deltaT", deltaT(step), bounds.deltaTMaxC),
  ],
  [
    "temperature",
    (step, bounds) =>
      tooLittle("temperature", temperature(step), bounds.temperatureMinC) ??
      tooMuch("temperature", temperature(step), bounds.temperatureMaxC),
  ],
  [
    "humidity",
    (step, bounds) =>
      tooLittle("humidity", humidity(step), bounds.humidityMinPct) ??
      tooMuch("humidity", humidity(step), bounds.humidityMaxPct),
  ],
];

/** All limits that the air at a station sets, for one set of bounds. */
export function airRules(
  station: Station,
  bounds: AirBounds,
  rainfastMin: number,
  limits: Limits,
  calendar: Calendar,
): MinuteRule[] {
  const inHorizon = (intervals: readonly Interval[]) => clip(union(intervals), 0, calendar.horizonMin);
  const rules: MinuteRule[] = stepJudges.map(([limit, judge]) => ({
    limit,
    stops: inHorizon(station.steps.filter((step) => judge(step, bounds))),
    judgeAt: (min) => {
      const step = stepAt(station, min);
      return step && judge(step, bounds);
    },
  }));
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
