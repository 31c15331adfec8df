import { saturationVapourPressurePa } from "../../../shared/agronomy/air.ts";
import { type Calendar, minutesPerHour } from "../../../shared/model/calendar.ts";
import type { WeatherStepDraft } from "./draft.ts";
import type { Random } from "./random.ts";

export interface Station {
  readonly id: string;
  readonly latDeg: number;
  readonly lonDeg: number;
  /** Where a mast carries a second thermometer. */
  readonly upperHeightM?: number;
}

/** How one day differs from another. Our choice, in the manner of early summer in a dry valley. */
export interface DayMood {
  readonly leastC: number;
  readonly greatestC: number;
  readonly dewPointC: number;
  /** Against a breeze of 13 km/h in the afternoon. */
  readonly windFactor: number;
  readonly cloudPct: number;
}

/** A cold front with rain, in minutes of the calendar. */
export interface Front {
  readonly startMin: number;
  readonly endMin: number;
  readonly windKph: number;
  readonly rainMmPerHour: number;
}

export function makeMoods(random: Random, days: number): DayMood[] {
  return Array.from({ length: days }, () => {
    const leastC = random.between(11, 15.5);
    return {
      leastC,
      greatestC: leastC + random.between(10, 16),
      dewPointC: leastC - random.between(0.8, 3.5),
      windFactor: random.between(0.75, 1.35),
      cloudPct: random.weighted([
        [10, 5],
        [35, 3],
        [75, 1],
        [95, 1],
      ]),
    };
  });
}

/** One front about the middle of each week, none in a plan of less than three days. */
export function makeFronts(random: Random, days: number): Front[] {
  const fronts: Front[] = [];
  for (let weekStart = 0; weekStart + 2 < days; weekStart += 7) {
    const day = Math.min(weekStart + random.whole(2, 3), days - 1);
    const startMin = Math.round((day * 24 + random.between(9, 15)) * minutesPerHour);
    fronts.push({
      startMin,
      endMin: startMin + Math.round(random.between(14, 24) * minutesPerHour),
      windKph: random.between(26, 36),
      rainMmPerHour: random.between(0.4, 2.2),
    });
  }
  return fronts;
}

/**
 * Air temperature in fair weather: least at 5, greatest at 15, local solar time, so that a night leads from one day's
 * greatest to the next day's least. `solarHours` counts from solar midnight of the first day.
 */
function fairTemperatureC(moods: readonly DayMood[], solarHours: number): number {
  const sinceLeast = hourOfDay(solarHours - 5);
  const cooling = sinceLeast >= 10;
  const warmDay = Math.floor((solarHours - 15) / 24) + (cooling ? 0 : 1);
  const leastDay = Math.floor((solarHours - 5) / 24) + (cooling ? 1 : 0);
  const greatestC = moodOn(moods, warmDay).greatestC;
  const leastC = moodOn(moods, leastDay).leastC;
  const warmthFrac = cooling
    ? (1 + Math.cos(Math.PI * ((sinceLeast - 10) / 14) ** 0.75)) / 2
    : (1 - Math.cos((Math.PI * sinceLeast) / 10)) / 2;
  return leastC + (greatestC - leastC) * warmthFrac;
}

/** Of hours counted from some midnight, back to two days before it. */
const hourOfDay = (hours: number) => (hours + 48) % 24;

/** The first and the last mood hold beyond the edges. */
function moodOn(moods: readonly DayMood[], day: number): DayMood {
  return moods[within(day, 0, moods.length - 1)]!;
}

/** Share of the afternoon's breeze that blows: greatest at half past two, local solar time. */
const breezeFrac = (solarHour: number) => Math.exp(-(((solarHour - 14.5) / 3.6) ** 2));

/**
 * A step with the temperature up a mast beside that at 2 m. Our choice of figures; the shape is common knowledge: over a clear
 * and still night the cold lies on the ground, under the sun the warmth does, and wind and cloud even both out.
 */
function withUpperAir(step: WeatherStepDraft, solarHour: number, upperHeightM: number): WeatherStepDraft {
  const sunFrac = Math.max(0, Math.sin((Math.PI * (solarHour - 4.7)) / 14.6));
  const nightFrac = Math.max(0, 1 - 6 * sunFrac);
  const clearFrac = 1 - (0.9 * step.cloudPct) / 100;
  const stillFrac = Math.exp(-((step.windKph / 9) ** 2));
  const warmerAloftC = 2.2 * nightFrac * clearFrac * stillFrac - 0.6 * sunFrac * clearFrac - 0.12;
  return {
    ...step,
    upperTemperatureC: round(step.temperatureC + warmerAloftC, 1),
    upperTemperatureHeightM: upperHeightM,
  };
}

/** 0 outside the front, rising to 1 within two hours of its edges. */
function frontFrac(front: Front, min: number): number {
  const inside = Math.min(min - front.startMin, front.endMin - min) / (2 * minutesPerHour);
  return Math.max(0, Math.min(1, inside + 0.5));
}

