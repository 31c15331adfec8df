import { remedyFaults } from "../../../shared/cases/remedyGuard.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import type { ConflictKind, Plan } from "../../../shared/plan/plan.ts";
import type { Candidate, Wanting } from "./candidate.ts";
import { extraHours } from "./extraHours.ts";
import type { ConflictGroup } from "./groups.ts";
import { otherDates } from "./otherDates.ts";
import { hiredThings, movedThings } from "./otherThings.ts";
import { otherPads, otherProducts, splitOrders } from "./otherWays.ts";

type Maker = (wanting: Wanting) => Candidate[];

/** What may help against each kind of conflict, what is most likely to first. Against a label, a licence or a buffer only other products do. */
const makersOf: Readonly<Record<ConflictKind, readonly Maker[]>> = {
  noCapableAircraft: [otherProducts, hiredThings, otherPads],
  noQualifiedCrew: [otherProducts, movedThings, hiredThings],
  labelForbids: [otherProducts],
  bufferLeavesNothing: [otherProducts],
  seasonMaximum: [otherProducts],
  retreatment: [otherProducts, otherDates],
  harvestTooSoon: [otherProducts, otherDates],
  entryTooSoon: [otherProducts, otherDates],
  fieldClosed: [otherDates, otherProducts],
  contradiction: [otherDates, otherProducts],
  noWindow: [otherDates, otherProducts],
  windowTooShort: [otherDates, splitOrders, otherProducts, extraHours, hiredThings, movedThings, otherPads],
  equipmentShort: [splitOrders, otherProducts, hiredThings, movedThings],
  notEnoughHours: [extraHours, hiredThings, otherDates, otherProducts, splitOrders, movedThings, otherPads],
};

/** Changes that may help a group, each one that the guard lets pass. */
export function candidatesFor(operation: Operation, plan: Plan, group: ConflictGroup): Candidate[] {
  const orders = operation.orders.filter(({ id }) => group.orderIds.includes(id));
  const wanting = { operation, plan, group, orders };
  return makersOf[group.kind]
    .flatMap((make) => make(wanting))
    .filter(({ change }) => remedyFaults(operation, [change]).length === 0);
}
