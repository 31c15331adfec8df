import { minutesPerHour } from "../../model/calendar.ts";
import type { AircraftType } from "../../model/fleet.ts";
import { secondsPerMinute } from "../../units/units.ts";
import { type Day, distinctTypes, type Facts, type Stop } from "./facts.ts";
import { baysOf, setsOf } from "./outfit.ts";
import { type Ledger, rounding, shown } from "./report.ts";
import { stretchMinutes } from "./stretches.ts";
import { airMin, loadingMin, usableMinOf } from "./workSums.ts";

/** Over a crew-day: the minutes in the air against the batteries or the fuel that they take. */
export function checkDayPower(facts: Facts, ledger: Ledger): void {
  for (const day of facts.days) {
    const stops = facts.stops.filter((stop) => stop.day === day);
    if (stops.length === 0) continue;
    if (stops.some((stop) => distinctTypes(stop).length > 1)) {
      checkPower(ledger, day, day.types, stops, stops);
      continue;
    }
    // Each block by aircraft of one type: each type has its own sets or fuel.
    const atWork = new Set(stops.map(({ types: [type] }) => type));
    for (const type of atWork) {
      const own = stops.filter(({ types }) => types[0] === type);
      checkPower(
        ledger,
        day,
        day.types.filter((one) => one === type),
        own,
        stops,
      );
    }
    if (atWork.size > 1) checkSharedCharging(ledger, day, stops);
  }
}

/** Of the day's stops their own; `types` by aircraft, of those that may have worked them. */
function checkPower(
  ledger: Ledger,
  day: Day,
  types: readonly AircraftType[],
  own: readonly Stop[],
  stops: readonly Stop[],
): void {
  if (types.some((type) => type.power.source === "fuel")) checkFuel(ledger, types, own);
  else checkBatteryEnergy(ledger, day, types, own, stops);
}

/** What the bays must at least have charged for the stops, of all types together. */
function chargingNeeded(day: Day, stops: readonly Stop[]): { readonly bayMin: number; readonly kwMin: number } {
  return distinctTypes(day).reduce(
    (sum, type) => {
      if (type.power.source === "fuel") return sum;
      const own = stops.filter(({ types }) => types[0] === type);
      const flownMin = own.reduce((min, { work }) => min + airMin(work.detail), 0);
      const bayMin = Math.max(0, flownMin / usableMinOf(type) - setsOf(day, type.id)) * type.power.chargeMin;
      return { bayMin: sum.bayMin + bayMin, kwMin: sum.kwMin + bayMin * type.power.chargeKw };
    },
    { bayMin: 0, kwMin: 0 },
  );
}

/** Types on batteries share the bays, the chargers' power and the generator's since the first work began, pauses left out. */
function checkSharedCharging(ledger: Ledger, day: Day, stops: readonly Stop[]): void {
  const { chargers, tender } = day;
  const bays = chargers.reduce((sum, charger) => sum + charger.bays, 0);
  const chargersKw = chargers.reduce((sum, charger) => sum + charger.kw, 0);
  const powerKw = Math.min(chargersKw, tender?.generatorKw ?? chargersKw);
  stops.forEach((stop, at) => {
    const before = stops.slice(0, at + 1);
    const elapsedMin = elapsedIn(before);
    const { bayMin, kwMin } = chargingNeeded(day, before);
    const holds = bayMin <= bays * elapsedMin + rounding && kwMin <= powerKw * elapsedMin + rounding;
    ledger.expect("batteryEnergy", holds, stop.subject, () => ({
      sentence: `by the end of block ${stop.block.id} the types of the outfit together must have charged ${shown(bayMin)} min of one bay and ${shown(kwMin / minutesPerHour)} kWh, ${shown(elapsedMin)} min with ${bays} bays and ${shown(powerKw)} kW give less`,
      actual: kwMin,
      allowed: powerKw * elapsedMin,
    }));
  });
}

/** Minutes from the beginning of the first to the end of the last, pauses left out. */
function elapsedIn(stops: readonly Stop[]): number {
  const pausedMin = stops.reduce(
    (sum, { work, stretches }) => sum + work.endMin - work.startMin - stretchMinutes(stretches),
    0,
  );
  return stops.at(-1)!.work.endMin - stops[0]!.work.startMin - pausedMin;
}

/**
 * Flying up to the end of each work takes no more than the sets held at the start and what the bays can have charged since
 * the first work began, pauses left out. Outfits that burn fuel are left out.
 */
function checkBatteryEnergy(
  ledger: Ledger,
  day: Day,
  types: readonly AircraftType[],
  own: readonly Stop[],
  stops: readonly Stop[],
): void {
  const first = stops.indexOf(own[0]!);
  let flownMin = 0;
  for (const stop of own) {
    flownMin += airMin(stop.work.detail);
    const elapsedMin = elapsedIn(stops.slice(first, stops.indexOf(stop) + 1));
    const heldMin = distinctTypes({ types }).reduce((sum, type) => {
      if (type.power.source === "fuel") return sum;
      const charged = (baysOf(day, type) * elapsedMin) / type.power.chargeMin;
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
function checkFuel(ledger: Ledger, types: readonly AircraftType[], stops: readonly Stop[]): void {
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
