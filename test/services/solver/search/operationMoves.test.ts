import { isDeepStrictEqual } from "node:util";
import { describe, expect, it } from "vitest";
import { generateOperation } from "../../../../services/scenario/generate/generateOperation.ts";
import { compileProblem } from "../../../../services/solver/compile.ts";
import { createInsertions, insertAt, insertionCents } from "../../../../services/solver/insertion.ts";
import { kitOf } from "../../../../services/solver/kits.ts";
import { moveNight } from "../../../../services/solver/nightMoves.ts";
import { isAwayAfter, settleNights } from "../../../../services/solver/nights.ts";
import { planOperation } from "../../../../services/solver/planOperation.ts";
import type { Problem } from "../../../../services/solver/problem.ts";
import { pickIndex } from "../../../../services/solver/random.ts";
import { clearStops, cut } from "../../../../services/solver/removal.ts";
import type { State } from "../../../../services/solver/routes.ts";
import { clearShelf, createShelf, keepSlot, putBack } from "../../../../services/solver/shelf.ts";
import { createDayRun, createState, setOutfit, totalCents } from "../../../../services/solver/state.ts";
import { toPlan } from "../../../../services/solver/toPlan.ts";
import { createAgronomy } from "../../../../shared/agronomy/agronomy.ts";
import { createCalendar } from "../../../../shared/model/calendar.ts";
import type { Operation } from "../../../../shared/model/operation.ts";
import { checkPlan } from "../../../../shared/plan/check/checkPlan.ts";
import { publishedStops } from "../../../../shared/plan/published.ts";
import { scorePartNames } from "../../../../shared/plan/scoreParts.ts";
import { crowdedOperation } from "../../../support/crowdedOperation.ts";
import { sleepingAtInn } from "../../../support/inn.ts";
import { richOperation } from "../../../support/richOperation.ts";
import { seededRandom } from "../../../support/seededRandom.ts";
import { stopsOf } from "./evaluateSlot.ts";
import { snapshot } from "./snapshot.ts";

const runs = 7;
const movesPerRun = 150;
const movesPerJudgement = 20;
const roundingCents = 1e-6;
/** Half a cent for each part of the score. */
const scoreRoundingCents = scorePartNames.length / 2;

/** Where crews crowd, another crew may have left a field since a stop got its time there, and a run from the morning on finds an earlier one: then the checker alone judges. */
const operations: readonly {
  readonly name: string;
  readonly crowds: boolean;
  readonly make: () => Operation;
  /** A plan of so many iterations was published before. */
  readonly published?: number;
  readonly sleepsAway?: boolean;
}[] = [
  { name: "the rich operation", crowds: false, make: richOperation },
  {
    name: "a generated one",
    crowds: false,
    make: () => generateOperation({ orders: 40, crews: 4, days: 4, seed: 5 }),
  },
  { name: "one whose crews crowd on two fields", crowds: true, make: () => crowdedOperation(1) },
  {
    name: "one whose crews are short of hours",
    crowds: false,
    make: () =>
      withTerms(generateOperation({ orders: 25, crews: 3, days: 5, seed: 12 }), {
        dutyMaxHoursPerDay: 6,
        dutyMaxHoursPerWeek: 14,
      }),
  },
  {
    name: "one whose crews take two types",
    crowds: false,
    make: () => withTerms(generateOperation({ orders: 40, crews: 4, days: 4, seed: 5 }), { mixedOutfit: true }),
  },
  {
    name: "one whose crews take two types and may sleep at an inn",
    crowds: false,
    make: () =>
      withTerms(chargingLong(sleepingAtInn(generateOperation({ orders: 30, crews: 4, days: 5, seed: 9 }), 30), 200), {
        mixedOutfit: true,
      }),
    sleepsAway: true,
  },
  {
    name: "one with a published plan and a forecast that may miss",
    crowds: false,
    make: () =>
      withPlanning(generateOperation({ orders: 25, crews: 3, days: 5, seed: 12 }), {
        riskCentsPerHa: 700,
        changeStartToleranceMin: 15,
      }),
    published: 30,
  },
  {
    name: "one whose crews rest long",
    crowds: false,
    make: () => withTerms(generateOperation({ orders: 25, crews: 3, days: 5, seed: 12 }), { restMinHours: 16 }),
  },
  {
    name: "one whose crews may sleep at an inn",
    crowds: false,
    make: () => sleepingAtInn(generateOperation({ orders: 30, crews: 4, days: 5, seed: 9 }), 30),
    sleepsAway: true,
  },
  {
    name: "one whose sets take all of a night at the inn to charge",
    crowds: false,
    make: () => chargingLong(sleepingAtInn(generateOperation({ orders: 30, crews: 4, days: 5, seed: 9 }), 30), 200),
    sleepsAway: true,
  },
];

