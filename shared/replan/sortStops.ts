import type { Operation } from "../model/operation.ts";
import type { CrewDay } from "../plan/plan.ts";
import type { Happened, ToldStop } from "./happened.ts";

/** What of the stops that have begun stays in the plan at its time, and what of the ground is no longer to be planned. */
export interface SortedStops {
  readonly locked: ReadonlySet<ToldStop>;
  /** Done, or being done, and not in the new plan. */
  readonly gone: ReadonlySet<ToldStop>;
  /** Left before their end. */
  readonly inPart: ReadonlySet<ToldStop>;
}

/** Our choice: a crew that leaves a stop with less than this share open has done it. */
const openShare = 0.02;

/**
 * What was begun on the days that are left stays where it is, as long as its order and what the crew has out are there still. Where they are not, or where more of the order is done, its ground is taken
 * out instead: an order that is done in part is cut anew, and what was done cannot be undone by an aircraft that has broken down since.
 */
export function sortStops(
  operation: Operation,
  { stops, earlier }: Happened,
  firstDay: string,
  asOfMin: number,
): SortedStops {
  const inPart = new Set<ToldStop>();
  const gone = new Set<ToldStop>();
  const stay = new Set<ToldStop>();
  for (const stop of [...earlier, ...stops]) {
    if (stop.state === "notBegun") continue;
    const isHere = stop.crewDay.date >= firstDay && stops.includes(stop);
    // Nobody knows more of a day that is over than what was reported last.
    const isLeft = stop.state === "stopped" || (stop.state === "running" && !isHere);
    if (isLeft && stop.doneHa < (1 - openShare) * stop.block.areaHa) {
      if (stop.doneHa > 0) inPart.add(stop);
    } else if (!isLeft && isHere && couldStay(operation, stop, asOfMin)) stay.add(stop);
    else gone.add(stop);
  }
  const cutAnew = new Set([...inPart, ...gone].map(({ block }) => block.orderId));
  let moved = true;
  while (moved) {
    moved = false;
    for (const stop of stay) {
      if (!cutAnew.has(stop.block.orderId)) continue;
      stay.delete(stop);
      gone.add(stop);
      moved = true;
    }
  }
  return { locked: stay, gone, inPart };
}

function couldStay(operation: Operation, stop: ToldStop, asOfMin: number): boolean {
  // Done before its time: it would keep the crew from what it could do now.
  if (stop.state === "finished" && stop.endMin > asOfMin) return false;
  return isSameOrder(operation, stop) && hasOutfit(operation, stop.crewDay);
}

/** Whether the order asks for the same work on the same ground. */
export function isSameOrder(operation: Operation, { operation: before, block }: ToldStop): boolean {
  const [now, then] = [operation, before].map(({ orders }) => orders.find(({ id }) => id === block.orderId));
  if (now === undefined || then === undefined) return false;
  const wordsOf = ({ fieldId, products, carrierLPerHa, ground }: typeof now) =>
    JSON.stringify([fieldId, products, carrierLPerHa, ground]);
  return wordsOf(now) === wordsOf(then);
}

/** Whether the crew still has a shift on the day and all that it was to take out. */
export function hasOutfit({ fleet }: Operation, { crewId, date, outfit }: CrewDay): boolean {
  const crew = fleet.crews.find(({ id }) => id === crewId);
  if (!crew?.shifts.some((shift) => shift.date === date)) return false;
  const isOut = (id: string) => {
    const aircraft = fleet.aircraft.find((one) => one.id === id);
    return aircraft === undefined || aircraft.outOfService.some(({ from, to }) => from <= date && date <= to);
  };
  return (
    !outfit.aircraftIds.some(isOut) &&
    fleet.tenders.some(({ id }) => id === outfit.tenderId) &&
    outfit.chargerIds.every((chargerId) => fleet.chargers.some(({ id }) => id === chargerId))
  );
}
