import type { CrewDay } from "../plan.ts";
import { type Day, distinctTypes, type Facts } from "./facts.ts";
import { awayBaseOf, dayOn } from "./nights.ts";
import { setsOf, workingBays } from "./outfit.ts";
import { type Ledger, rounding, shown } from "./report.ts";

/** The rules about nights at another base: work again the next day, with the same things, charged by then. */
export function checkNights(facts: Facts, ledger: Ledger): void {
  for (const day of facts.days) {
    const baseId = awayBaseOf(day);
    if (baseId === undefined) continue;
    const next = dayOn(facts, day, 1);
    ledger.expect("nightAway", next !== undefined, day.subject, () => ({
      sentence: `crew ${day.crewDay.crewId} sleeps at ${baseId} and has no crew-day on the next date to come home`,
      actual: baseId,
      allowed: day.crew!.baseId,
    }));
    if (next === undefined) continue;
    const [evening, morning] = [outfitText(day.crewDay), outfitText(next.crewDay)];
    ledger.expect("nightOutfit", evening === morning, next.subject, () => ({
      sentence: `crew ${day.crewDay.crewId} sleeps at ${baseId} and goes on with another outfit`,
      actual: morning,
      allowed: evening,
    }));
    checkCharging(ledger, day, next, baseId);
  }
}

/** All sets, one type after the other, in the bays that work in the field. */
function checkCharging(ledger: Ledger, day: Day, next: Day, baseId: string): void {
  const neededMin = distinctTypes(day).reduce((sum, type) => {
    if (type.power.source === "fuel") return sum;
    const bays = workingBays(day, type.power.chargeKw);
    return bays === 0 ? sum : sum + Math.ceil(setsOf(day, type.id) / bays) * type.power.chargeMin;
  }, 0);
  const nightMin = next.startMin - day.endMin;
  ledger.expect("nightCharging", neededMin <= nightMin + rounding, next.subject, () => ({
    sentence: `the night at ${baseId} lasts ${nightMin} min, charging all sets takes ${shown(neededMin)} min`,
    actual: nightMin,
    allowed: neededMin,
  }));
}

function outfitText({ outfit }: CrewDay): string {
  const { aircraftIds, batterySets, chargerIds, tenderId } = outfit;
  const sets = batterySets.map(({ aircraftTypeId, sets }) => `${sets} sets for ${aircraftTypeId}`).sort();
  return [...[...aircraftIds].sort(), ...sets, ...[...chargerIds].sort(), tenderId].join(", ");
}
