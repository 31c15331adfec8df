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
    const fullLoad = Math.min(tankL, type.payloadKg / densityKgPerL);
    return { swathM, speedMinMps, speedMaxMps, flowMaxPerMin: flowMaxLPerMin, fullLoad };
  }
  if (type.granular === undefined) return undefined;
  const { swathM, speedMinMps, speedMaxMps, spreadMaxKgPerMin, hopperKg, hopperL } = type.granular;
  const fullLoad = Math.min(hopperKg, hopperL * densityKgPerL, type.payloadKg);
  return { swathM, speedMinMps, speedMaxMps, flowMaxPerMin: spreadMaxKgPerMin, fullLoad };
}

/**
 * L/min = L/ha x km/h x m / 600: IRRI Rice Knowledge Bank, Calibration. Likewise kg/min from kg/ha.
 */
export function flowPerMin(ratePerHa: number, speedMps: number, swathM: number): number {
  return (ratePerHa * kphFromMps(speedMps) * swathM) / 600;
}

/** The same formula solved for the speed. */
function speedForFlowMps(flowPerMinute: number, ratePerHa: number, swathM: number): number {
  return mpsFromKph((600 * flowPerMinute) / (ratePerHa * swathM));
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
