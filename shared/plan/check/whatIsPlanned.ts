import type { Conflict } from "../plan.ts";
import type { Facts } from "./facts.ts";
import { type Ledger, shown } from "./report.ts";
import { hectares, type Terrain } from "./terrain.ts";

/** How far hectares written in a plan may be off. */
const areaShare = 0.005;
const areaRoundingHa = 0.005;

/** Each block is worked once or named by one conflict; an order without a block is named by a conflict. */
export function checkWhatIsPlanned(facts: Facts, ledger: Ledger, terrain: Terrain): void {
  const { plan, operation, blocksOfOrder } = facts;
  const timesWorked = new Map<string, number>();
  for (const { work } of facts.stops) timesWorked.set(work.blockId, (timesWorked.get(work.blockId) ?? 0) + 1);
  const timesNamed = new Map<string, number>();
  for (const blockId of plan.conflicts.flatMap((conflict) => conflict.blockIds)) {
    timesNamed.set(blockId, (timesNamed.get(blockId) ?? 0) + 1);
  }
  for (const block of plan.blocks) {
    const subject = { orderId: block.orderId, blockId: block.id };
    const worked = timesWorked.get(block.id) ?? 0;
    const named = timesNamed.get(block.id) ?? 0;
    ledger.expect("plannedOnce", worked <= 1, subject, () => ({
      sentence: `block ${block.id} is worked ${worked} times`,
      actual: worked,
      allowed: 1,
    }));
    ledger.expect("conflictNamed", worked > 0 ? named === 0 : named === 1, subject, () => ({
      sentence: `block ${block.id} is ${worked > 0 ? "worked" : "not worked"} and named by ${named} conflicts`,
      actual: named,
      allowed: worked > 0 ? 0 : 1,
    }));
  }
  for (const order of operation.orders) {
    if ((blocksOfOrder.get(order.id) ?? []).length > 0) continue;
    const isNamed = plan.conflicts.some((conflict) => conflict.orderId === order.id);
    ledger.expect("conflictNamed", isNamed, { orderId: order.id }, () => ({
      sentence: `order ${order.id} has no block and no conflict names it`,
    }));
  }
  for (const conflict of plan.conflicts) checkConflict(facts, ledger, terrain, conflict);
}

function checkConflict(facts: Facts, ledger: Ledger, terrain: Terrain, conflict: Conflict): void {
  const { orderId, blockIds, areaHa } = conflict;
  const subject = { orderId };
  const own = facts.blocksOfOrder.get(orderId) ?? [];
  const named = own.filter((block) => blockIds.includes(block.id));
  const isAboutOwn = named.length === blockIds.length && (blockIds.length > 0 || own.length === 0);
  ledger.expect("conflictNamed", isAboutOwn, subject, () => ({
    sentence: `the conflict of order ${orderId} names blocks ${blockIds.join(", ") || "none"}, the order has ${own.map((block) => block.id).join(", ") || "none"}`,
    actual: blockIds.join(", "),
  }));
  const mix = facts.mixes.get(orderId);
  if (mix === undefined) return;
  const openHa = own.length > 0 ? named.reduce((sum, block) => sum + block.areaHa, 0) : hectares(terrain.treated(mix));
  // An order whose buffers leave nothing may say so by none or by the little that is left.
  const leastHa = own.length === 0 && openHa < 0.05 ? 0 : openHa;
  const isMeasured =
    areaHa >= leastHa * (1 - areaShare) - areaRoundingHa && areaHa <= openHa * (1 + areaShare) + areaRoundingHa;
  ledger.expect("conflictNamed", isMeasured, subject, () => ({
    sentence: `the conflict of order ${orderId} says ${shown(areaHa)} ha are not planned, it is ${shown(openHa)} ha`,
    actual: areaHa,
    allowed: openHa,
  }));
}
