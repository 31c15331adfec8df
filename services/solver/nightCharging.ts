import { minutesPerHour } from "../../shared/model/calendar.ts";
import type { Operation } from "../../shared/model/operation.ts";

const hoursPerDay = 24;
/** Sets that come to a whole number of sets must not lose one to rounding. */
const rounding = 1e-9;

/** What a base charges between two days. */
export interface Night {
  readonly mainsKw: number;
  readonly chargersKw: number;
  /** The shortest night of its crews. */
  readonly hours: number;
  /** What all of its battery sets take. */
  readonly takenKwh: number;
}

export function nightOf({ fleet, settings }: Operation, baseId: string): Night {
  const takenKwh = fleet.batteryStocks
    .filter((stock) => stock.baseId === baseId)
    .reduce((sum, { aircraftTypeId, sets }) => {
      const power = fleet.aircraftTypes.find(({ id }) => id === aircraftTypeId)!.power;
      return power.source === "battery" ? sum + (sets * power.chargeKw * power.chargeMin) / minutesPerHour : sum;
    }, 0);
  const ofBase = <Item extends { readonly baseId: string }>(items: readonly Item[]) =>
    items.filter((item) => item.baseId === baseId);
  return {
    mainsKw: settings.bases.find(({ id }) => id === baseId)!.mainsKw,
    chargersKw: ofBase(fleet.chargers).reduce((sum, { kw }) => sum + kw, 0),
    hours: Math.min(
      ...ofBase(fleet.crews).map(({ restMinHours, dutyMaxHoursPerDay }) =>
        Math.max(restMinHours, hoursPerDay - dutyMaxHoursPerDay),
      ),
    ),
    takenKwh,
  };
}

/** Sets of one stock that are full in the morning: DEVELOPERS.md, "Who and with what". */
export function morningSets(operation: Operation, baseId: string, sets: number): number {
  const { mainsKw, chargersKw, hours, takenKwh } = nightOf(operation, baseId);
  const givenKwh = Math.min(mainsKw, chargersKw) * hours;
  return givenKwh >= takenKwh ? sets : Math.floor((sets * givenKwh) / takenKwh + rounding);
}
