import { describe, expect, it } from "vitest";
import { loadHighs } from "../../../services/linear/highs.ts";
import { generateOperation } from "../../../services/scenario/generate/generateOperation.ts";
import { type AgainAsk, planAgain } from "../../../services/whatif/planAgain.ts";
import { runAgain } from "../../../services/whatif/runAgain.ts";
import type { Change } from "../../../shared/cases/change.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { planned } from "../../support/planned.ts";

function askOf(operation: Operation): AgainAsk {
  return { operation, plan: planned(operation, 100), seeds: [1, 2], iterations: 100 };
}

const small = generateOperation({ orders: 10, crews: 2, days: 2, seed: 5 });

/** One more of a type that nobody is rated for. */
function idleAircraft({ fleet }: Operation): Change {
  const [type] = fleet.aircraftTypes;
  return { kind: "addAircraft", typeId: type!.id, baseId: fleet.crews[0]!.baseId, count: 1, batterySets: 0 };
}

function withoutRatings(operation: Operation): Operation {
  const [type] = operation.fleet.aircraftTypes;
  const crews = operation.fleet.crews.map((crew) => ({
    ...crew,
    people: crew.people.map((person) => ({ ...person, ratings: person.ratings.filter((id) => id !== type!.id) })),
  }));
  return { ...operation, fleet: { ...operation.fleet, crews } };
}

describe("planning again", () => {
  it("never ends dearer than the plan that it begins with, and an aircraft without a pilot brings exactly nothing", async () => {
    const linear = await loadHighs();
    const operation = withoutRatings(small);
    const ask = askOf(operation);
    const before = planAgain(ask, [], linear);
    if (!before.ok) throw new Error(before.message);
    expect(before.runs.map(({ seed }) => seed)).toEqual([1, 2]);
    for (const { totalCents } of before.runs) expect(totalCents).toBeLessThanOrEqual(ask.plan.score.totalCents);
    expect(planAgain(ask, [idleAircraft(operation)], linear)).toEqual(before);
  }, 120_000);

  it("comes to the same in threads, in the order of the lists, and tells of what cannot be had", async () => {
    const linear = await loadHighs();
    const ask = askOf(small);
    const crewId = small.fleet.crews[0]!.id;
    const lists: Change[][] = [
      [],
      [{ kind: "longerShift", crewId, earlierMin: 0, laterMin: 60 }],
      [{ kind: "takeCrew", crewId: "nobody" as typeof crewId }],
      [{ kind: "longerShift", crewId, earlierMin: 60, laterMin: 0 }],
    ];
    let told = 0;
    const outcomes = await runAgain(ask, lists, 2, () => told++);
    expect(told).toBe(lists.length);
    expect(outcomes).toEqual(lists.map((changes) => planAgain(ask, changes, linear)));
    expect(outcomes.map(({ ok }) => ok)).toEqual([true, true, false, true]);
  }, 120_000);
});
