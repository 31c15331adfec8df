import { bearingDeg, nearestOnShape } from "../../geo/distance.ts";
import { addDays, minutesPerHour } from "../../model/calendar.ts";
import { distinctTypes, type Facts, type Mix, type Stop } from "./facts.ts";
import { type Ledger, type RuleName, shown } from "./report.ts";
import type { Sky, Step } from "./sky.ts";
import { firstUncovered, partIn, type Span, shareMinute } from "./spans.ts";
import type { Terrain } from "./terrain.ts";

/** Signs of an inversion, DEVELOPERS.md `inversion`. */
const clearBelowCloudPct = 88;
const stillUpToKph = 11;
const beforeSunsetMin = 90;
const afterSunriseMin = 60;

/** The limits of a minute that follow from the weather: every step that the work touches is looked at. */
export function checkWeatherLimits(facts: Facts, ledger: Ledger, sky: Sky, terrain: Terrain): void {
  for (const stop of facts.stops) {
    const span = { fromMin: stop.work.startMin, toMin: stop.work.endMin };
    const steps = sky.steps(stop.mix);
    const touched = steps.filter((step) => shareMinute(step, span));
    const bounds = boundsOf(facts, stop).filter(({ least, most }) => Number.isFinite(least) || Number.isFinite(most));
    const places = driftPlaces(stop.mix, terrain);
    const nights = nightsOf(facts, sky, stop.mix, span);
    checkCovered(facts, ledger, stop, span, touched);
    for (const step of touched) {
      for (const bound of bounds) checkBound(facts, ledger, stop, step, bound);
      checkRain(facts, ledger, stop, step);
      checkDrift(facts, ledger, stop, step, places);
      checkInversion(facts, ledger, stop, step, partIn(step, span), nights);
    }
    checkRainfast(facts, ledger, stop, span, steps);
  }
}

interface Bound {
  readonly rule: RuleName;
  readonly words: string;
  readonly unit: string;
  readonly measure: (step: Step) => number;
  readonly least: number;
  readonly most: number;
}

function boundsOf({ operation }: Facts, { day, mix }: Stop): Bound[] {
  const { limits } = operation.settings;
  const types = distinctTypes(day);
  const greatest = (values: readonly (number | undefined)[]) =>
    Math.max(Number.NEGATIVE_INFINITY, ...values.filter((value) => value !== undefined));
  const least = (values: readonly (number | undefined)[]) =>
    Math.min(Number.POSITIVE_INFINITY, ...values.filter((value) => value !== undefined));
  const { products } = mix;
  const wind = { words: "wind", unit: "km/h", measure: ({ step }: Step) => step.windKph };
  return [
    {
      ...wind,
      rule: "windLow",
      least: greatest(products.map((product) => product.windMinKph)),
      most: Number.POSITIVE_INFINITY,
    },
    {
      ...wind,
      rule: "wind",
      least: Number.NEGATIVE_INFINITY,
      most: least([
        limits.windMaxKph,
        ...products.map((product) => product.windMaxKph),
        ...types.map((type) => type.windMaxKph),
      ]),
    },
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
  ];
}

function checkBound({ calendar }: Facts, ledger: Ledger, stop: Stop, step: Step, bound: Bound): void {
  const { rule, words, unit, measure, least, most } = bound;
  const value = measure(step);
  ledger.expect(rule, value >= least && value <= most, stop.subject, () => ({
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
    sentence: `rain from ${calendar.isoOfMin(fromMin)}: ${step.rainMm} mm, probability ${step.rainProbabilityPct} %`,
    actual: `${step.rainMm} mm, ${step.rainProbabilityPct} %`,
  }));
}

