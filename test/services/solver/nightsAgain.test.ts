import { describe, expect, it } from "vitest";
import { loadHighs } from "../../../services/linear/highs.ts";
import { generateOperation } from "../../../services/scenario/generate/generateOperation.ts";
import { createInsertions } from "../../../services/solver/insertion.ts";
import { moveNight } from "../../../services/solver/nightMoves.ts";
import { isAwayAfter, settleNights } from "../../../services/solver/nights.ts";
import { planTours, toursOf } from "../../../services/solver/outside/planTours.ts";
import { prepareOperation } from "../../../services/solver/planOperation.ts";
import { createRoutePool, polish, poolSlots } from "../../../services/solver/polish.ts";
import type { Problem } from "../../../services/solver/problem.ts";
import { createRandom } from "../../../services/solver/random.ts";
import type { Night, State } from "../../../services/solver/routes.ts";
import { clearShelf, createShelf } from "../../../services/solver/shelf.ts";
import { snapshotOf, stateFrom } from "../../../services/solver/snapshot.ts";
import { solve } from "../../../services/solver/solve.ts";
import { startFrom } from "../../../services/solver/startFrom.ts";
import { createDayRun, setOutfit, totalCents } from "../../../services/solver/state.ts";
import { toPlan } from "../../../services/solver/toPlan.ts";
import type { Tour } from "../../../shared/contracts/tours.ts";
import { pathText } from "../../../shared/model/faults.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import type { BaseId } from "../../../shared/model/quantities.ts";
import { checkPlan } from "../../../shared/plan/check/checkPlan.ts";
import { sleepsAt } from "../../../shared/plan/nights.ts";
import type { Plan } from "../../../shared/plan/plan.ts";
import { twoFarFields } from "../../support/farFields.ts";
import { sleepingAtInn } from "../../support/inn.ts";
import { planned } from "../../support/planned.ts";

const far = twoFarFields({ overnightBaseIds: ["B2"], nightAwayCents: 5000 });
const inn = sleepingAtInn(generateOperation({ orders: 30, crews: 4, days: 5, seed: 3 }), 8);

/** A week in which some crews sleep at the inn, whether or not that pays. */
function somewhereAtInn(): { problem: Problem; state: State } {
  const { problem } = prepareOperation(inn);
  const random = createRandom(1);
  const { state } = solve(problem.routes, { random, doneShare: (done) => done / 200 });
  const shelf = createShelf(state);
  clearShelf(state, shelf);
  const insertions = createInsertions(problem.routes);
  for (let moves = 0; moves < 500 && awayIn(state).length < 3; moves++) {
    moveNight(state, moves % problem.blocks.length, random, shelf, insertions, []);
    settleNights(state, shelf, insertions.run);
  }
  for (const slot of shelf.slots) if (state.count[slot] === 0) setOutfit(state, slot, null);
  expect(awayIn(state).length).toBe(3);
  return { problem, state };
}

function awayIn(state: State): Night[] {
  return state.routes.nights.filter(({ evening }) => isAwayAfter(state, evening));
}

function planOf({ problem, state }: { readonly problem: Problem; readonly state: State }): Plan {
  const plan = toPlan(problem, state, [], { seed: 1, iterations: 0 });
  expect(checkPlan(inn, plan).breaches.filter(({ rule }) => rule !== "conflictNamed")).toEqual([]);
  return plan;
}

function nightsAway({ crewDays }: Plan): number {
  return crewDays.filter((crewDay) => ["B2", "inn"].includes(sleepsAt(crewDay)!)).length;
}

function faultsOf(operation: Operation, tours: readonly Tour[]): string[] {
  const outcome = planTours(operation, tours);
  return outcome.ok ? [] : outcome.faults.map(({ path, expected }) => `${pathText(path)}: ${expected}`);
}

describe("a plan with nights away", () => {
  it.each([
    { what: "two far fields", operation: far, plan: () => planned(far, 300) },
    { what: "a week by an inn", operation: inn, plan: () => planOf(somewhereAtInn()) },
  ])("comes back as tours, and is what a search from it begins with: $what", ({ operation, plan: make }) => {
    const plan = make();
    expect(nightsAway(plan)).toBeGreaterThan(0);
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
    const { problem, state } = somewhereAtInn();
    const here = stateFrom(prepareOperation(inn).problem, structuredClone(snapshotOf(problem, state)));
    expect([...here.endPlace]).toEqual([...state.endPlace]);
    expect([...here.startPlace]).toEqual([...state.startPlace]);
    expect(totalCents(here)).toBe(totalCents(state));
    const run = createDayRun(here.routes.stride);
    for (const { evening, morning } of awayIn(here)) {
      for (const slot of [evening, morning]) {
        expect(here.rules!.run(slot, -1, 0, run)).toBe(true);
        expect(run.cents).toBeCloseTo(here.slotCents[slot]!, 6);
      }
    }
  });

  it("is put together from pooled routes, its two days together or neither", async () => {
    const polished = { linear: await loadHighs(), limits: {} };
    const { problem } = prepareOperation(far);
    const { state: away } = startFrom(problem, planned(far, 300));
    const homePlan = planned(twoFarFields({}), 300);
    const everySlot = problem.slots.map((_, slot) => slot);
    const run = createDayRun(problem.routes.stride);
    for (const pooledSlots of [everySlot, [0], [1]]) {
      const { state: home } = startFrom(problem, homePlan);
      const homeCents = totalCents(home);
      const pool = createRoutePool(home);
      poolSlots(home, pool, everySlot);
      poolSlots(away, pool, pooledSlots);
      expect(polish(home, pool, home, polished, run)).toBe(true);
      expect(awayIn(home).length).toBe(pooledSlots === everySlot ? 1 : 0);
      expect(totalCents(home)).toBeCloseTo(pooledSlots === everySlot ? totalCents(away) : homeCents, 6);
    }
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
