import { bestUnits } from "../../../services/solver/bottlenecks/predict.ts";
import { withUnits } from "../../../services/solver/bottlenecks/withUnits.ts";
import { fluidBound } from "../../../services/solver/bound/fluid/fluidBound.ts";
import { routeBound } from "../../../services/solver/bound/routeBound.ts";
import type { LinearSolver } from "../../../services/solver/linear/solver.ts";
import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import { applyChanges } from "../../../shared/cases/applyChanges.ts";
import { calmHours } from "../../../shared/cases/calmHours.ts";
import { everyUnit, type UnitKind } from "../../../shared/cases/units.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { contestedOperation } from "../../support/exact/contestedOperation.ts";
import { optimumOf, roundingCents } from "../../support/exact/judge.ts";

/** What a unit would bring by the linear relaxation, and what it brought. */
export interface Pair {
  readonly kind: UnitKind;
  readonly mostCents: number;
  readonly aboutCents: number;
  readonly broughtCents: number;
}

export interface ExactPairs {
  readonly pairs: readonly Pair[];
  /** Units that brought more than is proven to be the most. */
  readonly untrue: number;
}

/** Units of a small operation: what each brings to the best plan, which is known exactly with and without it. */
export function exactPairs(seed: number, linear: LinearSolver): ExactPairs {
  const { operation: whole } = contestedOperation(seed);
  // Uncut, so that no unit changes the blocks.
  const operation: Operation = { ...whole, orders: whole.orders.map((order) => ({ ...order, maySplit: false })) };
  const { problem, choice } = optimumOf(operation, linear, "any");
  const never = () => false;
  const fluid = fluidBound(problem, never, () => undefined);
  const { proof, ...bound } = routeBound(problem, fluid, {
    solver: linear,
    known: () => [],
    shouldStop: never,
    onBetter: () => undefined,
  });
  const base = { ...bound, proof: proof! };
  const units = [...everyUnit(operation), ...calmHours(operation, createAgronomy(operation, problem.calendar))];
  let untrue = 0;
  const told = bestUnits(base, [...withUnits(base, units)], Number.POSITIVE_INFINITY, linear);
  const pairs = told.flatMap(({ unit, atMostCents, cents }): Pair[] => {
    const outcome = applyChanges(operation, unit.changes);
    if (!outcome.ok) return [];
    const withUnit = bestCents(outcome.operation, linear);
    if (withUnit === null) return [];
    const broughtCents = choice.totalCents - withUnit;
    if (broughtCents > choice.totalCents - base.boundCents + atMostCents + roundingCents) untrue++;
    return [{ kind: unit.kind, mostCents: atMostCents, aboutCents: cents ?? 0, broughtCents }];
  });
  return { pairs, untrue };
}

/** Null where two crews could be over one field: then routes cannot be walked one by one. */
function bestCents(operation: Operation, linear: LinearSolver): number | null {
  try {
    return optimumOf(operation, linear, "any").choice.totalCents;
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}
