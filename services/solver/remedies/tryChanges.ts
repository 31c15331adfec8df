import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import { applyChanges } from "../../../shared/cases/applyChanges.ts";
import { asChanges, type RemedyChange } from "../../../shared/cases/remedyChange.ts";
import { remedyFaults } from "../../../shared/cases/remedyGuard.ts";
import { bindsAlike } from "../../../shared/cases/whatBinds.ts";
import { createCalendar } from "../../../shared/model/calendar.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import type { OrderId } from "../../../shared/model/quantities.ts";
import { checkPlan } from "../../../shared/plan/check/checkPlan.ts";
import type { Plan } from "../../../shared/plan/plan.ts";
import { changesOf } from "../../../shared/plan/published.ts";
import { scorePartNames } from "../../../shared/plan/scoreParts.ts";
import { stopsOf, sumOf, valuesPerHa } from "../../../shared/plan/totals.ts";
import { type Before, type Prepared, planUnexplained, prepareOperation, startOf } from "../planOperation.ts";
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
  /**
   * Null: a short search that moves published stops only where that pays. Else a long one that moves stops as it likes, and a second that leaves out what of these orders the present plan has not,
   * for what they are worth once the change is made: it may have a better use.
   */
  readonly without: readonly OrderId[] | null;
}

/** Our choice: a long search has so many times the iterations of a short one, and begins as hot as one from nothing where it has so many for every block: with fewer it would lose by chance more than orders are worth. */
const longerTimes = 6;
const hotPerBlock = 15;
/** Less than this is rounding. */
export const leastHa = 0.1;
const hot = { warmTemperature: 1 };

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
  /** The checker has passed it, and nothing locked had to give way. It is not asked of a plan that has of no order more than the present one: nothing is claimed of that. */
  readonly isGood: boolean;
  /** What the best plan found without the orders costs more; null where that was not asked. */
  readonly withoutCents: number | null;
}
export type Tried = TriedPlan | { readonly status: "fitsNobody" };

export interface WarmSearch {
  readonly iterations: number;
  readonly polish?: Polish;
}

/** Tries changes to one operation that has one present plan. */
export type TryChanges = (task: TryTask) => Tried;

/** Plan again from the present plan with changes made. That one breaks what binds is a bug. */
export function createTrying(operation: Operation, plan: Plan, search: WarmSearch): TryChanges {
  const agronomy = createAgronomy(operation, createCalendar(operation.settings));
  return (task) => {
    const judged = changedBy(operation, task.changes);
    if (judged === null) return { status: "fitsNobody" };
    const isFleetOnly = task.changes.every(({ kind }) => fleetOnly[kind]);
    const changed = isFleetOnly ? withOwnWords(operation, judged) : judged;
    if (task.screen !== null && !fitsAlone(changed, task.screen)) return { status: "fitsNobody" };
    const known = isFleetOnly ? agronomy : undefined;
    const planned = (again: Plan, withoutCents: number | null) =>
      summed(operation, plan, changed, again, task.changes, withoutCents);
    if (task.without === null)
      return planned(planAgain(prepareOperation(changed, plan, known), { published: plan }, task, search), null);

    const prepared = prepareOperation(changed, undefined, known);
    const again = planAgain(prepared, { from: plan }, task, search);
    // What is locked is worth more than anything: with it the problem is compiled anew.
    const worthless = prepared.held === null ? prepared : prepareOperation(changed, undefined, known);
    forgetValue(worthless, plan, task.without);
    const without = planAgain(worthless, { from: plan }, task, search);
    return planned(again, without.score.totalCents - again.score.totalCents);
  };
}

/** Changes that leave orders and fields alone, so that windows and treated areas are as before. */
const fleetOnly: Readonly<Record<RemedyChange["kind"], boolean>> = {
  longerShift: true,
  setShift: true,
  moveThings: true,
  addAircraft: true,
  batterySets: true,
  addCharger: true,
  addTender: true,
  addPad: false,
  harvestDate: false,
  changeOrder: false,
};

/** The same words as before wherever they say the same: answers are kept by order and type. */
function withOwnWords(before: Operation, { fleet }: Operation): Operation {
  return { ...before, fleet: { ...fleet, aircraftTypes: before.fleet.aircraftTypes } };
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

function planAgain(
  prepared: Prepared,
  before: Before,
  { seed, without }: TryTask,
  { iterations, polish }: WarmSearch,
): Plan {
  const isLong = without !== null;
  const most = isLong ? iterations * longerTimes : iterations;
  return planUnexplained(prepared, {
    seed,
    ...before,
    random: createRandom(seed),
    doneShare: (done) => (most === 0 ? 1 : done / most),
    ...(isLong && most >= hotPerBlock * prepared.problem.blocks.length ? { settings: hot } : {}),
    ...(polish === undefined ? {} : { polish }),
  });
}

/** Blocks of the orders that the plan has not are worth nothing from now on, so no search puts them in. */
function forgetValue(prepared: Prepared, plan: Plan, orderIds: readonly OrderId[]): void {
  const { orders, blocks, routes } = prepared.problem;
  const present = startOf(prepared, { from: plan })!;
  blocks.forEach(({ order }, block) => {
    if (orderIds.includes(orders[order]!.order.id) && present.slotOf[block]! < 0) routes.valueCents[block] = 0;
  });
}

/** Hectares that a plan has of each order, of those that it has any of. */
export function servedByOrder(plan: Pick<Plan, "blocks" | "crewDays">): Readonly<Record<string, number>> {
  const servedHa: Record<string, number> = {};
  for (const { block } of stopsOf(plan)) servedHa[block.orderId] = (servedHa[block.orderId] ?? 0) + block.areaHa;
  return servedHa;
}

function summed(
  operation: Operation,
  present: Plan,
  changed: Operation,
  plan: Plan,
  changes: readonly RemedyChange[],
  withoutCents: number | null,
): TriedPlan {
  const stops = stopsOf(plan);
  const servedHa = servedByOrder(plan);
  const presentHa = servedByOrder(present);
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
    isGood:
      Object.entries(servedHa).every(([orderId, areaHa]) => areaHa < (presentHa[orderId] ?? 0) + leastHa) ||
      ((plan.brokenLocks?.length ?? 0) <= (present.brokenLocks?.length ?? 0) && checkPlan(changed, plan).ok),
    withoutCents,
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
