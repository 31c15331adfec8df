import { minutesPerHour } from "../../model/calendar.ts";
import { checkDrift } from "./drift.ts";
import { distinctTypes, type Facts, type Stop } from "./facts.ts";
import { checkInversion } from "./inversion.ts";
import { type Ledger, type RuleName, rounding, shown } from "./report.ts";
import type { Sky, Step } from "./sky.ts";
import { firstUncovered, type Span, shareMinute } from "./spans.ts";
import type { Terrain } from "./terrain.ts";
import { checkWet } from "./wet.ts";
import { windAtHeightKph } from "./windProfile.ts";

/** The limits of a minute that follow from the weather: every step that a stretch of work touches is looked at. */
export function checkWeatherLimits(facts: Facts, ledger: Ledger, sky: Sky, terrain: Terrain): void {
  for (const stop of facts.stops) {
    const bounds = boundsOf(facts, stop).filter(({ least, most }) => Number.isFinite(least) || Number.isFinite(most));
    for (const stretch of stop.stretches) checkStretch(facts, ledger, sky, terrain, stop, stretch, bounds);
  }
}

function checkStretch(
  facts: Facts,
  ledger: Ledger,
  sky: Sky,
  terrain: Terrain,
  stop: Stop,
  stretch: Span,
  bounds: readonly Bound[],
): void {
  const steps = sky.steps(stop.mix);
  const touched = steps.filter((step) => shareMinute(step, stretch));
  checkCovered(facts, ledger, stop, stretch, touched);
  for (const step of touched) {
    for (const bound of bounds) checkBound(facts, ledger, stop, step, bound);
    checkRain(facts, ledger, stop, step);
  }
  checkRainfast(facts, ledger, stop, stretch, steps);
  checkWet(facts, ledger, stop, stretch, steps);
  checkInversion(facts, ledger, sky, stop, stretch, touched);
  checkDrift(facts, ledger, terrain, stop, touched);
}

interface Bound {
  readonly rule: RuleName;
  readonly words: string;
  readonly unit: string;
  readonly measure: (step: Step) => number;
  readonly least: number;
  readonly most: number;
}

const greatest = (values: readonly (number | undefined)[]) =>
  Math.max(Number.NEGATIVE_INFINITY, ...values.filter((value) => value !== undefined));
const least = (values: readonly (number | undefined)[]) =>
  Math.min(Number.POSITIVE_INFINITY, ...values.filter((value) => value !== undefined));

/** Limits of the mean wind hold where each type of the outfit lets go of the spray. */
function windBoundsOf({ operation }: Facts, { types, mix: { products } }: Stop): Bound[] {
  const { windAt, windMaxKph } = operation.settings.limits;
  return distinctTypes({ types }).flatMap((type) => {
    const wind = {
      words: `wind at ${type.id}`,
      unit: "km/h",
      measure: ({ step: { windKph, windHeightM } }: Step) =>
        windAt === "asMeasured" ? windKph : windAtHeightKph(windKph, windHeightM, type.releaseHeightM),
    };
    const windMinKph = greatest(products.map((product) => product.windMinKph));
    const mostKph = least([windMaxKph, type.windMaxKph, ...products.map((product) => product.windMaxKph)]);
    return [
      { ...wind, rule: "windLow" as const, least: windMinKph, most: Number.POSITIVE_INFINITY },
      { ...wind, rule: "wind" as const, least: Number.NEGATIVE_INFINITY, most: mostKph },
    ];
  });
}

function boundsOf(facts: Facts, stop: Stop): Bound[] {
  const { limits } = facts.operation.settings;
  const types = distinctTypes(stop);
  const { products } = stop.mix;
  return [
    ...windBoundsOf(facts, stop),
    {
      rule: "gust",
      words: "gusts",
      unit: "km/h",
      measure: ({ step }) => step.gustKph,
      least: Number.NEGATIVE_INFINITY,
      most: least([
        limits.gustMaxKph,
        ...products.map((product) => product.gustMaxKph),
        ...types.map((type) => type.gustMaxKph),
      ]),
    },
    {
      rule: "deltaT",
      words: "Delta T",
      unit: "°C",
      measure: (step) => step.deltaTC(),
      least: greatest(products.map((product) => product.deltaTMinC)),
      most: least(products.map((product) => product.deltaTMaxC)),
    },
    {
      rule: "temperature",
      words: "temperature",
      unit: "°C",
      measure: ({ step }) => step.temperatureC,
      least: greatest(products.map((product) => product.temperatureMinC)),
      most: least(products.map((product) => product.temperatureMaxC)),
    },
    {
      rule: "humidity",
      words: "relative humidity",
      unit: "%",
      measure: ({ step }) => step.humidityPct,
      least: greatest(products.map((product) => product.humidityMinPct)),
      most: least(products.map((product) => product.humidityMaxPct)),
    },
  ];
}

function checkBound({ calendar }: Facts, ledger: Ledger, stop: Stop, step: Step, bound: Bound): void {
  const { rule, words, unit, measure, least, most } = bound;
  const value = measure(step);
  ledger.expect(rule, value >= least - rounding && value <= most + rounding, stop.subject, () => ({
    sentence: `${words} ${shown(value)} ${unit} from ${calendar.isoOfMin(step.fromMin)}, allowed ${value < least ? `at least ${shown(least)}` : `at most ${shown(most)}`}`,
    actual: value,
    allowed: value < least ? least : most,
  }));
}

function checkCovered({ calendar }: Facts, ledger: Ledger, stop: Stop, span: Span, steps: readonly Span[]): void {
  const openMin = firstUncovered(span, steps);
  ledger.expect("noForecast", openMin === undefined, stop.subject, () => ({
    sentence: `no forecast covers ${calendar.isoOfMin(openMin!)} at field ${stop.mix.field.properties.id}`,
    actual: calendar.isoOfMin(openMin!),
  }));
}

function checkRain({ calendar }: Facts, ledger: Ledger, stop: Stop, { step, fromMin, isRain }: Step): void {
  ledger.expect("rain", !isRain, stop.subject, () => ({
    sentence: `rain from ${calendar.isoOfMin(fromMin)}: ${step.rainMm} mm in ${step.stepMin} min, probability ${step.rainProbabilityPct} %`,
    actual: `${step.rainMm} mm in ${step.stepMin} min, ${step.rainProbabilityPct} %`,
  }));
}

function checkRainfast(facts: Facts, ledger: Ledger, stop: Stop, stretch: Span, steps: readonly Step[]): void {
  const { calendar } = facts;
  const rainfastHours = Math.max(...stop.mix.products.map((product) => product.rainfastHours));
  if (rainfastHours <= 0) return;
  // The rainfast periods of all minutes of the stretch, joined.
  const span = { fromMin: stretch.fromMin + 1, toMin: stretch.toMin + minutesPerHour * rainfastHours - rounding };
  const within = steps.filter((step) => shareMinute(step, span));
  const rain = within.find((step) => step.isRain);
  ledger.expect("rainfast", rain === undefined, stop.subject, () => ({
    sentence: `rain from ${calendar.isoOfMin(rain!.fromMin)}, ${rainfastHours} h without rain are needed after ${calendar.isoOfMin(stretch.toMin)}`,
    actual: calendar.isoOfMin(rain!.fromMin),
    allowed: calendar.isoOfMin(span.toMin),
  }));
  checkCovered(facts, ledger, stop, span, within);
}
