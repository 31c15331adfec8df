import { type Calendar, minutesPerHour } from "../model/calendar.ts";
import type { Limits } from "../model/settings.ts";
import { clip, gaps, type Interval, union } from "./intervals.ts";
import { figures, type Judgement, type LimitSource, type MinuteLimit } from "./limits.ts";
import type { MinuteRule } from "./minuteRule.ts";
import type { AirBounds } from "./mix.ts";
import { type AirStep, type Station, stepAt } from "./weather.ts";

const sourceWords: Record<LimitSource, string> = {
  label: "label allows",
  aircraft: "aircraft allows",
  operation: "operation allows",
};

type StepJudge = (step: AirStep, bounds: AirBounds) => Judgement | undefined;

const windLow: StepJudge = (step, bounds) => {
  if (step.windKph >= bounds.windMinKph) return undefined;
  const [actual, allowed] = figures(step.windKph, bounds.windMinKph);
  return {
    limit: "windLow",
    actual: step.windKph,
    allowed: bounds.windMinKph,
    unit: "km/h",
    sentence: `wind ${actual} km/h, label wants at least ${allowed}`,
  };
};

const wind: StepJudge = (step, bounds) => {
  const { value, source } = bounds.windMaxKph;
  if (step.windKph <= value) return undefined;
  const [actual, allowed] = figures(step.windKph, value);
  const sentence = `wind ${actual} km/h, ${sourceWords[source]} ${allowed}`;
  return { limit: "wind", actual: step.windKph, allowed: value, unit: "km/h", sentence };
};

const gust: StepJudge = (step, bounds) => {
  if (!bounds.gustMaxKph || step.gustKph <= bounds.gustMaxKph.value) return undefined;
  const { value, source } = bounds.gustMaxKph;
  const [actual, allowed] = figures(step.gustKph, value);
  const sentence = `gusts ${actual} km/h, ${sourceWords[source]} ${allowed}`;
  return { limit: "gust", actual: step.gustKph, allowed: value, unit: "km/h", sentence };
};

const deltaT: StepJudge = (step, bounds) =>
  outsideRange("deltaT", "Delta T", step.deltaTC, bounds.deltaTMinC, bounds.deltaTMaxC);

const temperature: StepJudge = (step, bounds) =>
  outsideRange("temperature", "temperature", step.temperatureC, bounds.temperatureMinC, bounds.temperatureMaxC);

function outsideRange(
  limit: "deltaT" | "temperature",
  name: string,
  actualC: number,
  minC: number | undefined,
  maxC: number | undefined,
): Judgement | undefined {
  if (minC !== undefined && actualC < minC) {
    const [actual, allowed] = figures(actualC, minC);
    const sentence = `${name} ${actual} °C, label wants at least ${allowed}`;
    return { limit, actual: actualC, allowed: minC, unit: "°C", sentence };
  }
  if (maxC !== undefined && actualC > maxC) {
    const [actual, allowed] = figures(actualC, maxC);
    return {
      limit,
      actual: actualC,
      allowed: maxC,
      unit: "°C",
      sentence: `${name} ${actual} °C, label allows ${allowed}`,
    };
  }
  return undefined;
}

/** The limits that one step alone decides. */
const stepJudges: readonly (readonly [MinuteLimit, StepJudge])[] = [
  ["windLow", windLow],
  ["wind", wind],
  ["gust", gust],
  ["deltaT", deltaT],
  ["temperature", temperature],
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
    judgeAt: (min) => {
      const next = rainSteps.find((step) => step.startMin < min + 1 + rainfastMin && step.endMin > min + 1);
      if (!next) return undefined;
      const dryMin = Math.max(0, next.startMin - (min + 1));
      return {
        limit: "rainfast",
        actual: dryMin / minutesPerHour,
        allowed: rainfastMin / minutesPerHour,
        unit: "h",
        sentence: `rain from ${calendar.clockOfMin(next.startMin)}, label wants ${rainfast} without rain after it`,
      };
    },
  });
  return rules;
}

function rainNow(step: AirStep, limits: Limits): Judgement {
  if (step.rainMm >= limits.rainMm) {
    const sentence = `rain ${step.rainMm} mm, counts as rain from ${limits.rainMm}`;
    return { limit: "rain", actual: step.rainMm, allowed: limits.rainMm, unit: "mm", sentence };
  }
  const sentence = `rain probability ${step.rainProbabilityPct} %, counts as rain from ${limits.rainProbabilityPct}`;
  return { limit: "rain", actual: step.rainProbabilityPct, allowed: limits.rainProbabilityPct, unit: "%", sentence };
}

function noForecast(station: Station, sentence: string): Judgement {
  return { limit: "noForecast", actual: "none", allowed: `a step of station ${station.id}`, unit: "", sentence };
}

function figureHours(min: number): string {
  return String(Number((min / minutesPerHour).toFixed(2)));
}
