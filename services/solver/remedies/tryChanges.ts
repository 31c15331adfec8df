import { applyChanges } from "../../../shared/cases/applyChanges.ts";
import { asChanges, type RemedyChange } from "../../../shared/cases/remedyChange.ts";
import { remedyFaults } from "../../../shared/cases/remedyGuard.ts";
import { bindsAlike } from "../../../shared/cases/whatBinds.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import type { OrderId } from "../../../shared/model/quantities.ts";
import { checkPlan } from "../../../shared/plan/check/checkPlan.ts";
import type { Plan } from "../../../shared/plan/plan.ts";
import { changesOf } from "../../../shared/plan/published.ts";
import { scorePartNames } from "../../../shared/plan/scoreParts.ts";
import { stopsOf, sumOf, valuesPerHa } from "../../../shared/plan/totals.ts";
import { planOperation, prepareOperation } from "../planOperation.ts";
import type { Polish } from "../polish.ts";
import { createRandom } from "../random.ts";
import { createState } from "../state.ts";
import { tryBlock, tryOn } from "../trial.ts";
import { hireCentsOf } from "./hireCents.ts";

/** One change to be planned with, or none at all for what it is held against. */
export interface TryTask {
  readonly changes: readonly RemedyChange[];
  readonly seed: number;
  /** Orders of which some block has to fit alone in an empty week before anything is planned; null: that is not asked. */
  readonly screen: readonly OrderId[] | null;
}

/** What a search from the present plan came to. */
export interface TriedPlan {
  readonly status: "planned";
  /** Of every order that has any. */
  readonly servedHa: Readonly<Record<string, number>>;
  readonly servedHaInAll: number;
  /** All parts of the score but orders left out and changes of plan. */
  readonly costCents: number;
  /** What the planned hectares are worth by price and priority. */
  readonly valueCents: number;
  readonly earnedCents: number;
  readonly hireCents: number;
  readonly stopsMoved: number;
  readonly stopsDropped: number;
  /** The checker has passed it, and nothing locked had to give way. */
  readonly isGood: boolean;
}
export type Tried = TriedPlan | { readonly status: "fitsNobody" };

export interface WarmSearch {
  readonly iterations: number;
  readonly polish?: Polish;
}

/** Plan again from the present plan with the changes made. That one breaks what binds is a bug. */
export function tryChanges(operation: Operation, plan: Plan, task: TryTask, search: WarmSearch): Tried {
  const changed = changedBy(operation, task.changes);
  if (changed === null || (task.screen !== null && !fitsAlone(changed, task.screen))) return { status: "fitsNobody" };
  return summed(operation, plan, changed, planAgain(changed, plan, task.seed, search), task.changes);
}

/** The operation with a remedy's changes made; null where they contradict what there is. */
export function changedBy(operation: Operation, changes: readonly RemedyChange[]): Operation | null {
  const faults = remedyFaults(operation, changes);
  if (faults.length > 0) throw new Error(`no remedy: ${faults.join("; ")}`);
  const outcome = applyChanges(operation, asChanges(changes));
  if (!outcome.ok) return null;
  if (!bindsAlike(operation, outcome.operation)) throw new Error("a remedy has changed what binds");
  return outcome.operation;
}

function planAgain(operation: Operation, published: Plan, seed: number, { iterations, polish }: WarmSearch): Plan {
  return planOperation(operation, {
    seed,
    published,
    random: createRandom(seed),
    doneShare: (done) => (iterations === 0 ? 1 : done / iterations),
    ...(polish === undefined ? {} : { polish }),
  });
}

function summed(
  operation: Operation,
  present: Plan,
  changed: Operation,
  plan: Plan,
  changes: readonly RemedyChange[],
): TriedPlan {
  const stops = stopsOf(plan);
  const servedHa: Record<string, number> = {};
  for (const { block } of stops) servedHa[block.orderId] = (servedHa[block.orderId] ?? 0) + block.areaHa;
  const planned = operation.orders.map((order) => ({ order, areaHa: servedHa[order.id] ?? 0 }));
  const valuePerHa = valuesPerHa(operation);
  const moved = changesOf(changed.settings.planning, plan, stops);
  return {
    status: "planned",
    servedHa,
    servedHaInAll: plan.score.servedHa,
    costCents: sumOf(scorePartNames, (part) =>
      part === "unservedCents" || part === "changeCents" ? 0 : (plan.score[part] ?? 0),
    ),
    valueCents: sumOf(planned, ({ order, areaHa }) => areaHa * valuePerHa(order)),
    earnedCents: sumOf(planned, ({ order, areaHa }) => areaHa * order.priceCentsPerHa),
    hireCents: hireCentsOf(operation, changed, plan, changes),
    stopsMoved: moved.filter(({ kind }) => kind !== "dropped").length,
    stopsDropped: moved.filter(({ kind }) => kind === "dropped").length,
    isGood: (plan.brokenLocks?.length ?? 0) <= (present.brokenLocks?.length ?? 0) && checkPlan(changed, plan).ok,
  };
}

/** Whether some block of the orders fits a week that holds nothing else. Other orders are left out of the operation, so this takes a small part of the time of a plan. */
function fitsAlone(operation: Operation, orderIds: readonly OrderId[]): boolean {
  const orders = operation.orders
    .filter(({ id }) => orderIds.includes(id))
    .map((order) => ({ ...order, apartFrom: [] }));
  const { problem } = prepareOperation({ ...operation, orders, locks: [] });
  const empty = tryOn(problem, createState(problem.routes));
  return problem.blocks.some((_, block) => tryBlock(problem, empty, block, true) !== null);
}
