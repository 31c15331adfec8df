import type { Agronomy } from "../../shared/agronomy/agronomy.ts";
import type { Conflict } from "../../shared/plan/plan.ts";
import { createTrials, explainHours, type Trials } from "./explainHours.ts";
import { capableTypes, explainNever } from "./explainNever.ts";
import { explainShortage } from "./explainShortage.ts";
import { explainWindows, type Reason } from "./explainWindows.ts";
import type { Problem } from "./problem.ts";
import type { State } from "./state.ts";

/**
 * Every order that is not wholly planned, with the first reason that holds, asked from what can never change to what only the week decides: label, ground,
 * aircraft, people, hours, equipment, and last the competition of other work. Blocks of one order with one kind of reason share a conflict.
 */
export function explainConflicts(problem: Problem, agronomy: Agronomy, state: State): Conflict[] {
  const trials = createTrials(problem, state);
  return problem.orders.flatMap((_, order) => explainOrder(problem, agronomy, trials, order));
}

function explainOrder(problem: Problem, agronomy: Agronomy, trials: Trials, orderIndex: number): Conflict[] {
  const { order } = problem.orders[orderIndex]!;
  const blocks = problem.blocksOfOrder[orderIndex]!;
  if (blocks.length === 0) {
    const reason = explainNever(problem, agronomy, orderIndex, -1)!;
    return [{ orderId: order.id, blockIds: [], areaHa: 0, ...reason }];
  }
  const conflicts = new Map<string, { reason: Reason; blocks: number[] }>();
  for (const block of blocks) {
    if (trials.present.state.slotOf[block]! >= 0) continue;
    const reason = explainBlock(problem, agronomy, trials, block);
    const same = conflicts.get(reason.kind);
    if (same === undefined) conflicts.set(reason.kind, { reason, blocks: [block] });
    else same.blocks.push(block);
  }
  return [...conflicts.values()].map(({ reason, blocks: unplanned }) => ({
    orderId: order.id,
    blockIds: unplanned.map((block) => problem.blocks[block]!.block.id),
    areaHa: unplanned.reduce((sum, block) => sum + problem.blocks[block]!.areaHa, 0),
    ...reason,
  }));
}

function explainBlock(problem: Problem, agronomy: Agronomy, trials: Trials, block: number): Reason {
  const { order, ground } = problem.blocks[block]!;
  return (
    explainNever(problem, agronomy, order, block) ??
    explainWindows(problem, agronomy, ground, capableTypes(problem, agronomy, block)) ??
    explainShortage(problem, block) ??
    explainHours(problem, trials, block)
  );
}