function checkRainfast(facts: Facts, ledger: Ledger, stop: Stop, work: Span, steps: readonly Step[]): void {
  const { calendar } = facts;
  const rainfastHours = Math.max(...stop.mix.products.map((product) => product.rainfastHours));
  if (rainfastHours <= 0) return;
  // The rainfast periods of all minutes of the work, joined.
  const span = { fromMin: work.fromMin + 1, toMin: work.toMin + minutesPerHour * rainfastHours };
  const within = steps.filter((step) => shareMinute(step, span));
  const rain = within.find((step) => step.isRain);
  ledger.expect("rainfast", rain === undefined, stop.subject, () => ({
    sentence: `rain from ${calendar.isoOfMin(rain!.fromMin)}, ${rainfastHours} h without rain are needed after ${calendar.isoOfMin(work.toMin)}`,
    actual: calendar.isoOfMin(rain!.fromMin),
    allowed: calendar.isoOfMin(span.toMin),
  }));
  checkCovered(facts, ledger, stop, span, within);
}

interface DriftPlace {
  readonly name: string;
  /** Direction from the field's centroid; null when the centroid lies in the place. */
  readonly towardsDeg: number | null;
}

function driftPlaces(mix: Mix, terrain: Terrain): DriftPlace[] {
  const { centroid } = terrain.field(mix);
  return terrain.keptPlaces(mix, true).map(({ place, shape }) => {
    const nearest = nearestOnShape(centroid, shape);
    return {
      name: place.properties.name,
      towardsDeg: nearest.distanceM === 0 ? null : bearingDeg(centroid, nearest.point),
    };
  });
}

function checkDrift(facts: Facts, ledger: Ledger, stop: Stop, step: Step, places: readonly DriftPlace[]): void {
  const { driftAngleDeg } = facts.operation.settings.limits;
  const blowsToDeg = step.step.windFromDeg + 180;
  for (const { name, towardsDeg } of places) {
    const angleDeg = towardsDeg === null ? 0 : angleBetweenDeg(blowsToDeg, towardsDeg);
    ledger.expect("drift", angleDeg > driftAngleDeg, stop.subject, () => ({
      sentence: `from ${facts.calendar.isoOfMin(step.fromMin)} the wind blows towards ${name}, ${shown(angleDeg)} degrees off`,
      actual: angleDeg,
      allowed: driftAngleDeg,
    }));
  }
}

function angleBetweenDeg(aDeg: number, bDeg: number): number {
  const turnDeg = Math.abs(aDeg - bDeg) % 360;
  return Math.min(turnDeg, 360 - turnDeg);
}

/** Hours in which an inversion may lie over the field: from before a sunset until after the next sunrise. */
function nightsOf(facts: Facts, sky: Sky, mix: Mix, span: Span): Span[] {
  const { calendar } = facts;
  const nights: Span[] = [];
  const last = calendar.dateOfMin(span.toMin);
  for (let date = addDays(calendar.dateOfMin(span.fromMin), -1); date <= last; date = addDays(date, 1)) {
    const { horizon: today } = sky.sun(mix, date);
    const { horizon: tomorrow } = sky.sun(mix, addDays(date, 1));
    if (today.kind === "above") continue;
    nights.push({
      fromMin: today.kind === "crosses" ? today.downMin - beforeSunsetMin : calendar.minOfDate(date),
      toMin: tomorrow.kind === "crosses" ? tomorrow.upMin + afterSunriseMin : calendar.minOfDate(addDays(date, 2)),
    });
  }
  return nights;
}

function checkInversion(
  { calendar }: Facts,
  ledger: Ledger,
  stop: Stop,
  { step, fromMin, isRain }: Step,
  worked: Span,
  nights: readonly Span[],
): void {
  const rules = stop.mix.products.map((product) => product.inversionRule);
  if (rules.every((rule) => rule === "ignore")) return;
  const isInHours = nights.some((night) => shareMinute(night, worked));
  const signs = Number(step.cloudPct < clearBelowCloudPct) + Number(step.windKph <= stillUpToKph);
  const isLikely = isInHours && !isRain && signs === 2;
  const isPossible = isInHours && !isRain && signs === 1;
  const isStopped = isLikely || (isPossible && rules.includes("notWhenPossible"));
  ledger.expect("inversion", !isStopped, stop.subject, () => ({
    sentence: `an inversion is ${isLikely ? "likely" : "possible"} from ${calendar.isoOfMin(fromMin)}: cloud ${step.cloudPct} %, wind ${step.windKph} km/h`,
    actual: isLikely ? "likely" : "possible",
    allowed: rules.filter((rule) => rule !== "ignore").join(", "),
  }));
}
