import { getPosition, getTimes } from "suncalc";
import type { Calendar } from "../model/calendar.ts";

/**
 * What the sun does at a height on one local day: it passes it on the way up and on the way down, or stays above or
 * below it all day. Minutes of the horizon: the first whole one at or after the rise, the last at or before the set.
 * Far north the set may belong to the next local day.
 */
export type SunCourse =
  | { readonly kind: "crosses"; readonly upMin: number; readonly downMin: number }
  | { readonly kind: "above" }
  | { readonly kind: "below" };

export interface SunDay {
  /** Upper edge on the horizon with refraction: sunrise and sunset. */
  readonly horizon: SunCourse;
  /** Centre six degrees under the horizon: civil dawn and dusk. */
  readonly civil: SunCourse;
}

/** What of a calendar the sun is told by. */
type SunCalendar = Pick<Calendar, "minOfDate" | "epochMsOfMin">;

const minutesToNoon = 720;
const noNoonFromDeg = 80;
/** What suncalc's getPosition adds to every height below the horizon for refraction, degrees. */
const refractionBelowHorizonDeg = 0.48;

export function sunDay(calendar: SunCalendar, date: string, latDeg: number, lonDeg: number): SunDay {
  const { horizon, civil } = exactSunDay(calendar, date, latDeg, lonDeg);
  return { horizon: wholeMinutesInside(horizon), civil: wholeMinutesInside(civil) };
}

function wholeMinutesInside(course: SunCourse): SunCourse {
  if (course.kind !== "crosses") return course;
  return { kind: "crosses", upMin: Math.ceil(course.upMin), downMin: Math.floor(course.downMin) };
}

/**
 * The sun at a place on a local date of the calendar, by suncalc (Meeus, Astronomical Algorithms), in minutes with their
 * fractions: tables of the sun round them to the nearest one.
 */
export function exactSunDay(calendar: SunCalendar, date: string, latDeg: number, lonDeg: number): SunDay {
  // suncalc answers for the solar noon nearest to the instant asked for.
  const noon = new Date(calendar.epochMsOfMin(calendar.minOfDate(date) + minutesToNoon));
  const times = getTimes(noon, latDeg, lonDeg);
  const originMs = calendar.epochMsOfMin(0);
  const minOf = (instant: Date) => (instant.getTime() - originMs) / 60_000;
  const noonMin = minOf(times.solarNoon);
  const heightDegAt = (instant: Date) => getPosition(instant, latDeg, lonDeg).altitude - refractionBelowHorizonDeg;
  const meanHeightDeg = () => (heightDegAt(times.solarNoon) + heightDegAt(times.nadir)) / 2;
  /**
   * Where the sun only just grazes a height about midnight and stays above it, suncalc gives a crossing hours beyond. Next to the
   * poles, where days have no noon, its answers are left as they are.
   */
  const isGraze = (crossing: Date, heightDeg: number) => {
    const awayMin = minOf(crossing) - noonMin;
    if (Math.abs(awayMin) <= minutesToNoon || Math.abs(latDeg) > noNoonFromDeg) return false;
    const midnight = new Date(times.solarNoon.getTime() + Math.sign(awayMin) * minutesToNoon * 60_000);
    return heightDegAt(midnight) > heightDeg;
  };
  const course = (up: Date | null, down: Date | null, heightDeg: number): SunCourse => {
    if (up && down && !isGraze(up, heightDeg) && !isGraze(down, heightDeg)) {
      return { kind: "crosses", upMin: minOf(up), downMin: minOf(down) };
    }
    // No crossing: noon and midnight lie on the same side, and so does their mean.
    return { kind: meanHeightDeg() > heightDeg ? "above" : "below" };
  };
  return {
    horizon: course(times.sunrise, times.sunset, -0.833),
    civil: course(times.dawn, times.dusk, -6),
  };
}
