/** One unit per dimension inside; everything else is converted here, at the edge. */

export const secondsPerMinute = 60;
const squareMetresPerHectare = 10_000;
const kphPerMps = 3.6;

export function mpsFromKph(speedKph: number): number {
  return speedKph / kphPerMps;
}
export function kphFromMps(speedMps: number): number {
  return speedMps * kphPerMps;
}
export function haFromM2(areaM2: number): number {
  return areaM2 / squareMetresPerHectare;
}
export function m2FromHa(areaHa: number): number {
  return areaHa * squareMetresPerHectare;
}

const radPerDeg = Math.PI / 180;
export function radFromDeg(angleDeg: number): number {
  return angleDeg * radPerDeg;
}
export function degFromRad(angleRad: number): number {
  return angleRad / radPerDeg;
}

/** In which units people read and type; inside there is one unit for each dimension. */
export const unitSystems = ["metric", "us"] as const;
export type UnitSystem = (typeof unitSystems)[number];

/**
 * US customary units for display. The factors are exact by definition: NIST Special Publication 811 (2008), appendix B,
 * with the international foot of 0.3048 m (MEMORY).
 */
const mPerFt = 0.3048;
const mPerMile = 1609.344;
const m2PerAcre = 43_560 * mPerFt * mPerFt;
const lPerGallon = 3.785411784;
const kgPerLb = 0.45359237;

export function ftFromM(lengthM: number): number {
  return lengthM / mPerFt;
}
export function milesFromKm(lengthKm: number): number {
  return (lengthKm * 1000) / mPerMile;
}
export function mphFromKph(speedKph: number): number {
  return milesFromKm(speedKph);
}
export function acresFromHa(areaHa: number): number {
  return m2FromHa(areaHa) / m2PerAcre;
}
export function gallonsFromL(volumeL: number): number {
  return volumeL / lPerGallon;
}
export function lbFromKg(massKg: number): number {
  return massKg / kgPerLb;
}
export function gallonsPerAcreFromLPerHa(rateLPerHa: number): number {
  return gallonsFromL(rateLPerHa) / acresFromHa(1);
}
export function fahrenheitFromC(temperatureC: number): number {
  return temperatureC * 1.8 + 32;
}
