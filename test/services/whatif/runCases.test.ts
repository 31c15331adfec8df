import { beforeAll, describe, expect, it } from "vitest";
import { loadHighs } from "../../../services/linear/highs.ts";
import { generateOperation } from "../../../services/scenario/generate/generateOperation.ts";
import type { LinearSolver } from "../../../services/solver/linear/solver.ts";
import { planOperation } from "../../../services/solver/planOperation.ts";
import { polishWith } from "../../../services/solver/polish.ts";
import { createRandom } from "../../../services/solver/random.ts";
import { countRuns, runCases } from "../../../services/whatif/runCases.ts";
import { applyChanges } from "../../../shared/cases/applyChanges.ts";
import { type CasesFile, casesFileSchema } from "../../../shared/cases/cases.ts";
import type { Change } from "../../../shared/cases/change.ts";
import { compareRuns } from "../../../shared/cases/compareRuns.ts";
import { readCases } from "../../../shared/cases/readCases.ts";
import type { RunKey, RunOutcome } from "../../../shared/cases/runResult.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { contestedOperation } from "../../support/exact/contestedOperation.ts";
import { optimumOf } from "../../support/exact/judge.ts";

const operation = generateOperation({ orders: 12, crews: 2, days: 3, seed: 4 });
const { crews, aircraft, aircraftTypes } = operation.fleet;
const budget = { iterations: 40 };

/** A type that nobody at the base of some aircraft may fly. */
const idle = operation.settings.bases
  .flatMap(({ id: baseId }) => aircraftTypes.map(({ id: typeId }) => ({ typeId, baseId })))
  .find(({ typeId, baseId }) =>
    crews.every((crew) => crew.baseId !== baseId || crew.people.every(({ ratings }) => !ratings.includes(typeId))),
  )!;

const raw = {
  formatVersion: 1,
  cases: [
    { id: "idle", name: "An idle aircraft", changes: [{ kind: "addAircraft", ...idle }] },
    { id: "fewer", name: "A crew fewer", changes: [{ kind: "takeCrew", crewId: crews[0]!.id }] },
  ],
  curve: { typeId: aircraft[0]!.typeId, baseId: aircraft[0]!.baseId, upTo: 1 },
  budget,
  seeds: 2,
  weeksPerYear: 20,
  interestPct: 5,
};

function fileOf(document: unknown): CasesFile {
  const outcome = readCases(document, operation);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.faults));
  return outcome.file;
}

const file = fileOf(raw);
const run = (ask: { file: CasesFile; threads: number; except?: readonly RunKey[] }): Promise<readonly RunOutcome[]> =>
  runCases({ operation, sampled: null, ...ask }, () => {}).outcomes;
const byKey = (outcomes: readonly RunOutcome[]) =>
  [...outcomes].sort((a, b) => (JSON.stringify(a.key) < JSON.stringify(b.key) ? -1 : 1));

