import type { Method, SensitiveKind } from "../model/quantities.ts";
import type { ConflictKind, ObstacleName } from "./plan.ts";

export function counted(count: number, one: string, many: string): string {
  return `${count} ${count === 1 ? one : many}`;
}

/** As many decimals as a person on site can use: 1234, 87.5, 3.25, 0.125. */
export function readable(value: number): string {
  const decimals = Math.abs(value) >= 100 ? 0 : Math.abs(value) >= 10 ? 1 : Math.abs(value) >= 1 ? 2 : 3;
  const fixed = value.toFixed(decimals);
  return fixed.includes(".") ? fixed.replace(/\.?0+$/, "") : fixed;
}

/** Road and odometer: 4.3, 24.6, 694. */
export function kilometres(distanceKm: number): string {
  return distanceKm.toFixed(distanceKm >= 100 ? 0 : 1);
}

/** Hectares line up in a column: 21.2, 5.4, 0.45. */
export function hectares(areaHa: number): string {
  return areaHa.toFixed(areaHa > 0 && areaHa < 1 ? 2 : 1);
}

/** 123456 cents as 1234.56; thousands are left unparted, so that a table lines up and reads in any language. */
export function moneyWords(cents: number): string {
  return (cents / 100).toFixed(2);
}

export const methodVerb: Record<Method, string> = { liquid: "Spray", granular: "Spread" };
export const amountUnit: Record<Method, "L" | "kg"> = { liquid: "L", granular: "kg" };

export const sensitiveWords: Readonly<Record<SensitiveKind, string>> = {
  dwelling: "dwelling",
  school: "school",
  water: "open water",
  apiary: "beehives",
  organic: "organic crop",
  susceptible: "susceptible crop",
};

export const conflictWords: Record<ConflictKind, string> = {
  noCapableAircraft: "no aircraft can do it",
  noQualifiedCrew: "no crew is qualified",
  labelForbids: "the label forbids it",
  bufferLeavesNothing: "buffers leave nothing to treat",
  seasonMaximum: "seasonal maximum reached",
  retreatment: "too soon after the last treatment",
  harvestTooSoon: "harvest comes within the pre-harvest interval",
  entryTooSoon: "people enter within the re-entry interval",
  fieldClosed: "the field is closed",
  contradiction: "its inputs contradict each other",
  noWindow: "no window in the weather",
  windowTooShort: "weather windows are too short",
  equipmentShort: "not enough equipment",
  notEnoughHours: "not enough crew hours",
  byHand: "taken out by hand",
};

/** What keeps a block out, as the subject of a sentence. */
export const obstacleWords: Record<ObstacleName, string> = {
  label: "the label",
  seasonMax: "the seasonal maximum",
  ground: "the size of the field",
  buffers: "a buffer",
  method: "the gear",
  releaseHeight: "the release height",
  droplet: "the droplet size",
  slope: "the slope",
  rate: "the rate",
  range: "the way to the pad",
  aircraft: "an aircraft that is not there",
  licence: "a licence that nobody has",
  rating: "a type rating that nobody has",
  phi: "the days before harvest",
  rei: "the hours before people enter",
  entry: "people in the field",
  closed: "the closed field",
  retreatment: "the days since the last treatment",
  apart: "the time between two orders",
  dates: "its dates",
  daylight: "darkness",
  noForecast: "a gap in the forecast",
  rain: "rain",
  rainfast: "rain to come",
  wet: "wet ground",
  wind: "wind",
  windLow: "too little wind",
  gust: "gusts",
  deltaT: "Delta T",
  temperature: "temperature",
  humidity: "humidity",
  inversion: "inversion",
  bloom: "bloom",
  drift: "wind towards a sensitive place",
  driftNear: "wind towards a sensitive place nearby",
  tender: "places on tenders",
  water: "water on the tenders",
  sets: "battery sets",
  chargers: "chargers",
  outOfService: "aircraft out of service",
  shift: "the shifts",
  duty: "duty hours",
  locked: "a lock",
};

export const inversionWords = {
  notWhenLikely: "stop if one is likely",
  notWhenPossible: "stop if one is possible",
} as const;
