import { describe, expect, it } from "vitest";
import { generateOperation } from "../../../services/scenario/generate/generateOperation.ts";
import { compileProblem } from "../../../services/solver/compile.ts";
import { createRandom } from "../../../services/solver/random.ts";
import { type LeftOut, startFrom } from "../../../services/solver/startFrom.ts";
import { toPlan } from "../../../services/solver/toPlan.ts";
import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import { createCalendar } from "../../../shared/model/calendar.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import type { Plan } from "../../../shared/plan/plan.ts";
import { scorePlan } from "../../../shared/plan/score.ts";
import { worksOf } from "../../../shared/plan/totals.ts";
import { crowdedOperation } from "../../support/crowdedOperation.ts";
import { planned } from "../../support/planned.ts";
import { richOperation } from "../../support/richOperation.ts";

const generated = generateOperation({ orders: 40, crews: 4, days: 5, seed: 8 });

/** What a plan costs today as far as it still holds, before anybody searches. */
function started(operation: Operation, from: Plan): { plan: Plan; left: readonly LeftOut[] } {
  const calendar = createCalendar(operation.settings);
  const problem = compileProblem(operation, calendar, createAgronomy(operation, calendar));
  const { state, left } = startFrom(problem, from);
  return { plan: toPlan(problem, state, [], { seed: 0, iterations: 0 }), left };
}

const withFleet = (operation: Operation, fleet: Partial<Operation["fleet"]>): Operation => ({
  ...operation,
  fleet: { ...operation.fleet, ...fleet },
});

const stopsOf = (plan: Plan) => plan.crewDays.flatMap((crewDay) => worksOf(crewDay).map((work) => ({ crewDay, work })));

/** What may happen to a week between two plans. */
const turns: readonly { readonly name: string; readonly turn: (operation: Operation, plan: Plan) => Operation }[] = [
  {
    name: "windier",
    turn: (operation) => ({
      ...operation,
      weather: operation.weather.map((step) => ({
        ...step,
        windKph: 1.3 * step.windKph,
        gustKph: 1.3 * step.gustKph,
      })),
    }),
  },
  {
    name: "an aircraft down",
    turn: (operation, { crewDays }) => {
      const { outfit, date } = crewDays[0]!;
      return withFleet(operation, {
        aircraft: operation.fleet.aircraft.map((one) =>
          one.id === outfit.aircraftIds[0] ? { ...one, outOfService: [{ from: date, to: date }] } : one,
        ),
      });
    },
  },
  {
    name: "a crew day off",
    turn: (operation, { crewDays }) =>
      withFleet(operation, {
        crews: operation.fleet.crews.map((crew) =>
          crew.id === crewDays[0]!.crewId
            ? { ...crew, shifts: crew.shifts.filter(({ date }) => date !== crewDays[0]!.date) }
            : crew,
        ),
      }),
  },
  {
    name: "an order withdrawn",
    turn: (operation, plan) => {
      const gone = plan.blocks.find(({ id }) => id === stopsOf(plan)[0]!.work.blockId)!.orderId;
      return {
        ...operation,
        orders: operation.orders
          .filter(({ id }) => id !== gone)
          .map((order) => ({ ...order, apartFrom: order.apartFrom.filter(({ orderId }) => orderId !== gone) })),
      };
    },
  },
  {
    name: "smaller blocks",
    turn: (operation) => ({
      ...operation,
      settings: { ...operation.settings, planning: { ...operation.settings.planning, blockMaxMin: 60 } },
    }),
  },
];

describe("a published plan when nothing has changed", () => {
  it.each<[string, Operation, number]>([
    ["a generated week", generated, 60],
    ["one of everything", richOperation(), 60],
    ["crowded fields", crowdedOperation(1), 60],
  ])("stays as it is and costs no change: %s", (_, operation, iterations) => {
    const published = planned(operation, iterations);
    let left: readonly LeftOut[] = [];
    for (const few of [0, 3]) {
      const again = planned(operation, few, { published, onLeftOut: (stops) => (left = stops) });
      expect(left).toEqual([]);
      expect(again.crewDays).toEqual(published.crewDays);
      expect(again.score).toEqual({ ...published.score, changeCents: 0 });
      expect(again.published).toHaveLength(stopsOf(published).length);
    }
  });
});

