import type { Agronomy } from "../../shared/agronomy/agronomy.ts";
import { remember } from "../../shared/model/remember.ts";
import type { Conflict } from "../../shared/plan/plan.ts";
import { someSignatureOf } from "./compileWork.ts";
import { createTrials, explainHours, type Trials } from "./explainHours.ts";
import { capableTypes, explainNever, obstaclesOf } from "./explainNever.ts";
import { explainShortage } from "./explainShortage.ts";
import { explainWindows, type Reason } from "./explainWindows.ts";
import type { Problem } from "./problem.ts";
import type { State } from "./routes.ts";
import { tryOn } from "./trial.ts";
import { explainLock } from "./whyLocksBreak.ts";

/**
 * Every order that is not wholly planned, with the first reason that holds, asked from what can never change to what only the week decides: label, ground,
 * aircraft, people, hours, equipment, and last the competition of other work. Blocks of one order with one kind of reason share a conflict. `present` has
 * what was tried on the state already.
 */
export function explainConflicts(
  problem: Problem,
  agronomy: Agronomy,
  state: State,
  present = tryOn(problem, state),
): Conflict[] {
  const known: Known = {
    trials: createTrials(problem, present),
    signatureOf: remember((type) => someSignatureOf(problem, type)),
  };
  return problem.orders.flatMap((_, order) => explainOrder(problem, agronomy, known, order));
}

/** What the reasons of all blocks share. */
interface Known {
  readonly trials: Trials;
  /** An outfit of the type, as good as its base can send. */
  readonly signatureOf: (type: number) => number | undefined;
}

function explainOrder(problem: Problem, agronomy: Agronomy, known: Known, orderIndex: number): Conflict[] {
  const { order } = problem.orders[orderIndex]!;
  const blocks = problem.blocksOfOrder[orderIndex]!;
  if (blocks.length === 0) {
    const reason = explainNever(problem, agronomy, orderIndex, null)!;
    return [{ orderId: order.id, blockIds: [], areaHa: 0, ...reason }];
  }
  const conflicts = new Map<string, { reason: Reason; blocks: number[] }>();
  for (const block of blocks) {
    if (known.trials.present.state.slotOf[block]! >= 0) continue;
    const reason = explainBlock(problem, agronomy, known, block);
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

function explainBlock(problem: Problem, agronomy: Agronomy, { trials, signatureOf }: Known, block: number): Reason {
  const { order, ground } = problem.blocks[block]!;
  const obstacles = obstaclesOf(problem, agronomy, block, signatureOf);
  return (
    explainNever(problem, agronomy, order, obstacles) ??
    explainLock(problem, block) ??
    explainWindows(problem, agronomy, ground, capableTypes(problem, obstacles)) ??
    explainShortage(problem, block) ??
    explainHours(problem, trials, block)
  );
}
