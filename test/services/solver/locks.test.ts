import { beforeAll, describe, expect, it } from "vitest";
import { loadHighs } from "../../../services/linear/highs.ts";
import { generateOperation } from "../../../services/scenario/generate/generateOperation.ts";
import type { LinearSolver } from "../../../services/solver/linear/solver.ts";
import { type PlanControls, prepareOperation } from "../../../services/solver/planOperation.ts";
import { polishWith } from "../../../services/solver/polish.ts";
import { createRandom, pickIndex, type Random } from "../../../services/solver/random.ts";
import { createCalendar } from "../../../shared/model/calendar.ts";
import { type Lock, lockSchema } from "../../../shared/model/locks.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { validateOperation } from "../../../shared/model/validate.ts";
import { lockedAsItStands } from "../../../shared/plan/lockedAsItStands.ts";
import type { CrewDay, Plan } from "../../../shared/plan/plan.ts";
import { worksOf } from "../../../shared/plan/totals.ts";
import { anyOperation } from "../../support/allTogether.ts";
import { twoFarFields } from "../../support/farFields.ts";
import { kindsOperation } from "../../support/kindsOperation.ts";
import { planned as plannedWith } from "../../support/planned.ts";

let linear: LinearSolver;
beforeAll(async () => {
  linear = await loadHighs();
});

function planned(operation: Operation, iterations: number, seed = 1, controls: Partial<PlanControls> = {}): Plan {
  return plannedWith(operation, iterations, { seed, polish: polishWith(linear, undefined), ...controls });
}

function lockedWith(operation: Operation, ...locks: object[]): Operation {
  const validation = validateOperation({ ...operation, locks });
  if (!validation.ok) throw new Error(JSON.stringify(validation.faults));
  return validation.operation;
}

/** Locks of some crew-days of a plan, each by another way of locking. */
function someLocks(operation: Operation, plan: Plan, random: Random): Lock[] {
  const calendar = createCalendar(operation.settings);
  return plan.crewDays.flatMap((crewDay): Lock[] => {
    const { crewId, date, outfit } = crewDay;
    const stops = worksOf(crewDay).map(({ blockId }) => {
      const { orderId, part } = plan.blocks.find(({ id }) => id === blockId)!;
      return { orderId, part };
    });
    const draw = random();
    if (draw < 0.2) return [lockedAsItStands(calendar, plan, crewDay)];
    if (draw < 0.4) return [lockSchema.parse({ crewId, date, stops: [stops[pickIndex(random, stops.length)]!] })];
    if (draw < 0.5) return [lockSchema.parse({ crewId, date, stops, inOrder: true })];
    if (draw < 0.6) return [lockSchema.parse({ crewId, date, outfit })];
    if (draw < 0.7) return [lockSchema.parse({ crewId, date, outfit: { tenderId: outfit.tenderId } })];
    if (draw < 0.8) return [lockSchema.parse({ crewId, date, outfit: { aircraftIds: outfit.aircraftIds } })];
    return [];
  });
}

const crewDayOf = (plan: Plan, { crewId, date }: Pick<Lock, "crewId" | "date">): CrewDay | undefined =>
  plan.crewDays.find((one) => one.crewId === crewId && one.date === date);

