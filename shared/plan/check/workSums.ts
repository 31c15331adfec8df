import type { AircraftType } from "../../model/fleet.ts";
import { secondsPerMinute } from "../../units/units.ts";
import type { WorkDetail } from "../plan.ts";
import type { Stop } from "./facts.ts";

/** Minutes in the air, of all aircraft together. */
export function airMin({ sprayMin, turnMin, ferryMin }: WorkDetail): number {
  return sprayMin + turnMin + ferryMin;
}

/** Minutes in the air that a full set or full fuel gives down to the reserve. */
export function usableMinOf({ power }: AircraftType): number {
  return power.enduranceMin * (1 - power.reserveFrac);
}

/** Minutes on the ground that loads alone take, of all aircraft together. Only liquids are sure to go through the pump. */
export function loadingMin({ day, mix, block }: Stop, loads: number, loadS: number): number {
  const pumpMin =
    mix.method === "liquid" && day.tender !== undefined ? (block.areaHa * mix.ratePerHa) / day.tender.pumpLPerMin : 0;
  return (loads * loadS) / secondsPerMinute + pumpMin;
}
