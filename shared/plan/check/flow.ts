import type { AircraftType } from "../../model/fleet.ts";
import { rateUnitOf } from "../../model/product.ts";
import { kphFromMps } from "../../units/units.ts";
import type { Mix } from "./facts.ts";

/** What a type's gear for the mix's method can do; undefined when it lacks the gear. */
export interface Gear {
  readonly swathM: number;
  readonly speedMinMps: number;
  /** The least of the gear's own speed and what the flow allows. */
  readonly speedMps: number;
  /** L/min or kg/min. */
  readonly flowMaxPerMin: number;
  readonly flowAtSpeedMinPerMin: number;
  /** L or kg in a full load. */
  readonly fullLoad: number;
}

export function gearOf(type: AircraftType, mix: Mix): Gear | undefined {
  const { liquid, granular, payloadKg } = type;
  if (mix.method === "liquid") {
    if (liquid === undefined) return undefined;
    return gear(mix, liquid, liquid.flowMaxLPerMin, Math.min(liquid.tankL, payloadKg / sprayKgPerL(mix)));
  }
  if (granular === undefined) return undefined;
  // A mix of granules is no denser than its densest part.
  const densityKgPerL = Math.max(...mix.products.map((product) => product.densityKgPerL));
  const fullLoadKg = Math.min(granular.hopperKg, granular.hopperL * densityKgPerL, payloadKg);
  return gear(mix, granular, granular.spreadMaxKgPerMin, fullLoadKg);
}

const waterKgPerL = 1;

/** What a litre of the mix weighs: the products fill a part of the carrier volume, water the rest of it. */
function sprayKgPerL({ order, products, ratePerHa: sprayLPerHa }: Mix): number {
  let productL = 0;
  let productKg = 0;
  for (const [index, product] of products.entries()) {
    const { ratePerHa } = order.products[index]!;
    const isWeighed = rateUnitOf(product) === "kg";
    productL += isWeighed ? ratePerHa / product.densityKgPerL : ratePerHa;
    productKg += isWeighed ? ratePerHa : ratePerHa * product.densityKgPerL;
  }
  return ((sprayLPerHa - productL) * waterKgPerL + productKg) / sprayLPerHa;
}

function gear(
  mix: Mix,
  { swathM, speedMinMps, speedMaxMps }: { swathM: number; speedMinMps: number; speedMaxMps: number },
  flowMaxPerMin: number,
  fullLoad: number,
): Gear {
  const flowPerMps = (mix.ratePerHa * kphFromMps(1) * swathM) / 600;
  return {
    swathM,
    speedMinMps,
    speedMps: Math.min(speedMaxMps, flowMaxPerMin / flowPerMps),
    flowMaxPerMin,
    flowAtSpeedMinPerMin: flowPerMps * speedMinMps,
    fullLoad,
  };
}