function withTerms(operation: Operation, terms: Partial<Operation["fleet"]["crews"][number]>): Operation {
  const { fleet } = operation;
  const crews = fleet.crews.map((crew) => ({ ...crew, ...terms }));
  return { ...operation, fleet: { ...fleet, crews } };
}

/** Sets of a crew take longer than its rest: up to four one after the other in each bay. */
function chargingLong(operation: Operation, chargeMin: number): Operation {
  const { fleet } = withTerms(operation, { restMinHours: 4 });
  const aircraftTypes = fleet.aircraftTypes.map((type) =>
    type.power.source === "battery" ? { ...type, power: { ...type.power, chargeMin } } : type,
  );
  return { ...operation, fleet: { ...fleet, aircraftTypes } };
}

function withPlanning(operation: Operation, weights: Partial<Operation["settings"]["planning"]>): Operation {
  const { settings } = operation;
  return { ...operation, settings: { ...settings, planning: { ...settings.planning, ...weights } } };
}

function compiled(operation: Operation, publishedIterations: number | undefined): Problem {
  const calendar = createCalendar(operation.settings);
  const published =
    publishedIterations === undefined
      ? null
      : publishedStops(
          planOperation(operation, {
            seed: 2,
            random: seededRandom(2),
            doneShare: (done) => done / publishedIterations,
          }),
          calendar,
        );
  return compileProblem(operation, calendar, createAgronomy(operation, calendar), published);
}

/** The state as a plan, judged by the checker, whose cost is that of the state; that nobody tells why blocks are left out is no matter here. */
function judge(
  operation: Operation,
  problem: Problem,
  state: State,
  charged: { risk: number; change: number },
): string[] {
  const plan = toPlan(problem, state, [], { seed: 1, iterations: 0 });
  const faults = checkPlan(operation, plan)
    .breaches.filter(({ rule }) => rule !== "conflictNamed")
    .map(({ sentence }) => sentence);
  charged.risk += plan.score.riskCents!;
  charged.change += plan.score.changeCents!;
  const cents = totalCents(state);
  if (Math.abs(plan.score.totalCents - cents) > scoreRoundingCents) {
    faults.push(`the plan costs ${plan.score.totalCents}, the state says ${cents}`);
  }
  return faults;
}

/** Whether a slot's stops, run through all rules from the morning on, cost what the slot says. */
function recompute(state: State, slot: number): string[] {
  if (state.count[slot] === 0) return state.slotCents[slot] === 0 ? [] : ["an empty slot costs something"];
  const run = createDayRun(state.routes.stride);
  if (!state.rules!.run(slot, -1, 0, run)) return [`${stopsOf(state, slot)} no longer run`];
  const told = state.slotCents[slot]!;
  return Math.abs(run.cents - told) > roundingCents ? [`the slot says it costs ${told}, it costs ${run.cents}`] : [];
}

