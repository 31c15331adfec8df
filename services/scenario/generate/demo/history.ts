import { addDays, createCalendar, daysBetween, minutesPerHour } from "../../../../shared/model/calendar.ts";
import { weatherStepSchema } from "../../../../shared/model/weather.ts";
import { writeTable } from "../../csv.ts";
import type { SettingsDraft, WeatherStepDraft } from "../draft.ts";
import { createRandom, type Random } from "../random.ts";
import { type DayMood, type Front, makeWeather } from "../weather.ts";

const seed = 20250401;
const years = [2025, 2026] as const;
const daysOfSeason = daysBetween("2025-04-01", "2025-10-01");

/** Our choice: how much of a day's difference from the usual is left on the next day. */
const persistence = 0.7;

/** A course about 0 with deviation 1, in which warm days follow warm days: an autoregression of the first order. */
function makeAnomalies(random: Random, days: number): number[] {
  const course = [random.normal(0, 1)];
  const fresh = Math.sqrt(1 - persistence ** 2);
  while (course.length < days) course.push(persistence * course[course.length - 1]! + fresh * random.normal(0, 1));
  return course;
}

const within = (value: number, low: number, high: number) => Math.max(low, Math.min(high, value));

/** 1 at the end of July, -1 at the end of January. */
function summerFrac(firstDay: string, day: number): number {
  const dayOfYear = daysBetween(`${firstDay.slice(0, 4)}-01-01`, addDays(firstDay, day));
  return Math.cos((2 * Math.PI * (dayOfYear - 205)) / 365.25);
}

/** Our choice of figures, in the manner of an inland valley: nights of 6 °C in early April, afternoons over 30 °C in July. */
function seasonMoods(random: Random, firstDay: string): DayMood[] {
  const warmth = makeAnomalies(random.topic("warmth"), daysOfSeason);
  const wind = makeAnomalies(random.topic("wind"), daysOfSeason);
  const cloud = makeAnomalies(random.topic("cloud"), daysOfSeason);
  return warmth.map((warm, day) => {
    const summer = summerFrac(firstDay, day);
    const isCloudy = cloud[day]! > 0.6 + 0.4 * summer;
    const leastC = 10 + 7 * summer + 2.2 * warm + (isCloudy ? 1.5 : 0);
    return {
      leastC,
      greatestC: leastC + (isCloudy ? random.between(5, 9) : random.between(10, 13) + 3 * Math.max(0, summer)),
      dewPointC: leastC - random.between(0.5, 4),
      windFactor: within(1.05 + 0.35 * wind[day]!, 0.4, 2.2),
      cloudPct: isCloudy ? random.between(65, 98) : within(22 + 22 * cloud[day]!, 3, 60),
    };
  });
}

const minuteOfDay = (day: number, hour: number) => Math.round((24 * day + hour) * minutesPerHour);

/** Fronts with rain, every five days in spring and ten in high summer; after some of them it blows on, dry, for a day or two. */
function passingFronts(random: Random, firstDay: string): Front[] {
  const fronts: Front[] = [];
  let day = 0;
  for (;;) {
    const summer = Math.max(0, summerFrac(firstDay, Math.floor(day)));
    day += 1.5 - (3.5 + 5 * summer) * Math.log(1 - random.unit());
    if (day >= daysOfSeason) return fronts;
    const startMin = minuteOfDay(day, 0);
    const endMin = startMin + Math.round(random.between(9, 26) * minutesPerHour);
    const rainMmPerHour = random.between(0.3, 2.2) * (1 - 0.4 * summer);
    fronts.push({ startMin, endMin, windKph: random.between(24, 38), rainMmPerHour });
    if (random.chance(0.4)) {
      const dryEndMin = endMin + Math.round(random.between(18, 54) * minutesPerHour);
      fronts.push({ startMin: endMin, endMin: dryEndMin, windKph: random.between(24, 40), rainMmPerHour: 0 });
    }
  }
}

/** Thunderstorms of a few hours on afternoons from May on. */
function storms(random: Random, firstDay: string): Front[] {
  return Array.from({ length: daysOfSeason }, (_, day) => day)
    .filter((day) => addDays(firstDay, day).slice(5) >= "05-01" && random.chance(0.07))
    .map((day) => {
      const startMin = minuteOfDay(day, random.between(14, 19));
      const endMin = startMin + Math.round(random.between(2.5, 4.5) * minutesPerHour);
      return { startMin, endMin, windKph: random.between(25, 46), rainMmPerHour: random.between(1.5, 8) };
    });
}

/** What was measured is certain. */
const measured = (step: WeatherStepDraft): WeatherStepDraft => ({
  ...step,
  start: new Date(step.start).toISOString().replace(".000Z", "Z"),
  rainProbabilityPct: step.rainMm > 0 ? 100 : 0,
});

const roundPlace = (deg: number) => Math.round(deg * 10_000) / 10_000;

/** Two invented growing seasons at the stations of the demo, hour by hour. */
export function demoHistory(settings: Pick<SettingsDraft, "timeZone" | "bases">): WeatherStepDraft[] {
  const random = createRandom(seed, "history");
  return years.flatMap((year) => {
    const ofYear = random.topic(String(year));
    const firstDay = `${year}-04-01`;
    const calendar = createCalendar({ timeZone: settings.timeZone, firstDay, days: daysOfSeason });
    return makeWeather(ofYear.topic("hours"), {
      calendar,
      stations: settings.bases.map(({ id, latDeg, lonDeg }) => ({
        id,
        latDeg: roundPlace(latDeg),
        lonDeg: roundPlace(lonDeg),
        // The airfield has a mast of 10 m, as in the demo's week.
        ...(id === "east" ? { upperHeightM: 10 } : {}),
      })),
      moods: seasonMoods(ofYear.topic("moods"), firstDay),
      fronts: [...passingFronts(ofYear.topic("fronts"), firstDay), ...storms(ofYear.topic("storms"), firstDay)],
      untilMin: calendar.horizonMin,
    }).map(measured);
  });
}

/** Heights that are the usual ones are left out of the table. */
export function historyText(steps: readonly WeatherStepDraft[]): string {
  return writeTable(weatherStepSchema.omit({ windHeightM: true, temperatureHeightM: true }), steps);
}
