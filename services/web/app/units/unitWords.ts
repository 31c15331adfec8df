import {
  acresFromHa,
  fahrenheitFromC,
  ftFromM,
  gallonsFromL,
  gallonsPerAcreFromLPerHa,
  lbFromKg,
  milesFromKm,
  mphFromKph,
  type UnitSystem,
} from "../../../../shared/units/units.ts";

/** A quantity in words: the number and its unit. Inputs are in the unit of their name, as everywhere inside. */
export interface UnitWords {
  readonly system: UnitSystem;
  areaHa(area: number): string;
  roadKm(length: number): string;
  lengthM(length: number): string;
  windKph(speed: number): string;
  temperatureC(temperature: number): string;
  /** A difference, as Delta T: no zero point of its own. */
  deltaC(difference: number): string;
  volumeL(volume: number): string;
  massKg(mass: number): string;
  rateLPerHa(rate: number): string;
  rateKgPerHa(rate: number): string;
  rainMm(rain: number): string;
}

const kgPerHaToLbPerAcre = (rateKgPerHa: number) => lbFromKg(rateKgPerHa) / acresFromHa(1);
const inchesFromMm = (lengthMm: number) => ftFromM(lengthMm / 1000) * 12;

function numberWords(value: number, digits: number): string {
  return value.toLocaleString("en-GB", { minimumFractionDigits: digits, maximumFractionDigits: digits });
}

export function unitWords(system: UnitSystem): UnitWords {
  const us = system === "us";
  const as = (value: number, digits: number, unit: string) => `${numberWords(value, digits)} ${unit}`;
  return {
    system,
    areaHa: (area) => (us ? as(acresFromHa(area), acresFromHa(area) < 10 ? 1 : 0, "ac") : as(area, 1, "ha")),
    roadKm: (length) => (us ? as(milesFromKm(length), 0, "mi") : as(length, 0, "km")),
    lengthM: (length) => (us ? as(ftFromM(length), 0, "ft") : as(length, 0, "m")),
    windKph: (speed) => (us ? as(mphFromKph(speed), 0, "mph") : as(speed, 0, "km/h")),
    temperatureC: (temperature) => (us ? as(fahrenheitFromC(temperature), 0, "°F") : as(temperature, 0, "°C")),
    deltaC: (difference) => (us ? as(difference * 1.8, 1, "°F") : as(difference, 1, "°C")),
    volumeL: (volume) => (us ? as(gallonsFromL(volume), 1, "gal") : as(volume, 1, "L")),
    massKg: (mass) => (us ? as(lbFromKg(mass), 1, "lb") : as(mass, 1, "kg")),
    rateLPerHa: (rate) => (us ? as(gallonsPerAcreFromLPerHa(rate), 1, "gal/ac") : as(rate, 1, "L/ha")),
    rateKgPerHa: (rate) => (us ? as(kgPerHaToLbPerAcre(rate), 1, "lb/ac") : as(rate, 1, "kg/ha")),
    rainMm: (rain) => (us ? as(inchesFromMm(rain), 2, "in") : as(rain, 1, "mm")),
  };
}
