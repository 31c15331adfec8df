import { beforeAll, describe, expect, it } from "vitest";
import { loadHighs } from "../../../../services/linear/highs.ts";
import { atMostCents, bestUnits, type Proven, programCents } from "../../../../services/solver/bottlenecks/predict.ts";
import { withUnits } from "../../../../services/solver/bottlenecks/withUnits.ts";
import { fluidBound } from "../../../../services/solver/bound/fluid/fluidBound.ts";
import { routeBound } from "../../../../services/solver/bound/routeBound.ts";
import type { LinearSolver } from "../../../../services/solver/linear/solver.ts";
import type { Problem } from "../../../../services/solver/problem.ts";
import { createAgronomy } from "../../../../shared/agronomy/agronomy.ts";
import { applyChanges } from "../../../../shared/cases/applyChanges.ts";
import { calmHours } from "../../../../shared/cases/calmHours.ts";
import { everyUnit, type Unit } from "../../../../shared/cases/units.ts";
import type { Operation } from "../../../../shared/model/operation.ts";
import { contestedOperation } from "../../../support/exact/contestedOperation.ts";
import { optimumOf, roundingCents } from "../../../support/exact/judge.ts";

let linear: LinearSolver;
beforeAll(async () => {
  linear = await loadHighs();
});

/** Nothing here may change how orders are cut into blocks, which would make another problem of it. */
function uncut(seed: number): Operation {
  const { operation } = contestedOperation(seed);
  return { ...operation, orders: operation.orders.map((order) => ({ ...order, maySplit: false })) };
}

function provenOf(problem: Problem): Proven {
  const fluid = fluidBound(
    problem,
    () => false,
    () => undefined,
  );
  const { proof, ...bound } = routeBound(problem, fluid, {
    solver: linear,
    known: () => [],
    shouldStop: () => false,
    onBetter: () => undefined,
  });
  return { ...bound, proof: proof! };
}

function changedBy(operation: Operation, { changes }: Unit): Operation {
  const outcome = applyChanges(operation, changes);
  if (!outcome.ok) throw new Error("the unit cannot be had");
  return outcome.operation;
}

/** A roster each, of those whose best plans are found in a moment. */
const seeds = [10, 66, 78];

describe("what one more unit would bring", () => {
  it.each(seeds)(
    "is never less than what it brings to the best plan, beyond what the bound leaves open: seed %i",
    (seed) => {
      const operation = uncut(seed);
      const { problem, choice } = optimumOf(operation, linear, "any");
      const base = provenOf(problem);
      const units = [...everyUnit(operation), ...calmHours(operation, createAgronomy(operation, problem.calendar))];
      const told = bestUnits(base, [...withUnits(base, units)], Number.POSITIVE_INFINITY, linear);
      let [mostCents, known] = [0, 0];
      for (const { unit, atMostCents: most, cents } of told) {
        const gainCents = choice.totalCents - optimumOf(changedBy(operation, unit), linear, "any").choice.totalCents;
        // The bound of the operation with the unit is true: its best plan costs no less.
        expect(base.boundCents - most, unit.kind).toBeLessThanOrEqual(choice.totalCents - gainCents + roundingCents);
        expect(gainCents).toBeGreaterThan(-roundingCents);
        if (cents !== null) {
          known++;
          expect(cents).toBeGreaterThanOrEqual(0);
          expect(cents).toBeLessThanOrEqual(most);
        }
        mostCents = Math.max(mostCents, gainCents);
      }
      // Not idle: something was short, and estimated.
      expect(mostCents).toBeGreaterThan(100);
      expect(known).toBeGreaterThan(0);
    },
    60_000,
  );

  it("is nothing without a change, and what the linear program says of its own prices", () => {
    const operation = uncut(66);
    const base = provenOf(optimumOf(operation, linear, "any").problem);
    const [same] = [...withUnits(base, [{ kind: "calmHour", changes: [] }])];
    expect(same!.slots).toEqual([]);
    expect(atMostCents(base, same!)).toBeCloseTo(0, 6);
    expect(programCents(base, linear)).toBeGreaterThanOrEqual(base.boundCents - roundingCents);
  });

  it("is exactly nothing for an aircraft that nobody may fly, and for a tender where one stands idle", () => {
    const whole = uncut(66);
    const { crews, tenders } = whole.fleet;
    const [tender] = tenders;
    const operation: Operation = {
      ...whole,
      fleet: {
        ...whole.fleet,
        crews: crews.map((crew) => ({
          ...crew,
          people: crew.people.map((person) => ({ ...person, ratings: person.ratings.filter((id) => id !== "HELI") })),
        })),
        // One more than could ever be out.
        tenders: ["T1", "T2", "T3"]
          .slice(0, crews.length + 1)
          .map((id) => ({ ...tender!, id: id as Operation["fleet"]["tenders"][number]["id"] })),
      },
    };
    const base = provenOf(optimumOf(operation, linear, "any").problem);
    const [idle, spare] = [
      ...withUnits(
        base,
        everyUnit(operation).filter(
          ({ kind, changes: [change] }) =>
            kind === "tender" || (change!.kind === "addAircraft" && (change!.typeId as string) === "HELI"),
        ),
      ),
    ];
    expect([idle!.unit.kind, spare!.unit.kind]).toEqual(["aircraft", "tender"]);
    expect(idle!.slots).toEqual([]);
    expect(atMostCents(base, idle!)).toBeCloseTo(0, 6);
    expect(spare!.slots).toEqual([]);
    expect(atMostCents(base, spare!)).toBeCloseTo(0, 6);
  });
});
