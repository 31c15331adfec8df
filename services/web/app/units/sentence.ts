import type { UnitWords } from "./unitWords.ts";

const quantity =
  /(-?\d+(?:\.\d+)?)(?: (to|and|or) (-?\d+(?:\.\d+)?))? (km\/h|°C|mm|ha|km|m|L\/ha|kg\/ha|L|kg)(?![\w/])/g;

/** A sentence of the server, which knows metric units only, in the units that are chosen. Metric sentences stay as they are. */
export function inUnits(sentence: string, units: UnitWords): string {
  if (units.system === "metric") return sentence;
  // Delta T is a difference: it has no zero point of its own.
  const isDifference = sentence.includes("Delta T");
  return sentence.replace(quantity, (_, first: string, joint: string | undefined, second: string, unit: string) => {
    const words = (value: string) => wordsOf(Number(value), unit, isDifference, units);
    return joint === undefined ? words(first) : `${words(first)} ${joint} ${words(second)}`;
  });
}

function wordsOf(value: number, unit: string, isDifference: boolean, units: UnitWords): string {
  switch (unit) {
    case "km/h":
      return units.windKph(value);
    case "°C":
      return isDifference ? units.deltaC(value) : units.temperatureC(value);
    case "mm":
      return units.rainMm(value);
    case "ha":
      return units.areaHa(value);
    case "km":
      return units.roadKm(value);
    case "m":
      return units.lengthM(value);
    case "L/ha":
      return units.rateLPerHa(value);
    case "kg/ha":
      return units.rateKgPerHa(value);
    case "L":
      return units.volumeL(value);
    default:
      return units.massKg(value);
  }
}
