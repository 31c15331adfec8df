import type { Facts } from "./facts.ts";
import type { Ledger, Subject } from "./report.ts";

/** That the plan is for this operation, and that every id in it stands for something; an order with its field and products. */
export function checkIdentity(facts: Facts, ledger: Ledger): void {
  const { plan } = facts;
  const { name, timeZone, firstDay, days } = facts.operation.settings;
  const pairs: [what: string, actual: string | number, allowed: string | number][] = [
    ["name", plan.operationName, name],
    ["time zone", plan.timeZone, timeZone],
    ["first day", plan.firstDay, firstDay],
    ["number of days", plan.days, days],
  ];
  for (const [what, actual, allowed] of pairs) {
    ledger.expect("sameOperation", actual === allowed, {}, () => ({
      sentence: `the plan's ${what} is ${actual}, the operation's is ${allowed}`,
      actual,
      allowed,
    }));
  }
  checkIds(facts, ledger);
}

function checkIds(facts: Facts, ledger: Ledger): void {
  const expectKnown = (what: string, id: string, isKnown: boolean, subject: Subject) =>
    ledger.expect("knownIds", isKnown, subject, () => ({ sentence: `${what} ${id} is unknown`, actual: id }));

  const blockIds = new Set<string>();
  for (const { id, orderId } of facts.plan.blocks) {
    expectKnown("order", orderId, facts.mixes.has(orderId), { orderId, blockId: id });
    ledger.expect("knownIds", !blockIds.has(id), { orderId, blockId: id }, () => ({
      sentence: `block ${id} is listed twice`,
      actual: id,
    }));
    blockIds.add(id);
  }
  for (const conflict of facts.plan.conflicts) {
    const { orderId } = conflict;
    expectKnown("order", orderId, facts.mixes.has(orderId), { orderId });
    for (const blockId of conflict.blockIds) {
      expectKnown("block", blockId, facts.blocks.has(blockId), { orderId, blockId });
    }
  }
  for (const { crewId, date, outfit, activities } of facts.plan.crewDays) {
    const subject: Subject = { crewId, date };
    expectKnown("crew", crewId, facts.crews.has(crewId), subject);
    ledger.expect("contiguous", activities.length > 0, subject, () => ({ sentence: `the crew-day has no activity` }));
    for (const aircraftId of outfit.aircraftIds) {
      const typeId = facts.aircraft.get(aircraftId)?.typeId;
      expectKnown("aircraft", aircraftId, typeId !== undefined && facts.types.has(typeId), { ...subject, aircraftId });
    }
    for (const { aircraftTypeId } of outfit.batterySets) {
      expectKnown("aircraft type", aircraftTypeId, facts.types.has(aircraftTypeId), subject);
    }
    for (const chargerId of outfit.chargerIds) {
      expectKnown("charger", chargerId, facts.chargers.has(chargerId), { ...subject, chargerId });
    }
    const { tenderId } = outfit;
    expectKnown("tender", tenderId, facts.tenders.has(tenderId), { ...subject, tenderId });
    for (const activity of activities) {
      const places =
        activity.kind === "drive" ? [activity.from, activity.to] : "place" in activity ? [activity.place] : [];
      for (const place of places) expectKnown("place", place, facts.places.has(place), subject);
      if (activity.kind !== "work") continue;
      const { blockId, padId } = activity;
      const block = facts.blocks.get(blockId);
      expectKnown("block", blockId, block !== undefined, { ...subject, blockId });
      const mix = block && facts.mixes.get(block.orderId);
      if (mix === undefined) continue;
      const isPad = mix.field.properties.pads.some((pad) => pad.id === padId);
      expectKnown("pad", `${mix.field.properties.id}/${padId}`, isPad, { ...subject, blockId });
    }
  }
}
