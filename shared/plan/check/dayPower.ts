import { secondsPerMinute } from "../../units/units.ts";
import { type Day, distinctTypes, type Facts, type Stop } from "./facts.ts";
import { setsOf, workingBays } from "./outfit.ts";
import { type Ledger, rounding, shown } from "./report.ts";
import { stretchMinutes } from "./stretches.ts";
import { airMin, loadingMin, usableMinOf } from "./workSums.ts";

/** Over a crew-day: the minutes in the air against the batteries or the fuel that they take. */
export function checkDayPower(facts: Facts, ledger: Ledger): void {
  for (const day of facts.days) {
    const stops = facts.stops.filter((stop) => stop.day === day);
    if (stops.length === 0) continue;
    const burnsFuel = day.types.some((type) => type.power.source === "fuel");
    if (burnsFuel) checkFuel(ledger, day, stops);
    else checkBatteryEnergy(ledger, day, stops);
  }
}

/**
 * Flying up to the end of each work takes no more than the sets held at the start and what the bays can have charged since
 * the first work began, pauses left out. Outfits that burn fuel are left out.
 */
function checkBatteryEnergy(ledger: Ledger, day: Day, stops: readonly Stop[]): void {
  let flownMin = 0;
  let pausedMin = 0;
  for (const stop of stops) {
    const { startMin, endMin, detail } = stop.work;
    flownMin += airMin(detail);
    pausedMin += endMin - startMin - stretchMinutes(stop.stretches);
    const elapsedMin = endMin - stops[0]!.work.startMin - pausedMin;
    const heldMin = distinctTypes(day).reduce((sum, type) => {
      if (type.power.source === "fuel") return sum;
      const charged = (workingBays(day, type.power.chargeKw) * elapsedMin) / type.power.chargeMin;
      return sum + (setsOf(day, type.id) + charged) * usableMinOf(type);
    }, 0);
    ledger.expect("batteryEnergy", flownMin <= heldMin + rounding, stop.subject, () => ({
      sentence: `${shown(flownMin)} min in the air by the end of block ${stop.block.id}, sets and charging give ${shown(heldMin)} min`,
      actual: flownMin,
      allowed: heldMin,
    }));
  }
}

/** Times on the ground may miss the fillings by this much through rounding. */
const fillingToleranceS = 0.5;

/**
 * What full fuel does not give is filled up at the field, in minutes on the ground that no load takes. Every figure is the
 * best of any aircraft that burns fuel. Beside battery aircraft, those are taken to fly in every minute of the works.
 */
function checkFuel(ledger: Ledger, { types }: Day, stops: readonly Stop[]): void {
  const burning = types.flatMap((type) =>
    type.power.source === "fuel" ? [{ type, refuelS: type.power.refuelS }] : [],
  );
  const usableMin = Math.max(...burning.map(({ type }) => usableMinOf(type)));
  const refuelS = Math.min(...burning.map((one) => one.refuelS));
  const loadS = Math.min(...types.map((type) => type.loadS));
  let flownMin = 0;
  let spareS = 0;
  for (const stop of stops) {
    const { detail } = stop.work;
    flownMin += Math.max(0, airMin(detail) - (types.length - burning.length) * stop.workMin);
    spareS += (detail.groundMin - loadingMin(stop, detail.loads, loadS)) * secondsPerMinute;
    const fillings = Math.max(0, Math.ceil(flownMin / usableMin - rounding) - burning.length);
    const neededS = fillings === 0 ? 0 : fillings * refuelS;
    const heldS = Math.max(0, spareS);
    ledger.expect("fuel", neededS <= heldS + fillingToleranceS, stop.subject, () => ({
      sentence: `${shown(flownMin)} min in the air by the end of block ${stop.block.id}: refuelling at the field takes at least ${shown(neededS)} s, the works have ${shown(heldS)} s on the ground beside the loads`,
      actual: heldS,
      allowed: neededS,
    }));
  }
}
