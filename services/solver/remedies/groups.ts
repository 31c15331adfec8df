import type { RemedyGroup } from "../../../shared/cases/remedy.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import type { OrderId } from "../../../shared/model/quantities.ts";
import type { Conflict, Plan } from "../../../shared/plan/plan.ts";
import { groupBy, sumOf } from "../../../shared/plan/totals.ts";
import { conflictWords, counted, hectares } from "../../../shared/plan/words.ts";

/** A group and the conflicts that it is made of. */
export interface ConflictGroup extends RemedyGroup {
  readonly conflicts: readonly Conflict[];
}

/** Conflicts that the same thing makes: full crews of a base on a day, a field's dates, a licence that nobody holds. Those of most value first. */
export function groupConflicts(operation: Operation, plan: Pick<Plan, "conflicts">): ConflictGroup[] {
  const groups = groupBy(plan.conflicts, (conflict) => `${conflict.kind} ${blockingThing(operation, conflict)}`);
  return [...groups.values()].map((conflicts): ConflictGroup => {
    const orderIds = [...new Set(conflicts.map(({ orderId }) => orderId))];
    const areaHa = sumOf(conflicts, (conflict) => conflict.areaHa);
    return {
      kind: conflicts[0]!.kind,
      orderIds,
      areaHa,
      sentence: sentenceOf(operation, conflicts, orderIds, areaHa),
      conflicts,
    };
  });
}

function sentenceOf(
  operation: Operation,
  conflicts: readonly Conflict[],
  orderIds: readonly OrderId[],
  areaHa: number,
): string {
  const first = conflicts[0]!;
  const fields = orderIds.map((id) => `${id} ${fieldName(operation, id)}`);
  const area = areaHa > 0 ? `, ${hectares(areaHa)} ha` : "";
  const why = `${conflictWords[first.kind]}${lossWords(conflicts)}`;
  if (orderIds.length === 1) return `${fields[0]}${area}: ${why}`;
  return `${counted(orderIds.length, "order", "orders")}${area} (${fields.join(", ")}): ${why}`;
}

/** More hours are no help to what there are hours for and what costs more than it is worth. */
function lossWords(conflicts: readonly Conflict[]): string {
  const isAtLoss = ({ kind, evidence: { costCents, valueCents } }: Conflict) =>
    kind === "notEnoughHours" && typeof costCents === "number" && costCents >= Number(valueCents);
  const orders = new Set(conflicts.filter(isAtLoss).map(({ orderId }) => orderId)).size;
  if (orders === 0) return "";
  const some = conflicts.every(isAtLoss) ? "" : `${orders} of them `;
  return `; ${some}could be done on top, but at a loss`;
}

function fieldName({ orders, fields }: Operation, orderId: OrderId): string {
  const fieldId = orders.find(({ id }) => id === orderId)?.fieldId;
  return fields.features.find(({ properties }) => properties.id === fieldId)?.properties.name ?? "";
}

/** What stands in the way, so that the same remedies may help all that share it. */
function blockingThing(operation: Operation, { kind, orderId, evidence, because, sentence }: Conflict): string {
  switch (kind) {
    case "notEnoughHours": {
      const crewDay = (evidence.fitsAlone || evidence.crewDay) as { crewId: string; date: string } | false | undefined;
      if (!crewDay) return orderId;
      const base = operation.fleet.crews.find(({ id }) => id === crewDay.crewId)?.baseId;
      return `${base} ${crewDay.date}`;
    }
    case "noQualifiedCrew":
      return sentence;
    case "equipmentShort":
      return because?.sets.map((set) => set.map(({ limit }) => limit).join()).join(";") ?? orderId;
    case "harvestTooSoon":
    case "contradiction":
    case "entryTooSoon":
    case "fieldClosed":
      return operation.orders.find(({ id }) => id === orderId)?.fieldId ?? orderId;
    default:
      return orderId;
  }
}