const round = (value: number, decimals: number) => Math.round(value * 10 ** decimals) / 10 ** decimals;
const within = (value: number, low: number, high: number) => Math.max(low, Math.min(high, value));

export interface WeatherRequest {
  readonly calendar: Calendar;
  readonly stations: readonly Station[];
  readonly moods: readonly DayMood[];
  readonly fronts: readonly Front[];
  readonly untilMin: number;
}

/** What was measured on the day before: the night that leads into the first day, and the rain that may still be wet. */
const measuredMin = 24 * minutesPerHour;

/** Hourly steps of every station from a day before the first midnight to `untilMin`. */
export function makeWeather(random: Random, request: WeatherRequest): WeatherStepDraft[] {
  return request.stations.flatMap((station, index) => {
    const ofStation = random.topic(station.id);
    return [
      ...stationWeather(ofStation.topic("measured"), station, index, request, -measuredMin, 0),
      ...stationWeather(ofStation, station, index, request, 0, request.untilMin),
    ];
  });
}

/** Minute of the mean solar midnight nearest to the first local midnight. */
function solarMidnight(calendar: Calendar, lonDeg: number): number {
  const minutesPerDay = 24 * minutesPerHour;
  const utcMin = calendar.epochMsOfMin(0) / 60_000;
  const sinceMidnightMin = (((utcMin + lonDeg * 4) % minutesPerDay) + minutesPerDay) % minutesPerDay;
  return sinceMidnightMin > minutesPerDay / 2 ? minutesPerDay - sinceMidnightMin : -sinceMidnightMin;
}

function stationWeather(
  random: Random,
  station: Station,
  index: number,
  request: WeatherRequest,
  fromMin: number,
  untilMin: number,
): WeatherStepDraft[] {
  const { calendar, moods } = request;
  const stationWindFactor = 1 + 0.08 * (index % 3) - 0.05;
  // The front comes down the valley: every station sees it a little after the one before.
  const delayMin = 45 * index;
  const solarMidnightMin = solarMidnight(calendar, station.lonDeg);
  const steps: WeatherStepDraft[] = [];
  for (let min = fromMin; min < untilMin; min += minutesPerHour) {
    const solarHours = (min + 0.5 * minutesPerHour - solarMidnightMin) / minutesPerHour;
    const solarHour = hourOfDay(solarHours);
    const mood = moodOn(moods, Math.floor(min / (24 * minutesPerHour)));
    const fairC = fairTemperatureC(moods, solarHours);
    const front = request.fronts
      .map((candidate) => ({ candidate, frac: frontFrac(candidate, min - delayMin) }))
      .reduce((best, next) => (next.frac > best.frac ? next : best), {
        candidate: undefined as Front | undefined,
        frac: 0,
      });

    const fairKph = 2.4 + 13 * mood.windFactor * breezeFrac(solarHour) + Math.abs(random.normal(0, 1.2));
    const windKph =
      (fairKph * (1 - front.frac) + (front.candidate?.windKph ?? 0) * front.frac * random.between(0.85, 1.1)) *
      stationWindFactor;
    const gustKph = windKph * (1.3 + 0.2 * breezeFrac(solarHour) + 0.2 * front.frac) + random.between(0.5, 3);
    // Down-valley from the south-east by night, up-valley by day, veering north-west as the front passes.
    const fairFromDeg = 140 + 110 * breezeFrac(solarHour) + random.normal(0, 12);
    const windFromDeg = (fairFromDeg * (1 - front.frac) + (305 + random.normal(0, 10)) * front.frac + 360) % 360;
    // Under the front's clouds the day stays near its least.
    const temperatureC = fairC - 0.6 * front.frac * Math.max(0, fairC - mood.leastC - 2) + random.normal(0, 0.3);
    const dewPointC = Math.min(mood.dewPointC + 2 * front.frac, temperatureC);
    const raining = front.frac > 0.4;
    const step: WeatherStepDraft = {
      stationId: station.id,
      latDeg: station.latDeg,
      lonDeg: station.lonDeg,
      start: calendar.isoOfMin(min),
      stepMin: minutesPerHour,
      windKph: round(windKph, 1),
      gustKph: round(gustKph, 1),
      windFromDeg: Math.round(windFromDeg) % 360,
      windHeightM: 10,
      temperatureC: round(temperatureC, 1),
      humidityPct: Math.round(
        within((100 * saturationVapourPressurePa(dewPointC)) / saturationVapourPressurePa(temperatureC), 12, 99),
      ),
      rainMm: raining ? round((front.candidate?.rainMmPerHour ?? 0) * front.frac * random.between(0.3, 1.6), 1) : 0,
      rainProbabilityPct: Math.round(within(front.frac * 90 + random.between(0, 12), 0, 98)),
      cloudPct: Math.round(within(mood.cloudPct * (1 - front.frac) + 98 * front.frac + random.normal(0, 8), 0, 100)),
    };
    steps.push(station.upperHeightM === undefined ? step : withUpperAir(step, solarHour, station.upperHeightM));
  }
  return steps;
}
