import { type Agronomy, createAgronomy } from "../../shared/agronomy/agronomy.ts";
import { createCalendar } from "../../shared/model/calendar.ts";
import type { Operation } from "../../shared/model/operation.ts";
import type { Conflict, Plan } from "../../shared/plan/plan.ts";
import { type ProvenBound, proofOf } from "../../shared/plan/proof.ts";
import { publishedStops } from "../../shared/plan/published.ts";
import { compileProblem } from "./compile.ts";
import { explainConflicts } from "./explain.ts";
import { holdLocks } from "./holdLocks.ts";
import type { Problem } from "./problem.ts";
import type { State } from "./routes.ts";
import { type Snapshot, stateFrom } from "./snapshot.ts";
import { type SolveControls, solve } from "./solve.ts";
import { type LeftOut, startFrom } from "./startFrom.ts";
import { toPlan } from "./toPlan.ts";
import { insertWhatStillPays } from "./topUp.ts";

/** What was planned before. */
export interface Before {
  /** A plan to start from, as far as it still holds. */
  readonly from?: Plan;
  /** A plan that people know already: changes against it cost, and the search starts from it if from no other. */
  readonly published?: Plan;
  /** Told of what of that plan no longer holds. */
  readonly onLeftOut?: (left: readonly LeftOut[]) => void;
}

export interface PlanControls extends SolveControls, Before {
  /** Written into the plan, so that it can be made again. */
  readonly seed: number;
}

export interface Prepared {
  readonly problem: Problem;
  readonly agronomy: Agronomy;
  /** The week that holds only what is locked, from which a search may go on; null where nothing is. */
  readonly held: State | null;
}

/** How a plan came about. */
export interface PlanOrigin {
  readonly seed: number;
  readonly iterations: number;
}

/** With agronomy of its own, or that of an operation with the same orders, fields, products, limits and weather, whose answers are known already. */
export function prepareOperation(operation: Operation, published?: Plan, known?: Agronomy): Prepared {
  const calendar = createCalendar(operation.settings);
  const agronomy = known ?? createAgronomy(operation, calendar);
  const stops = published === undefined ? null : publishedStops(published, calendar);
  const problem = compileProblem(operation, calendar, agronomy, stops, null, published?.blocks);
  return { problem, agronomy, held: holdLocks(problem) };
}

/** Where the search begins: with what still holds of a plan, with what is locked, or, undefined, with nothing. */
export function startOf(
  { problem, held }: Prepared,
  { published, from = published, onLeftOut }: Before,
): State | undefined {
  if (from === undefined) return held ?? undefined;
  const { state, left } = startFrom(problem, from, held);
  onLeftOut?.(left);
  return state;
}

/** Plan an operation: compile, search, explain what does not fit. The checker's verdict is the caller's to ask for. */
export function planOperation(operation: Operation, controls: PlanControls): Plan {
  const prepared = prepareOperation(operation, controls.published);
  const { state, iterations } = solve(prepared.problem.routes, controls, startOf(prepared, controls));
  return finishPlan(prepared, state, { seed: controls.seed, iterations });
}

/** The same where it is known what does not fit, or nobody asks why: every block that is left out is named, with no reason. A hundred times quicker. */
export function planUnexplained(prepared: Prepared, controls: PlanControls): Plan {
  const { problem } = prepared;
  const { state, iterations } = solve(problem.routes, controls, startOf(prepared, controls));
  insertWhatStillPays(problem, state);
  return toPlan(problem, state, unexplained(problem, state), { seed: controls.seed, iterations });
}

function unexplained({ orders, blocks, blocksOfOrder }: Problem, state: State): Conflict[] {
  return blocksOfOrder.flatMap((all, order): Conflict[] => {
    const open = all.filter((block) => state.slotOf[block]! < 0);
    if (open.length === 0 && all.length > 0) return [];
    return [
      {
        orderId: orders[order]!.order.id,
        blockIds: open.map((block) => blocks[block]!.block.id),
        areaHa: open.reduce((sum, block) => sum + blocks[block]!.areaHa, 0),
        kind: "notEnoughHours",
        sentence: "it has not been asked why",
        evidence: {},
      },
    ];
  });
}

/** The plan that a search elsewhere has come to, with what is proven of it. */
export function planFromSnapshot(
  prepared: Prepared,
  snapshot: Snapshot,
  origin: PlanOrigin,
  bound: ProvenBound | null,
): Plan {
  const plan = finishPlan(prepared, stateFrom(prepared.problem, snapshot), origin);
  const proof = bound === null ? null : proofOf(bound, plan.score.totalCents);
  return proof === null ? plan : { ...plan, proof };
}

function finishPlan({ problem, agronomy }: Prepared, state: State, origin: PlanOrigin): Plan {
  const present = insertWhatStillPays(problem, state);
  const conflicts = explainConflicts(problem, agronomy, state, present);
  return toPlan(problem, state, conflicts, origin);
}
