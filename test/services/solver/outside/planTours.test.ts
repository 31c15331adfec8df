import { describe, expect, it } from "vitest";
import { generateOperation } from "../../../../services/scenario/generate/generateOperation.ts";
import { compileProblem } from "../../../../services/solver/compile.ts";
import { planTours, toursOf } from "../../../../services/solver/outside/planTours.ts";
import { resolveTours } from "../../../../services/solver/outside/resolveTours.ts";
import { runTours } from "../../../../services/solver/outside/runTours.ts";
import { planOperation } from "../../../../services/solver/planOperation.ts";
import { createRandom } from "../../../../services/solver/random.ts";
import { createAgronomy } from "../../../../shared/agronomy/agronomy.ts";
import { readTours, type Tour } from "../../../../shared/contracts/tours.ts";
import { createCalendar } from "../../../../shared/model/calendar.ts";
import { pathText } from "../../../../shared/model/faults.ts";
import type { Operation } from "../../../../shared/model/operation.ts";
import { checkPlan } from "../../../../shared/plan/check/checkPlan.ts";
import type { Plan } from "../../../../shared/plan/plan.ts";
import { crowdedOperation } from "../../../support/crowdedOperation.ts";
import { richOperation } from "../../../support/richOperation.ts";

const generated = generateOperation({ orders: 60, crews: 5, days: 7, seed: 4 });

function planned(operation: Operation, iterations = 100): Plan {
  return planOperation(operation, { seed: 1, random: createRandom(1), doneShare: (done) => done / iterations });
}

function brought(operation: Operation, tours: readonly Tour[]) {
  const outcome = planTours(operation, tours);
  if (!outcome.ok) throw new Error(outcome.faults.map(({ path }) => pathText(path)).join(", "));
  expect(checkPlan(operation, outcome.plan).breaches).toEqual([]);
  return outcome;
}

describe("tours of our own plans", () => {
  const operations: readonly (readonly [string, Operation])[] = [
    ["a generated week", generated],
    ["a day of one crew", generateOperation({ orders: 12, crews: 1, days: 1, seed: 2 })],
    ["ten crews", generateOperation({ orders: 90, crews: 10, days: 7, seed: 5 })],
    // A stop that has to lie a day after other work on its field runs only with the stops after it.
    ["stops that run together", generateOperation({ orders: 40, crews: 6, days: 5, seed: 101 })],
    ["crowded fields", crowdedOperation(1)],
    ["crowded fields again", crowdedOperation(2)],
    ["one of everything", richOperation()],
  ];
  for (const [name, operation] of operations) {
    it(`come to the same score: ${name}`, () => {
      const plan = planned(operation);
      const tours = readTours(JSON.parse(JSON.stringify({ formatVersion: 1, tours: toursOf(plan) })));
      if (!tours.ok) throw new Error("tours of our own are well formed");
      const { plan: back, runs } = brought(operation, tours.tours);
      expect(runs.filter(({ stopped }) => stopped !== undefined)).toEqual([]);
      expect(back.score).toEqual(plan.score);
    });
  }
});

describe("tours that do not run", () => {
  const plan = planned(generated);
  const tours = toursOf(plan);
  const longest = tours.toSorted((a, b) => b.blockIds.length - a.blockIds.length)[0]!;
  const only = (change: Partial<Tour>): Tour => ({ ...longest, ...change });
  const runOf = (tour: Tour, ...others: Tour[]) => brought(generated, [tour, ...others]).runs[0]!;

  it("are named by their first stop, with the hours it would need", () => {
    // Every block of the plan in one day is more than a day holds.
    const all = tours.flatMap(({ blockIds }) => blockIds).filter((id) => !longest.blockIds.includes(id));
    const { ran, stops, stopped } = runOf(only({ blockIds: [...longest.blockIds, ...all] }));
    expect(stops).toBe(longest.blockIds.length + all.length);
    expect(ran).toBeGreaterThanOrEqual(longest.blockIds.length);
    expect(stopped).toMatchObject({ stop: ran + 1, blockId: [...longest.blockIds, ...all][ran] });
    expect(stopped!.reason).not.toBe("");
  });

  it("say which of the crew's things are with another crew that day", () => {
    const baseOf = (crewId: string) => generated.fleet.crews.find(({ id }) => id === crewId)!.baseId;
    const neighbourOf = ({ crewId, date }: Tour) =>
      generated.fleet.crews.find(
        ({ id, baseId, shifts }) =>
          id !== crewId && baseId === baseOf(crewId) && shifts.some((shift) => shift.date === date),
      );
    const tour = tours.find((one) => one.blockIds.length > 1 && neighbourOf(one) !== undefined)!;
    const neighbour = neighbourOf(tour)!;
    const taken: Tour = { ...tour, crewId: neighbour.id, blockIds: tour.blockIds.slice(-1) };
    const { runs } = brought(generated, [{ ...tour, blockIds: tour.blockIds.slice(0, -1) }, taken]);
    expect(runs[0]!.stopped).toBeUndefined();
    expect(runs[1]).toMatchObject({ ran: 0, stopped: { stop: 1, blockId: taken.blockIds[0] } });
    expect(runs[1]!.stopped!.reason).toMatch(/ is with | cannot fly /);
  });

  it("say what is not at the crew's base, and that sets are too few", () => {
    const { fleet } = generated;
    const { baseId } = fleet.crews.find(({ id }) => id === longest.crewId)!;
    const away = fleet.tenders.find((tender) => tender.baseId !== baseId)!;
    const outfitReason = (change: Partial<Tour["outfit"]>) =>
      runOf(only({ outfit: { ...longest.outfit, ...change } })).stopped!.reason;
    expect(outfitReason({ tenderId: away.id })).toBe(`${away.id} is not at the crew's base ${baseId}`);
    const { typeId } = fleet.aircraft.find(({ id }) => id === longest.outfit.aircraftIds[0])!;
    expect(outfitReason({ batterySets: [{ aircraftTypeId: typeId, sets: 500 }] })).toMatch(
      /battery sets would be out|flies on fuel/,
    );
  });

  it("say that no window lies in the shift", () => {
    const noAir: Operation = { ...generated, weather: [] };
    const whole = longest.blockIds.filter((id) => id.endsWith("#1")).slice(0, 1);
    const { runs } = brought(noAir, [only({ blockIds: whole })]);
    expect(runs[0]!.stopped).toMatchObject({ stop: 1, reason: "no window lies in the crew's shift on that date" });
  });

  for (const [name, operation] of [
    ["crowded fields", crowdedOperation(1)],
    ["a generated week", generated],
  ] as const) {
    it(`give the reason that trying tells, in the wrong order of the day: ${name}`, () => {
      const calendar = createCalendar(operation.settings);
      const problem = compileProblem(operation, calendar, createAgronomy(operation, calendar));
      const wrong = toursOf(planned(operation)).map((tour) => ({ ...tour, blockIds: tour.blockIds.toReversed() }));
      const runsOf = (some: readonly Tour[]) => runTours(problem, resolveTours(problem, some).resolved).runs;
      let stops = 0;
      for (const { crewId, date, ran, stopped } of runsOf(wrong)) {
        if (stopped === undefined) continue;
        stops++;
        const tour = wrong.find((one) => one.crewId === crewId && one.date === date)!;
        const runsAlone = (from: number) =>
          runsOf([{ ...tour, blockIds: tour.blockIds.slice(from, ran + 1) }])[0]!.stopped === undefined;
        const told = `${crewId} ${date} ${stopped.blockId}: ${stopped.reason}`;
        expect(runsAlone(ran), told).toBe(!/no window|only stop|at most$/.test(stopped.reason));
        if (runsAlone(ran)) expect(runsAlone(0), told).toBe(!/after the stops before it/.test(stopped.reason));
      }
      expect(stops).toBeGreaterThan(0);
    });
  }
});

