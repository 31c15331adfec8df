import type { RemedyChange } from "../../../shared/cases/remedyChange.ts";
import { daysBetween } from "../../../shared/model/calendar.ts";
import type { HireOffer } from "../../../shared/model/fleet.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import type { BaseId } from "../../../shared/model/quantities.ts";
import type { CrewDay, Plan } from "../../../shared/plan/plan.ts";
import { sumOf } from "../../../shared/plan/totals.ts";

const daysPerWeek = 7;

/**
 * What is paid for things that changes hire, each from the first day on which the plan uses it to the last. Battery sets have no names and chargers help every night, so for these, and for aircraft
 * that come with sets, all days count on which their base sends out aircraft of the type, or any: rather too much than too little. Of offers for the same base the one that then costs least is taken.
 */
export function hireCentsOf(
  before: Operation,
  changed: Operation,
  plan: Pick<Plan, "crewDays">,
  changes: readonly RemedyChange[],
): number {
  const offers = before.fleet.hire ?? [];
  const baseOf = new Map(changed.fleet.crews.map(({ id, baseId }) => [id, baseId]));
  const typeOf = new Map(changed.fleet.aircraft.map(({ id, typeId }) => [id, typeId]));
  return sumOf(changes, (change) => {
    switch (change.kind) {
      case "addAircraft": {
        const fits = (one: HireOffer) =>
          one.kind === "aircraft" &&
          one.typeId === change.typeId &&
          change.batterySets <= one.batterySets * change.count;
        const days = change.batterySets > 0 ? withType(change.baseId, change.typeId) : daysOf(newIds("aircraft"));
        return leastPaid(fits, change.baseId, days, change.count);
      }
      case "batterySets": {
        const fits = (one: HireOffer) => one.kind === "batterySets" && one.typeId === change.typeId;
        return leastPaid(fits, change.baseId, withType(change.baseId, change.typeId), change.more);
      }
      case "addCharger": {
        const fits = (one: HireOffer) => one.kind === "charger" && one.bays === change.bays && one.kw === change.kw;
        return leastPaid(fits, change.baseId, fromBase(change.baseId), change.count);
      }
      case "addTender": {
        const fits = (one: HireOffer) => one.kind === "tender" && one.like === change.like;
        return leastPaid(fits, change.baseId, daysOf(newIds("tenders")), change.count);
      }
      default:
        return 0;
    }
  });

  function leastPaid(
    fits: (offer: HireOffer) => boolean,
    baseId: BaseId,
    days: readonly CrewDay[],
    count: number,
  ): number {
    const there = offers.filter((offer) => offer.baseIds.includes(baseId) && count <= offer.most && fits(offer));
    return there.length === 0 ? 0 : Math.min(...there.map((offer) => paid(offer, days, count)));
  }
  function newIds(things: "aircraft" | "tenders"): ReadonlySet<string> {
    const old = new Set<string>(before.fleet[things].map(({ id }) => id));
    return new Set(changed.fleet[things].map(({ id }) => id as string).filter((id) => !old.has(id)));
  }
  function daysOf(ids: ReadonlySet<string>): CrewDay[] {
    return plan.crewDays.filter(({ outfit }) => [...outfit.aircraftIds, outfit.tenderId].some((id) => ids.has(id)));
  }
  function fromBase(baseId: string): CrewDay[] {
    return plan.crewDays.filter(({ crewId }) => baseOf.get(crewId) === baseId);
  }
  function withType(baseId: string, typeId: string): CrewDay[] {
    return fromBase(baseId).filter(({ outfit }) => outfit.aircraftIds.some((id) => typeOf.get(id) === typeId));
  }
}

function paid(offer: HireOffer, days: readonly CrewDay[], count: number): number {
  if (days.length === 0) return 0;
  const dates = days.map(({ date }) => date).sort();
  const span = daysBetween(dates[0]!, dates.at(-1)!) + 1;
  return count * offer.hireCents * (offer.per === "day" ? span : Math.ceil(span / daysPerWeek));
}
