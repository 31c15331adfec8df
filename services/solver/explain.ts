import type { Agronomy } from "../../shared/agronomy/agronomy.ts";
import type { Conflict } from "../../shared/plan/plan.ts";
import { createTrials, explainHours, type Trials } from "./explainHours.ts";
import type { Problem } from "./problem.ts";
import { explainAlone } from "./reasons/explainAlone.ts";
import { explainGround } from "./reasons/explainGround.ts";
import { explainLocked } from "./reasons/explainLocked.ts";
import { createNeverLimits, type NeverLimits } from "./reasons/neverLimits.ts";
import type { Reason } from "./reasons/reason.ts";
import type { State } from "./routes.ts";
import { tryBlock, tryOn } from "./trial.ts";

/**
 * Every order that is not wholly planned, with its reasons: what of the inputs keeps its blocks out of an empty week, or else what the other work takes from them.
 * Blocks of one order with one kind of reason and the same smallest sets share a conflict. `present` has what was tried on the state already.
 */
export function explainConflicts(
  problem: Problem,
  agronomy: Agronomy,
  state: State,
  present = tryOn(problem, state),
): Conflict[] {
  const known: Known = {
    trials: createTrials(problem, present),
    never: createNeverLimits(problem, agronomy),
  };
  return problem.orders.flatMap((_, order) => explainOrder(problem, agronomy, known, order));
}

/** What the reasons of all blocks share. */
interface Known {
  readonly trials: Trials;
  readonly never: NeverLimits;
}

function explainOrder(problem: Problem, agronomy: Agronomy, known: Known, orderIndex: number): Conflict[] {
  const { order } = problem.orders[orderIndex]!;
  const blocks = problem.blocksOfOrder[orderIndex]!;
  if (blocks.length === 0) {
    return [{ orderId: order.id, blockIds: [], areaHa: 0, ...explainGround(problem, agronomy, orderIndex) }];
  }
  const conflicts = new Map<string, { reason: Reason; blocks: number[] }>();
  for (const block of blocks) {
    if (known.trials.present.state.slotOf[block]! >= 0) continue;
    const reason = explainBlock(problem, agronomy, known, block);
    const key = keyOf(reason);
    const same = conflicts.get(key);
    if (same === undefined) conflicts.set(key, { reason, blocks: [block] });
    else same.blocks.push(block);
  }
  return [...conflicts.values()].map(({ reason, blocks: unplanned }) => ({
    orderId: order.id,
    blockIds: unplanned.map((block) => problem.blocks[block]!.block.id),
    areaHa: unplanned.reduce((sum, block) => sum + problem.blocks[block]!.areaHa, 0),
    ...reason,
  }));
}

/** Reasons that people would tell in one breath. */
function keyOf({ kind, because }: Reason): string {
  const sets = because?.sets.map((set) =>
    set.map(({ limit, aircraftTypeId, orderId }) => [limit, aircraftTypeId, orderId].join(" ")).join(),
  );
  return [kind, ...(sets ?? [])].join("; ");
}

function explainBlock(problem: Problem, agronomy: Agronomy, { trials, never }: Known, block: number): Reason {
  const here = tryBlock(problem, trials.present, block, false);
  const fitsAlone = here !== null || tryBlock(problem, trials.empty, block, true) !== null;
  const alone = fitsAlone ? null : explainAlone(problem, agronomy, never, block);
  const locked = explainLocked(problem, trials.present.state, trials.beside, block, alone);
  return locked ?? alone ?? explainHours(problem, trials, block);
}
