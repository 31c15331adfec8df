import type { Operation } from "../../shared/model/operation.ts";

const hoursPerDay = 24;
const minutesPerHour = 60;
/** A share that comes to a whole number of sets must not lose one to rounding. */
const rounding = 1e-9;

/** How much of what its battery sets take a base can charge between two days: DEVELOPERS.md, "Who and with what". */
function nightShare({ fleet, settings }: Operation, baseId: string): number {
  const takenKwh = fleet.batteryStocks
    .filter((stock) => stock.baseId === baseId)
    .reduce((sum, { aircraftTypeId, sets }) => {
      const power = fleet.aircraftTypes.find(({ id }) => id === aircraftTypeId)!.power;
      return power.source === "battery" ? sum + (sets * power.chargeKw * power.chargeMin) / minutesPerHour : sum;
    }, 0);
  if (takenKwh === 0) return 1;
  const chargersKw = fleet.chargers.filter((one) => one.baseId === baseId).reduce((sum, { kw }) => sum + kw, 0);
  const mainsKw = settings.bases.find(({ id }) => id === baseId)!.mainsKw;
  const nightsH = fleet.crews
    .filter((crew) => crew.baseId === baseId)
    .map(({ restMinHours, dutyMaxHoursPerDay }) => Math.max(restMinHours, hoursPerDay - dutyMaxHoursPerDay));
  return Math.min(1, (Math.min(mainsKw, chargersKw) * Math.min(...nightsH)) / takenKwh);
}

/** Sets of one stock that are full in the morning. */
export function morningSets(operation: Operation, baseId: string, sets: number): number {
  return Math.floor(sets * nightShare(operation, baseId) + rounding);
}
