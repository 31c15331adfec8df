import type { AircraftType } from "../model/fleet.ts";
import type { Method } from "../model/quantities.ts";
import { kphFromMps, mpsFromKph } from "../units/units.ts";

/** Gear for one method; amounts are litres of mix or kilograms of granules. */
export interface Gear {
  readonly swathM: number;
  readonly speedMinMps: number;
  readonly speedMaxMps: number;
  readonly flowMaxPerMin: number;
  readonly fullLoad: number;
}

/** The gear of a type for a method, or nothing when it lacks it; the density is that of the mix, or the bulk density of granules. */
export function gearOf(type: AircraftType, method: Method, densityKgPerL: number): Gear | undefined {
  if (method === "liquid") {
    if (type.liquid === undefined) return undefined;
    const { swathM, speedMinMps, speedMaxMps, flowMaxLPerMin, tankL } = type.liquid;
    const fullLoad = fullTankL(tankL, type.payloadKg, densityKgPerL);
    return { swathM, speedMinMps, speedMaxMps, flowMaxPerMin: flowMaxLPerMin, fullLoad };
  }
  if (type.granular === undefined) return undefined;
  const { swathM, speedMinMps, speedMaxMps, spreadMaxKgPerMin, hopperKg, hopperL } = type.granular;
  const fullLoad = Math.min(hopperKg, hopperL * densityKgPerL, type.payloadKg);
  return { swathM, speedMinMps, speedMaxMps, flowMaxPerMin: spreadMaxKgPerMin, fullLoad };
}

/** What an aircraft can lift of a full tank. */
export function fullTankL(tankL: number, payloadKg: number, densityKgPerL: number): number {
  return Math.min(tankL, payloadKg / densityKgPerL);
}

/**
 * L/min = L/ha x km/h x m / 600: IRRI Rice Knowledge Bank, Calibration. Likewise kg/min from kg/ha.
 */
export function flowPerMin(ratePerHa: number, speedMps: number, swathM: number): number {
  return (ratePerHa * kphFromMps(speedMps) * swathM) / 600;
}

/** The same formula solved for the rate. */
export function rateForFlowPerHa(flowPerMinute: number, speedMps: number, swathM: number): number {
  return flowPerMinute / flowPerMin(1, speedMps, swathM);
}

/** The same formula solved for the speed. */
export function speedForFlowMps(flowPerMinute: number, ratePerHa: number, swathM: number): number {
  return mpsFromKph((600 * flowPerMinute) / (ratePerHa * swathM));
}

/**
 * Work rate, ha/h = km/h x m x E / 10, E being the field efficiency: the share of the time that is spent working at full
 * speed and swath (effective field capacity: ASABE EP496, MEMORY).
 */
export function workRateHaPerHour(speedMps: number, swathM: number, efficiencyFrac: number): number {
  return (kphFromMps(speedMps) * swathM * efficiencyFrac) / 10;
}

export type WorkSpeed =
  | { readonly ok: true; readonly speedMps: number; readonly flowPerMin: number }
  | { readonly ok: false; readonly limit: "rate"; readonly actualPerMin: number; readonly allowedPerMin: number };

/** The fastest speed at which the gear still puts out the rate. */
export function workSpeed(gear: Gear, ratePerHa: number): WorkSpeed {
  const flowSpeedMps = speedForFlowMps(gear.flowMaxPerMin, ratePerHa, gear.swathM);
  if (flowSpeedMps < gear.speedMinMps) {
    const actualPerMin = flowPerMin(ratePerHa, gear.speedMinMps, gear.swathM);
    return { ok: false, limit: "rate", actualPerMin, allowedPerMin: gear.flowMaxPerMin };
  }
  const speedMps = Math.min(gear.speedMaxMps, flowSpeedMps);
  return { ok: true, speedMps, flowPerMin: flowPerMin(ratePerHa, speedMps, gear.swathM) };
}
