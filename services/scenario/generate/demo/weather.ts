import { type Calendar, minutesPerHour } from "../../../../shared/model/calendar.ts";
import type { SettingsDraft, WeatherStepDraft } from "../draft.ts";
import type { Random } from "../random.ts";
import { type DayMood, type Front, makeWeather } from "../weather.ts";

/** Monday to Sunday and the Monday after. */
const moods: readonly DayMood[] = [
  { leastC: 13.5, greatestC: 26, dewPointC: 11.5, windFactor: 0.95, cloudPct: 20 },
  { leastC: 15.5, greatestC: 31.5, dewPointC: 12, windFactor: 1.1, cloudPct: 10 },
  { leastC: 17, greatestC: 28, dewPointC: 14, windFactor: 1.3, cloudPct: 60 },
  { leastC: 11.5, greatestC: 19, dewPointC: 8.5, windFactor: 1.35, cloudPct: 55 },
  { leastC: 9.5, greatestC: 22.5, dewPointC: 8.5, windFactor: 0.8, cloudPct: 5 },
  { leastC: 13, greatestC: 23.5, dewPointC: 11, windFactor: 0.75, cloudPct: 94 },
  { leastC: 15, greatestC: 30, dewPointC: 12.5, windFactor: 1.2, cloudPct: 15 },
  { leastC: 15.5, greatestC: 30, dewPointC: 12.5, windFactor: 1, cloudPct: 10 },
];

const minuteOfDay = (day: number, hour: number) => (24 * day + hour) * minutesPerHour;

/** From Wednesday noon to Thursday morning. */
const front: Front = {
  startMin: minuteOfDay(2, 12),
  endMin: minuteOfDay(3, 10),
  windKph: 32,
  rainMmPerHour: 1.4,
};

export function demoWeather(random: Random, calendar: Calendar, settings: SettingsDraft): WeatherStepDraft[] {
  return makeWeather(random, {
    calendar,
    stations: settings.bases.map(({ id, latDeg, lonDeg }) => ({
      id: `station-${id}`,
      latDeg,
      lonDeg,
      // The airfield has a mast of 10 m.
      ...(id === "east" ? { upperHeightM: 10 } : {}),
    })),
    moods,
    fronts: [front],
    // Until noon of the Monday after: what is sprayed on Sunday evening needs a dry night.
    untilMin: calendar.horizonMin + 12 * minutesPerHour,
  });
}