describe("what is locked", () => {
  it.each([1, 2, 3, 4, 5, 6])("stays, whatever the seed, polish included: operation %i", (seed) => {
    const operation = generateOperation({ orders: 24, crews: 3, days: 4, seed: 20 + seed });
    const random = createRandom(seed);
    const locks = someLocks(operation, planned(operation, 40, seed), random);
    const locked = lockedWith(operation, ...locks);
    expect(locked.locks.length).toBeGreaterThan(1);
    for (const again of [0, 20, 80]) {
      // The checker holds every lock against the plan; that it need not tell of one that does not hold is asked here.
      expect(planned(locked, again, seed + again).brokenLocks).toBeUndefined();
    }
  });

  it("stays as it stands to the minute when a whole crew-day is locked", () => {
    const operation = generateOperation({ orders: 30, crews: 3, days: 4, seed: 8 });
    const plan = planned(operation, 40);
    const calendar = createCalendar(operation.settings);
    const days = plan.crewDays.toSorted((a, b) => worksOf(b).length - worksOf(a).length).slice(0, 2);
    const locked = lockedWith(operation, ...days.map((day) => lockedAsItStands(calendar, plan, day)));
    const again = planned(locked, 100, 7);
    for (const day of days) {
      const now = crewDayOf(again, day)!;
      expect(now.outfit).toEqual(day.outfit);
      expect(worksOf(now)).toEqual(worksOf(day));
    }
  });

  it("stays when the search starts from a plan that does otherwise", () => {
    const operation = generateOperation({ orders: 30, crews: 3, days: 4, seed: 9 });
    const from = planned(operation, 60);
    const calendar = createCalendar(operation.settings);
    const other = planned(operation, 60, 5);
    const day = other.crewDays.find((one) => {
      const now = crewDayOf(from, one);
      return now === undefined || JSON.stringify(worksOf(now)) !== JSON.stringify(worksOf(one));
    })!;
    const locked = lockedWith(operation, lockedAsItStands(calendar, other, day));
    for (const iterations of [0, 30]) {
      const plan = planned(locked, iterations, 3, { published: from });
      expect(plan.brokenLocks).toBeUndefined();
      expect(worksOf(crewDayOf(plan, day)!)).toEqual(worksOf(day));
    }
  });

  it("stays when other windows or minutes would cut its order otherwise", () => {
    const operation = generateOperation({ orders: 30, crews: 3, days: 4, seed: 8 });
    const plan = planned(operation, 40);
    const day = plan.crewDays.find((one) =>
      worksOf(one).some(({ blockId }) => plan.blocks.find(({ id }) => id === blockId)!.parts > 1),
    )!;
    const withBlocks = (blockMaxMin: number): Operation => ({
      ...operation,
      settings: { ...operation.settings, planning: { ...operation.settings.planning, blockMaxMin } },
    });
    const lock = lockedAsItStands(createCalendar(operation.settings), plan, day);
    const partsOf = (of: Plan, orderId: string) => of.blocks.filter((block) => block.orderId === orderId);
    for (const blockMaxMin of [70, 200]) {
      const again = planned(lockedWith(withBlocks(blockMaxMin), lock), 20);
      expect(again.brokenLocks).toBeUndefined();
      expect(worksOf(crewDayOf(again, day)!).map(({ blockId }) => blockId)).toEqual(
        worksOf(day).map(({ blockId }) => blockId),
      );
      const recut = planned(withBlocks(blockMaxMin), 0);
      const others = lock.stops.filter(({ orderId, parts }) => partsOf(recut, orderId).length !== parts);
      expect(others.length, `no order is cut otherwise with ${blockMaxMin} min`).toBeGreaterThan(0);
    }
  });

  it("leaves crews with little to do the battery sets for it, where one with more would take all", () => {
    const operation = anyOperation(215);
    const lock = (crewId: string, date: string, ...blocks: string[]) =>
      lockSchema.parse({
        crewId,
        date,
        stops: blocks.map((id) => ({ orderId: id.split("#")[0], part: Number(id.split("#")[1]) })),
      });
    const locked = lockedWith(
      operation,
      lock("K1", "2027-06-08", "O-1-0#8"),
      lock("K2", "2027-06-08", "O-1-3#7", "O-1-3#8"),
    );
    expect(planned(locked, 0).brokenLocks).toBeUndefined();
  });

  it("may be an outfit of several types", () => {
    const operation = kindsOperation(true);
    const plan = planned(operation, 60);
    const day = plan.crewDays.find(({ outfit }) => outfit.aircraftIds.length > 1)!;
    const lock = lockedAsItStands(createCalendar(operation.settings), plan, day);
    for (const locks of [
      lock,
      { crewId: day.crewId, date: day.date, outfit: { aircraftIds: day.outfit.aircraftIds } },
    ]) {
      const again = planned(lockedWith(operation, locks), 20, 3);
      expect(again.brokenLocks).toBeUndefined();
      expect([...crewDayOf(again, day)!.outfit.aircraftIds].sort()).toEqual([...day.outfit.aircraftIds].sort());
    }
  });

  it("is kept from a plan whose crew sleeps elsewhere between the locked days, though a week with nothing else cannot have them", () => {
    // Two hours of road a day and 40 min of work leave no time for it within the duty of a day from home.
    const operation = twoFarFields({ overnightBaseIds: ["B2" as never], dutyMaxHoursPerDay: 2.2 });
    const plan = planned(operation, 60);
    expect(plan.crewDays).toHaveLength(2);
    const calendar = createCalendar(operation.settings);
    const locked = lockedWith(operation, ...plan.crewDays.map((day) => lockedAsItStands(calendar, plan, day)));
    expect(prepareOperation(locked).held!.planned).toBe(0);
    const again = planned(locked, 20, 3, { from: plan });
    expect(again.brokenLocks).toBeUndefined();
    expect(again.crewDays.map(worksOf)).toEqual(plan.crewDays.map(worksOf));
  });

  it("is done even when it is worth nothing", () => {
    const operation = generateOperation({ orders: 12, crews: 2, days: 3, seed: 4 });
    const free = { ...operation, orders: operation.orders.map((order) => ({ ...order, priceCentsPerHa: 0 })) };
    expect(planned(free, 30).crewDays).toEqual([]);
    const { crewDays, blocks } = planned(operation, 30);
    const [work] = worksOf(crewDays[0]!);
    const { orderId, part } = blocks.find(({ id }) => id === work!.blockId)!;
    const { crewId, date } = crewDays[0]!;
    const plan = planned(lockedWith(free, { crewId, date, stops: [{ orderId, part }] }), 30);
    expect(plan.crewDays.map((day) => worksOf(day).map(({ blockId }) => blockId))).toEqual([[work!.blockId]]);
  });
});