describe("tours that are bad input", () => {
  const [tour] = toursOf(planned(generated, 20));
  const calendar = createCalendar(generated.settings);
  const problem = compileProblem(generated, calendar, createAgronomy(generated, calendar));
  const placesOf = (raw: unknown) => {
    const read = readTours(raw);
    if (!read.ok) return read.faults.map(({ path, value }) => [pathText(path), value]);
    return resolveTours(problem, read.tours).faults.map(({ path, value }) => [pathText(path), value]);
  };
  const wrong = (change: object) => placesOf({ formatVersion: 1, tours: [{ ...tour, ...change }] });

  it("are named by place and value, and say what was expected", () => {
    expect(wrong({})).toEqual([]);
    expect(placesOf([])).toEqual([["", []]]);
    expect(placesOf({ formatVersion: 2, tours: [] })).toEqual([["formatVersion", 2]]);
    expect(wrong({ crewId: "nobody" })).toEqual([["tours[0].crewId", "nobody"]]);
    expect(wrong({ date: "2030-01-01" })).toEqual([["tours[0].date", "2030-01-01"]]);
    expect(wrong({ blockIds: ["O-001"] })).toEqual([["tours[0].blockIds[0]", "O-001"]]);
    expect(wrong({ blockIds: ["X-1#1"] })).toEqual([["tours[0].blockIds[0]", "X-1#1"]]);
    expect(wrong({ blockIds: [] })).toEqual([["tours[0].blockIds", []]]);
    const twice = tour!.blockIds[0]!;
    expect(wrong({ blockIds: [twice, twice] })).toEqual([["tours[0].blockIds[1]", twice]]);
    expect(placesOf({ formatVersion: 1, tours: [tour, { ...tour, blockIds: ["X-1#1"] }] })).toEqual([
      ["tours[1]", `${tour!.crewId} ${tour!.date}`],
    ]);
    expect(wrong({ extra: 1 })).toEqual([["tours[0].extra", 1]]);
  });

  it("are named within the outfit", () => {
    const outfit = (change: object) => wrong({ outfit: { ...tour!.outfit, ...change } });
    const first = tour!.outfit.aircraftIds[0]!;
    const { typeId } = generated.fleet.aircraft.find(({ id }) => id === first)!;
    const other = generated.fleet.aircraft.find((one) => one.typeId !== typeId)!;
    expect(outfit({ tenderId: "T-none" })).toEqual([["tours[0].outfit.tenderId", "T-none"]]);
    expect(outfit({ aircraftIds: [first, "A-none"] })).toEqual([["tours[0].outfit.aircraftIds[1]", "A-none"]]);
    expect(outfit({ aircraftIds: [first, first] })).toEqual([["tours[0].outfit.aircraftIds[1]", first]]);
    // Whether the crew may take several types is told of the run (mixedOutfit.test.ts).
    expect(outfit({ aircraftIds: [first, other.id] })).toEqual([]);
    expect(outfit({ chargerIds: ["C-none"] })).toEqual([["tours[0].outfit.chargerIds[0]", "C-none"]]);
    expect(outfit({ batterySets: [{ aircraftTypeId: other.typeId, sets: 2 }] })).toEqual([
      ["tours[0].outfit.batterySets[0].aircraftTypeId", other.typeId],
    ]);
  });
});
