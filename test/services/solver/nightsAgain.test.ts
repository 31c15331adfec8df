import { describe, expect, it } from "vitest";
import { loadHighs } from "../../../services/linear/highs.ts";
import { generateOperation } from "../../../services/scenario/generate/generateOperation.ts";
import { isAwayAfter } from "../../../services/solver/nights.ts";
import { planTours, toursOf } from "../../../services/solver/outside/planTours.ts";
import { type PlanControls, planOperation, prepareOperation } from "../../../services/solver/planOperation.ts";
import { polishWith } from "../../../services/solver/polish.ts";
import { createRandom } from "../../../services/solver/random.ts";
import { snapshotOf, stateFrom } from "../../../services/solver/snapshot.ts";
import { solve } from "../../../services/solver/solve.ts";
import type { Tour } from "../../../shared/contracts/tours.ts";
import { pathText } from "../../../shared/model/faults.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import type { BaseId } from "../../../shared/model/quantities.ts";
import { checkPlan } from "../../../shared/plan/check/checkPlan.ts";
import { sleepsAt } from "../../../shared/plan/nights.ts";
import type { Plan } from "../../../shared/plan/plan.ts";
import { twoFarFields } from "../../support/farFields.ts";
import { sleepingAtInn } from "../../support/inn.ts";

const far = twoFarFields({ overnightBaseIds: ["B2"], nightAwayCents: 5000 });
const inn = sleepingAtInn(generateOperation({ orders: 30, crews: 4, days: 5, seed: 3 }), 8);

function planned(operation: Operation, iterations: number, controls: Partial<PlanControls> = {}): Plan {
  const plan = planOperation(operation, {
    seed: 1,
    random: createRandom(1),
    doneShare: (done) => (iterations === 0 ? 1 : done / iterations),
    ...controls,
  });
  expect(checkPlan(operation, plan).breaches).toEqual([]);
  return plan;
}

function nightsAt({ crewDays }: Plan, baseId: string): number {
  return crewDays.filter((crewDay) => sleepsAt(crewDay) === baseId).length;
}

function faultsOf(operation: Operation, tours: readonly Tour[]): string[] {
  const outcome = planTours(operation, tours);
  return outcome.ok ? [] : outcome.faults.map(({ path, expected }) => `${pathText(path)}: ${expected}`);
}

describe("a plan with nights away", () => {
  it.each([
    { what: "two far fields", operation: far, iterations: 300 },
    { what: "a week by an inn", operation: inn, iterations: 1000 },
  ])("comes back as tours, and is what a search from it begins with: $what", ({ operation, iterations }) => {
    const plan = planned(operation, iterations);
    expect(plan.crewDays.some((crewDay) => ["B2", "inn"].includes(sleepsAt(crewDay)!))).toBe(true);
    const back = planTours(operation, toursOf(plan));
    // Which of two crews goes first on a field is not in tours, so hours may differ by a little.
    const { unservedCents, lodgingCents, driveCents, totalCents } = plan.score;
    expect(back.ok && back.plan.score).toMatchObject({ unservedCents, lodgingCents, driveCents });
    expect(back.ok && back.plan.score.totalCents / totalCents).toBeCloseTo(1, 2);
    expect(planned(operation, 0, { from: plan }).score.totalCents / totalCents).toBeLessThan(1.01);
  });

  it("is started from as far as it holds when the crew may no longer sleep there", () => {
    const plan = planned(far, 300);
    const from = planned(twoFarFields({}), 0, { from: plan });
    expect(from.score).toMatchObject({ lodgingCents: 0, roadKm: 240, unservedCents: 0 });
    const withoutTuesday = twoFarFields({
      overnightBaseIds: ["B2"],
      shifts: [{ date: "2027-06-07", from: "04:30", to: "18:00" }],
    });
    expect(planned(withoutTuesday, 0, { from: plan }).score).toMatchObject({ lodgingCents: 0, roadKm: 120 });
  });

  it("is handed to another search as it stands", () => {
    const there = prepareOperation(inn);
    const { state } = solve(there.problem.routes, { random: createRandom(1), doneShare: (done) => done / 1000 });
    const here = stateFrom(prepareOperation(inn).problem, structuredClone(snapshotOf(there.problem, state)));
    expect([...here.endPlace]).toEqual([...state.endPlace]);
    expect([...here.startPlace]).toEqual([...state.startPlace]);
    expect(here.routes.nights.some(({ evening }) => isAwayAfter(here, evening))).toBe(true);
    expect(here.routes.nights.map(({ evening }) => here.backMin[evening])).toEqual(
      state.routes.nights.map(({ evening }) => (state.count[evening] === 0 ? 0 : state.backMin[evening])),
    );
  });

  it("is put together from pooled routes, too", async () => {
    const polish = polishWith(await loadHighs(), undefined);
    expect(nightsAt(planned(far, 300, { polish }), "B2")).toBe(1);
    expect(nightsAt(planned(inn, 1000, { polish }), "inn")).toBeGreaterThan(0);
  });
});

describe("tours that say where a crew sleeps", () => {
  const [monday, tuesday] = toursOf(planned(far, 300)) as [Tour, Tour];

  it("name a base where it may, before a tour with the same outfit", () => {
    expect(monday.sleepsAt).toBe("B2");
    expect(faultsOf(far, [monday, tuesday])).toEqual([]);
    expect(faultsOf(far, [{ ...monday, sleepsAt: "B9" as BaseId }, tuesday])).toEqual([
      "tours[0].sleepsAt: one of B2, or nothing",
    ]);
    expect(faultsOf(far, [monday])).toEqual([
      "tours[0].sleepsAt: nothing, or a tour of K1 on the next date after a shift that ends by midnight",
    ]);
    const other = { ...tuesday, outfit: { ...tuesday.outfit, chargerIds: far.fleet.chargers.map(({ id }) => id) } };
    expect(faultsOf(far, [monday, other])).toEqual([
      "tours[0].sleepsAt: nothing, or the same outfit on 2027-06-08, when the crew goes on from there",
    ]);
  });

  it("come home when the next day comes to nothing", () => {
    const wrong = { ...tuesday, blockIds: monday.blockIds };
    const outcome = planTours(far, [{ ...monday, blockIds: tuesday.blockIds }, wrong]);
    expect(outcome.ok && outcome.runs.map(({ ran }) => ran)).toEqual([0, 0]);
    const half = planTours(far, [monday, wrong]);
    expect(half.ok && half.runs.map(({ ran }) => ran)).toEqual([1, 0]);
    expect(half.ok && half.plan.score).toMatchObject({ lodgingCents: 0, roadKm: 120 });
    expect(half.ok && checkPlan(far, half.plan).breaches).toEqual([]);
  });
});