describe("what is locked and cannot hold", () => {
  const operation = generateOperation({ orders: 24, crews: 3, days: 4, seed: 31 });
  let plan: Plan;
  let day: CrewDay;
  let stops: { orderId: string; part: number }[];
  beforeAll(() => {
    plan = planned(operation, 40);
    day = plan.crewDays.toSorted((a, b) => worksOf(b).length - worksOf(a).length)[0]!;
    stops = worksOf(day).map(({ blockId }) => plan.blocks.find(({ id }) => id === blockId)!);
    stops = stops.map(({ orderId, part }) => ({ orderId, part }));
  });

  const broken = (locked: Operation) => {
    const made = planned(locked, 20);
    return { made, broken: made.brokenLocks ?? [] };
  };

  it("is told: no shift on that day", () => {
    const { crewId } = day;
    const stop = stops[0]!;
    const { made, broken: told } = broken(lockedWith(operation, { crewId, date: "2031-01-01", stops: [stop] }));
    expect(told).toEqual([
      {
        crewId,
        date: "2031-01-01",
        blockIds: [`${stop.orderId}#${stop.part}`],
        sentence: "the crew has no shift on that day",
      },
    ]);
    const conflict = made.conflicts.find(({ blockIds }) => blockIds.includes(told[0]!.blockIds[0]!))!;
    expect(conflict).toMatchObject({
      kind: "contradiction",
      sentence: "it is locked to a crew-day, but the crew has no shift on that day",
    });
  });

  it("is told: an aircraft that is out of service, and nobody goes out with another", () => {
    const { crewId, date, outfit } = day;
    const [id] = outfit.aircraftIds;
    const aircraft = operation.fleet.aircraft.map((one) =>
      one.id === id ? { ...one, outOfService: [{ from: date, to: date }] } : one,
    );
    const down = { ...operation, fleet: { ...operation.fleet, aircraft } };
    const { made, broken: told } = broken(
      lockedWith(down, { crewId, date, outfit: { aircraftIds: outfit.aircraftIds } }),
    );
    expect(told).toEqual([{ crewId, date, blockIds: [], sentence: `${id} is out of service on ${date}` }]);
    expect(crewDayOf(made, day)).toBeUndefined();
  });

  it("is told: two works at one minute", () => {
    const { crewId, date } = day;
    const startAt = createCalendar(operation.settings).isoOfMin(worksOf(day)[0]!.startMin).slice(0, 16);
    const [one, other] = stops;
    const locked = lockedWith(operation, {
      crewId,
      date,
      stops: [
        { ...one!, startAt },
        { ...other!, startAt },
      ],
    });
    const { made, broken: told } = broken(locked);
    expect(told).toHaveLength(1);
    expect(told[0]!.blockIds).toHaveLength(1);
    expect(made.crewDays.flatMap(worksOf).map(({ blockId }) => blockId)).not.toContain(told[0]!.blockIds[0]);
  });

  it("is told: an hour without a window, and a block that is not there", () => {
    const { crewId, date } = day;
    const [one] = stops;
    const { broken: told } = broken(
      lockedWith(operation, {
        crewId,
        date,
        stops: [
          { ...one!, startAt: `${date}T00:30` },
          { orderId: operation.orders.find(({ id }) => id !== one!.orderId)!.id, part: 99 },
        ],
      }),
    );
    expect(told.map(({ sentence }) => sentence).sort()).toEqual([
      expect.stringMatching(/has (one block|\d+ blocks), part 99 is none of them$/),
      "it is to begin at 00:30, and no window of the crew's shift is open then",
    ]);
  });

  it("is told: things that are locked to another crew", () => {
    const base = operation.fleet.crews.find(({ id }) => id === day.crewId)!.baseId;
    const other = operation.fleet.crews.find(
      ({ id, baseId, shifts }) => id !== day.crewId && baseId === base && shifts.some(({ date }) => date === day.date),
    )!;
    const outfit = { tenderId: day.outfit.tenderId };
    const { date } = day;
    const { broken: told } = broken(
      lockedWith(operation, { crewId: day.crewId, date, outfit }, { crewId: other.id, date, outfit }),
    );
    const { name } = operation.fleet.crews.find(({ id }) => id === day.crewId)!;
    expect(told).toEqual([
      { crewId: other.id, date, blockIds: [], sentence: `${outfit.tenderId} is locked to ${name} on ${date}` },
    ]);
  });
});