describe("cases in threads", { timeout: 120_000 }, () => {
  let linear: LinearSolver;
  let alone: readonly RunOutcome[];
  beforeAll(async () => {
    linear = await loadHighs();
    alone = await run({ file, threads: 1 });
  }, 120_000);

  it("come to the same with one thread and two, and to the same table", async () => {
    const together = await run({ file, threads: 2 });
    expect(alone).toHaveLength(countRuns({ operation, file, sampled: null, threads: 1 }));
    expect(alone.map(({ status }) => status)).toEqual(Array(8).fill("planned"));
    expect(byKey(together)).toEqual(byKey(alone));
    expect(compareRuns(operation, file, together)).toEqual(compareRuns(operation, file, alone));
  });

  it("come to what planning the changed operation on from the plan of now comes to", () => {
    const changed = applyChanges(operation, file.cases[1]!.changes);
    if (!changed.ok) throw new Error("the case does not hold");
    for (const seed of [1, 2]) {
      const controls = (more: object) => ({
        seed,
        random: createRandom(seed),
        doneShare: (iterations: number) => iterations / budget.iterations,
        polish: polishWith(linear, undefined),
        ...more,
      });
      const from = planOperation(operation, controls({}));
      const plan = planOperation(changed.operation, controls({ from }));
      const own = alone.find(({ key }) => key.caseId === "fewer" && key.seed === seed)!;
      expect(own).toMatchObject({ result: { servedHa: plan.score.servedHa, roadKm: plan.score.roadKm } });
    }
  });

  it("an aircraft that nobody flies changes nothing at all", () => {
    const { cases } = compareRuns(operation, file, alone);
    expect(cases[0]!.changesNothing).toBe(true);
    expect(cases[0]!.sentence).toMatch(
      /^An idle aircraft: brings nothing, every plan is the same, and costs \d+ EUR a year to own\.$/,
    );
    expect(cases[1]!.changesNothing).toBe(false);
  });

  it("go on where runs are done already", async () => {
    const done = alone.slice(0, 3).map(({ key }) => key);
    const rest = await run({ file, threads: 2, except: done });
    expect(byKey([...alone.slice(0, 3), ...rest])).toEqual(byKey(alone));
  });

  it("that do not hold are told for every seed, and cost no other", async () => {
    const broken = { id: "broken", name: "Broken", changes: [{ kind: "takeCrew", crewId: "nobody" }] };
    // Past the reader, which would refuse it.
    const outcomes = await run({
      file: casesFileSchema.parse({ ...raw, cases: [broken], curve: undefined }),
      threads: 1,
    });
    expect(outcomes.map(({ key, status }) => [key.caseId, key.seed, status])).toEqual([
      ["base", 1, "planned"],
      ["base", 2, "planned"],
      ["broken", 1, "failed"],
      ["broken", 2, "failed"],
    ]);
    expect(outcomes[2]).toMatchObject({
      message: expect.stringMatching(/^the case does not hold: changes\[0\]\.crewId: "nobody"; expected one of /),
    });
  });

  it("end when they are stopped, with what there is so far", async () => {
    const told: RunOutcome[] = [];
    const running = runCases({ operation, file: { ...file, seeds: 50 }, sampled: null, threads: 2 }, (outcome) => {
      told.push(outcome);
      if (told.length === 2) running.stop();
    });
    expect(await running.outcomes).toEqual(told);
    expect(told.length).toBeLessThan(100);
  });

  it("of the operation itself with other seeds are no clear difference", async () => {
    const plain = fileOf({ ...raw, curve: undefined, seeds: 6, budget: { iterations: 10 } });
    const outcomes = await run({ file: { ...plain, cases: [] }, threads: 2 });
    const halves = outcomes.map(
      (one): RunOutcome => (one.key.seed <= 3 ? one : { ...one, key: { caseId: "fewer", seed: one.key.seed - 3 } }),
    );
    const { differences, changesNothing } = compareRuns(operation, { ...plain, seeds: 3 }, halves).cases[1]!;
    expect(changesNothing).toBe(false);
    expect(Object.values(differences!).map(({ isClear }) => isClear)).toEqual(Array(8).fill(false));
  });
});

describe("the best plan of a small operation", () => {
  /** Nothing may change how orders are cut into blocks, which would make another problem of it. */
  const uncut = (seed: number): Operation => {
    const { operation: contested } = contestedOperation(seed);
    return { ...contested, orders: contested.orders.map((order) => ({ ...order, maySplit: false })) };
  };

  it.each([10, 18, 59])("never costs less for a crew taken away: seed %i", async (seed) => {
    const linear = await loadHighs();
    const whole = uncut(seed);
    const best = optimumOf(whole, linear).choice.totalCents;
    for (const { id } of whole.fleet.crews) {
      const changes: Change[] = [{ kind: "takeCrew", crewId: id }];
      const changed = applyChanges(whole, changes);
      if (!changed.ok) throw new Error(JSON.stringify(changed.faults));
      expect(optimumOf(changed.operation, linear).choice.totalCents).toBeGreaterThanOrEqual(best - 0.01);
    }
  });
});