describe.each(operations)("moves at random in $name, with all its rules", ({ crowds, make, published, sleepsAway }) => {
  it("cost what they promise, run where they promise, make a plan that the checker passes, and are put back exactly", () => {
    const operation = make();
    const problem = compiled(operation, published);
    const { routes } = problem;
    const faults: string[] = [];
    const charged = { risk: 0, change: 0 };
    let nightsAway = 0;
    const done = { inserted: 0, refused: 0, moved: 0, cut: 0, cleared: 0, putBack: 0, judged: 0 };
    let mixed = 0;
    for (let seed = 1; seed <= runs; seed++) {
      const random = seededRandom(seed);
      const state = createState(routes);
      const shelf = createShelf(state);
      clearShelf(state, shelf);
      let kept = snapshot(state);
      const insertions = createInsertions(routes);
      const fault = (text: string) => faults.push(`run ${seed}: ${text}`);

      const insert = (slot: number, block: number): boolean => {
        const at = block * routes.slotCount + slot;
        // Half of the time what was worked out before may be remembered, as in the search: then another crew may have moved since.
        const isFresh = random() < 0.5;
        if (isFresh) insertions.version[at] = -1;
        const promisedCents = insertionCents(state, insertions, block, slot);
        if (promisedCents === Number.POSITIVE_INFINITY) {
          done.refused++;
          return false;
        }
        const before = snapshot(state);
        const beforeCents = state.slotCents[slot]!;
        const place = insertions.place[at]!;
        const stops = stopsOf(state, slot).toSpliced(place, 0, block);
        keepSlot(state, shelf, slot);
        if (!insertAt(state, insertions.run, slot, block, place)) {
          done.moved++;
          insertions.version[at] = -1;
          if (isFresh) fault(`promised ${promisedCents}, and does not run`);
          if (!isDeepStrictEqual(snapshot(state), before)) fault("does not run, and something changed");
          return false;
        }
        done.inserted++;
        if (kitOf(state, slot)!.also !== undefined) mixed++;
        const addedCents = state.slotCents[slot]! - beforeCents;
        if (isFresh && Math.abs(addedCents - promisedCents) > roundingCents) {
          fault(`promised ${promisedCents}, it costs ${addedCents}`);
        }
        if (stopsOf(state, slot).join() !== stops.join()) fault(`${stops} expected`);
        return true;
      };

      for (let move = 0; move < movesPerRun; ) {
        const draw = random();
        const slot = pickIndex(random, routes.slotCount);
        const count = state.count[slot]!;
        if (draw < 0.06) {
          putBack(state, shelf, shelf.slots);
          done.putBack++;
          if (!isDeepStrictEqual(snapshot(state), kept)) fault("not put back as it was");
          clearShelf(state, shelf);
        } else if (draw < 0.12) {
          clearShelf(state, shelf);
          kept = snapshot(state);
          continue;
        } else if (draw < 0.2 && routes.nights.length > 0) {
          const block = routes.open[pickIndex(random, routes.open.length)]!;
          moveNight(state, block, random, shelf, insertions, []);
        } else if (draw < 0.82 || count === 0) {
          if (count === 0) {
            keepSlot(state, shelf, slot);
            setOutfit(state, slot, null);
            setOutfit(state, slot, state.pool.propose(slot, random));
          }
          const block = routes.open[pickIndex(random, routes.open.length)]!;
          if (state.slotOf[block]! >= 0 || state.outfit[slot] === null || !insert(slot, block)) continue;
        } else {
          keepSlot(state, shelf, slot);
          const first = pickIndex(random, count);
          const length = 1 + pickIndex(random, Math.min(3, count - first));
          if (draw > 0.98) clearStops(state, slot);
          else cut(state, insertions.run, slot, first, length, first, 0);
          if (draw > 0.98) done.cleared++;
          else done.cut++;
        }
        settleNights(state, shelf, insertions.run);
        const nights = routes.nights.filter(({ evening }) => isAwayAfter(state, evening));
        nightsAway += nights.length;
        const touched = new Set([slot, ...nights.flatMap(({ evening, morning }) => [evening, morning])]);
        if (!crowds) for (const one of touched) for (const text of recompute(state, one)) fault(text);
        move++;
        if (move % movesPerJudgement === 0) {
          done.judged++;
          for (const text of judge(operation, problem, state, charged)) fault(text);
        }
      }
    }
    expect(faults.slice(0, 5)).toEqual([]);
    if (operation.fleet.crews.some(({ mixedOutfit }) => mixedOutfit)) expect(mixed).toBeGreaterThan(5);
    else expect(mixed).toBe(0);
    if (sleepsAway) expect(nightsAway).toBeGreaterThan(500);
    expect(charged.risk > 0 && charged.change > 0).toBe(published !== undefined);
    for (const [kind, count] of Object.entries(done)) {
      if (kind !== "moved") expect(count, kind).toBeGreaterThan(20);
    }
  });
});
