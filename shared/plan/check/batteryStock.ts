import { minutesPerHour } from "../../model/calendar.ts";
import type { Facts } from "./facts.ts";
import { type Ledger, shown } from "./report.ts";

const hoursPerDay = 24;
/** A share of the stock may fall short of a whole set by this much through rounding. */
const setRounding = 1e-9;

/** The rule `batteryStock`: sets with all crews of a base on a date, against what the night before has charged. */
export function checkBatteryStock(facts: Facts, ledger: Ledger): void {
  const used = new Map<string, { sets: number; baseId: string; typeId: string; date: string }>();
  for (const { crew, crewDay } of facts.days) {
    if (crew === undefined) continue;
    for (const { aircraftTypeId, sets } of crewDay.outfit.batterySets) {
      const key = `${crew.baseId} ${aircraftTypeId} ${crewDay.date}`;
      const before = used.get(key)?.sets ?? 0;
      used.set(key, { sets: before + sets, baseId: crew.baseId, typeId: aircraftTypeId, date: crewDay.date });
    }
  }
  for (const { sets, baseId, typeId, date } of used.values()) {
    const stock = stocksOf(facts, baseId)
      .filter((entry) => entry.aircraftTypeId === typeId)
      .reduce((sum, entry) => sum + entry.sets, 0);
    const share = chargedShare(facts, baseId);
    const charged = Math.floor(stock * share + setRounding);
    ledger.expect("batteryStock", sets <= charged, { date }, () => ({
      sentence: `${sets} battery sets of type ${typeId} leave base ${baseId} on ${date}, its night charges ${shown(share * 100)} % of ${stock}: ${charged}`,
      actual: sets,
      allowed: charged,
    }));
  }
}

function stocksOf({ operation }: Facts, baseId: string) {
  return operation.fleet.batteryStocks.filter((entry) => entry.baseId === baseId);
}

/** Share of every stock of the base that its mains and chargers fill in its shortest night, all sets being home empty. */
function chargedShare(facts: Facts, baseId: string): number {
  const { fleet, settings } = facts.operation;
  const base = settings.bases.find((one) => one.id === baseId);
  const neededKwh = stocksOf(facts, baseId).reduce((sum, { aircraftTypeId, sets }) => {
    const power = facts.types.get(aircraftTypeId)?.power;
    return power?.source === "battery" ? sum + (sets * power.chargeKw * power.chargeMin) / minutesPerHour : sum;
  }, 0);
  if (base === undefined || neededKwh === 0) return 1;
  const chargersKw = fleet.chargers.filter((one) => one.baseId === baseId).reduce((sum, { kw }) => sum + kw, 0);
  const nightsHours = fleet.crews
    .filter((crew) => crew.baseId === baseId)
    .map((crew) => Math.max(crew.restMinHours, hoursPerDay - crew.dutyMaxHoursPerDay));
  return Math.min(1, (Math.min(base.mainsKw, chargersKw) * Math.min(...nightsHours)) / neededKwh);
}