describe("a search that starts from a plan", () => {
  const before = planned(generated, 80);

  it.each(turns)("never ends worse than where it started: $name", ({ turn }) => {
    const operation = turn(generated, before);
    const start = started(operation, before);
    expect(start.plan.crewDays.length).toBeGreaterThan(0);
    for (const seed of [1, 2, 3]) {
      for (const iterations of [0, 10 * seed]) {
        const plan = planned(operation, iterations, { from: before, random: createRandom(seed) });
        expect(plan.score.totalCents).toBeLessThanOrEqual(start.plan.score.totalCents);
      }
    }
  });

  it("tells what no longer holds and why, and leaves everything else where it was", () => {
    const crewDay = before.crewDays[0]!;
    const lost = worksOf(crewDay).map(({ blockId }) => blockId);
    const dayOff = started(turns.find(({ name }) => name === "a crew day off")!.turn(generated, before), before);
    expect(dayOff.left).toEqual(
      lost.map((blockId) => ({
        crewId: crewDay.crewId,
        date: crewDay.date,
        blockId,
        reason: "the crew has no shift on that day",
      })),
    );
    expect(dayOff.plan.crewDays).toEqual(before.crewDays.slice(1));

    const withdrawn = started(turns.find(({ name }) => name === "an order withdrawn")!.turn(generated, before), before);
    const { orderId } = before.blocks.find(({ id }) => id === lost[0])!;
    expect(withdrawn.left.map(({ blockId }) => blockId).sort()).toEqual(
      stopsOf(before)
        .map(({ work }) => work.blockId)
        .filter((id) => id.startsWith(`${orderId}#`))
        .sort(),
    );
    expect(withdrawn.left[0]!.reason).toBe("its order or its ground is not there any more");
  });

  it("takes other things where some are out", () => {
    const operation = turns.find(({ name }) => name === "an aircraft down")!.turn(generated, before);
    const { plan } = started(operation, before);
    const { crewId, date, outfit } = before.crewDays[0]!;
    const now = plan.crewDays.find((one) => one.crewId === crewId && one.date === date);
    expect(now?.outfit.aircraftIds ?? []).not.toContain(outfit.aircraftIds[0]);
    expect(plan.crewDays.filter((one) => one !== now)).toEqual(before.crewDays.slice(1));
  });

  it("knows blocks by their ground when orders are cut otherwise", () => {
    const operation = turns.find(({ name }) => name === "smaller blocks")!.turn(generated, before);
    const { plan } = started(operation, before);
    expect(plan.blocks.length).toBeGreaterThan(before.blocks.length);
    // More set-ups cost some minutes, and a day that was full may lose a stop.
    expect(plan.score.servedHa).toBeGreaterThan(0.8 * before.score.servedHa);
    const crewDayOf = (of: Plan) =>
      new Map(
        stopsOf(of).map(({ crewDay, work }) => [work.blockId.split("#")[0]!, `${crewDay.crewId} ${crewDay.date}`]),
      );
    const [then, now] = [crewDayOf(before), crewDayOf(plan)];
    for (const [orderId, crewDay] of now) {
      const all = new Set(
        stopsOf(before)
          .filter(({ work }) => work.blockId.startsWith(`${orderId}#`))
          .map((stop) => `${stop.crewDay.crewId} ${stop.crewDay.date}`),
      );
      expect(then.has(orderId) && all.has(crewDay), orderId).toBe(true);
    }
  });
});

describe("changes against a published plan", () => {
  const published = planned(generated, 80);

  it.each(turns)("are fewer than where nobody counts them, and the checker counts alike: $name", ({ turn }) => {
    const operation = turn(generated, published);
    const careful = planned(operation, 80, { published });
    const careless = planned(operation, 80);
    const { changeCents } = scorePlan(operation, { ...careless, published: careful.published! });
    expect(careful.score.changeCents!).toBeLessThan(changeCents!);
  });
});
