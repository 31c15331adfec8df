import { beforeAll, describe, expect, it } from "vitest";
import { compileProblem } from "../../../services/solver/compile.ts";
import { kindFor, quickestKind, shareBays } from "../../../services/solver/kinds.ts";
import { planTours, toursOf } from "../../../services/solver/outside/planTours.ts";
import { planOperation } from "../../../services/solver/planOperation.ts";
import type { Kind, KindTaken, Kit } from "../../../services/solver/problem.ts";
import { createRandom } from "../../../services/solver/random.ts";
import { createState } from "../../../services/solver/state.ts";
import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import { type Operation, operationSchema } from "../../../shared/model/operation.ts";
import { checkPlan } from "../../../shared/plan/check/checkPlan.ts";
import { crewSheet } from "../../../shared/plan/crewSheet.ts";
import type { Activity, Plan } from "../../../shared/plan/plan.ts";
import { crewSheetText, weekText } from "../../../shared/plan/text.ts";
import { weekView } from "../../../shared/plan/weekView.ts";
import { kindsOperation } from "../../support/kindsOperation.ts";
import { mutations } from "../../support/mutations.ts";
import { calendarOf, hourlyWeather, smallStation } from "../../support/operation.ts";

function planned(operation: Operation): Plan {
  return planOperation(operation, { seed: 1, random: createRandom(1), doneShare: (done) => done / 200 });
}

type Of<K extends Activity["kind"]> = Extract<Activity, { kind: K }>;

function activitiesOf<K extends Activity["kind"]>(plan: Plan, kind: K): Of<K>[] {
  return plan.crewDays.flatMap(({ activities }) => activities).filter((one): one is Of<K> => one.kind === kind);
}

function ordersWorked(plan: Plan): string[] {
  return [...new Set(activitiesOf(plan, "work").map(({ blockId }) => blockId.split("#")[0]!))].sort();
}

/** Which aircraft each order is worked by. */
function workedBy(plan: Plan): Record<string, string> {
  return Object.fromEntries(
    activitiesOf(plan, "work").map(({ blockId, aircraftIds }) => [blockId.split("#")[0], aircraftIds?.join(" ")]),
  );
}

function problemOf(operation: Operation) {
  const calendar = calendarOf(operation);
  return compileProblem(operation, calendar, createAgronomy(operation, calendar));
}

describe("a crew with a wide sprayer and a small one that also spreads", () => {
  const operation = kindsOperation(true);
  let plan: Plan;
  beforeAll(() => {
    plan = planned(operation);
  });

  it("serves a day that neither alone can", () => {
    const alone = planned(kindsOperation(false));
    expect(checkPlan(kindsOperation(false), alone).breaches).toEqual([]);
    expect(ordersWorked(alone)).not.toHaveLength(3);
    expect(activitiesOf(alone, "work").every(({ aircraftIds }) => aircraftIds === undefined)).toBe(true);
    expect(checkPlan(operation, plan).breaches).toEqual([]);
    expect(workedBy(plan)).toEqual({ "O-FLAT": "W1", "O-STEEP": "S1", "O-GRAIN": "S1" });
    expect(plan.conflicts).toEqual([]);
  });

  it("sets up as long as the slower type does, and pays for the aircraft at work only", () => {
    // WIDE 18 min, with calibration 25; TIGHT 10 min and none. Packing up: WIDE 5 min, TIGHT 8.
    const minutes = (kind: "setup" | "packup") =>
      activitiesOf(plan, kind).map(({ startMin, endMin }) => endMin - startMin);
    expect(minutes("setup")[0]).toBe(25);
    expect(new Set(minutes("setup").slice(1))).toEqual(new Set([18]));
    expect(new Set(minutes("packup"))).toEqual(new Set([8]));
    const cents = activitiesOf(plan, "work").map(
      ({ startMin, endMin, aircraftIds }) => ((endMin - startMin) / 60) * (aircraftIds?.[0] === "W1" ? 3000 : 900),
    );
    expect(plan.score.runningCents).toBe(Math.round(cents.reduce((sum, one) => sum + one, 0)));
  });

  it("changes the method of an aircraft only when that aircraft did other work before", () => {
    // Only S1 does both; however often W1 sprays between, it is changed once.
    expect(activitiesOf(plan, "methodChange")).toHaveLength(1);
  });

  it("gives each type bays of its own", () => {
    // 22 kW feed one bay of 12 and one of 9.
    expect(plan.crewDays[0]!.outfit.batterySets.map(({ bays }) => bays)).toEqual([1, 1]);
    const broken = structuredClone(plan);
    broken.crewDays[0]!.outfit.batterySets[1]!.bays = 2;
    expect(checkPlan(operation, broken).breaches.map(({ rule }) => rule)).toEqual(["bay"]);
  });

  it("is told with the aircraft that works each block", () => {
    const text = weekText(weekView(operation, plan, checkPlan(operation, plan))).replaceAll(/\s+/g, " ");
    expect(text).toContain("1 × Wide sprayer (W1)");
    const sheet = crewSheetText(crewSheet(operation, plan, "K1", "2027-06-07")!).replaceAll(/\s+/g, " ");
    expect(sheet).toContain("3 battery sets for Wide sprayer, 1 bay; 2 battery sets for Small multirotor, 1 bay");
    expect(sheet).toContain("With 1 × Small multirotor (S1)");
    expect(text).toContain("Granular Example, 1 × Small multirotor (S1)");
  });

  it("comes back to its cost when its tours are taken from outside", () => {
    const again = planTours(operation, toursOf(plan));
    if (!again.ok) throw new Error("tours refused");
    expect(again.plan.score).toEqual(plan.score);
    const refused = planTours(kindsOperation(false), toursOf(plan));
    expect(refused.ok && refused.runs[0]!.stopped?.reason).toBe("the crew takes out aircraft of one type on a day");
  });

  it("goes out with what is locked, for orders that it takes both types for", () => {
    const lock = (outfit: object) =>
      operationSchema.parse({
        ...operation,
        locks: [
          {
            crewId: "K1",
            date: "2027-06-07",
            outfit,
            stops: ["O-FLAT", "O-STEEP"].map((orderId) => ({ orderId })),
          },
        ],
      });
    for (const outfit of [{ aircraftIds: ["S1", "W1"] }, { tenderId: "T1" }]) {
      const locked = planned(lock(outfit));
      expect(checkPlan(lock(outfit), locked).breaches).toEqual([]);
      expect(workedBy(locked)).toMatchObject({ "O-FLAT": "W1", "O-STEEP": "S1" });
    }
    const onlyWide = planned(lock({ aircraftIds: ["W1"] }));
    expect(checkPlan(lock({ aircraftIds: ["W1"] }), onlyWide).breaches).toEqual([]);
    expect(ordersWorked(onlyWide)).toEqual(["O-FLAT"]);
  });

  it("is caught when it is broken in any way there is", () => {
    const missed: string[] = [];
    const tried = new Set<string>();
    for (const { rule, name, mutate } of mutations) {
      const broken = mutate(operation, plan, createRandom(2));
      if (broken === null) continue;
      tried.add(rule);
      const { breaches } = checkPlan(broken.operation, broken.plan);
      if (!breaches.some((breach) => breach.rule === rule)) missed.push(`${rule}: ${name}`);
    }
    expect(missed).toEqual([]);
    for (const rule of ["mixedOutfit", "atWork", "batterySets", "qualified", "methodChange", "setup"])
      expect(tried).toContain(rule);
  });

  it("has batteries of its own for each type, and one generator for both", () => {
    // One bay of WIDE (12 kW) or two of TIGHT (9 kW).
    const changed = structuredClone(operation);
    changed.fleet.tenders[0]!.generatorKw = 18.5;
    /** Works in turn by W1 and S1, with as much time in the air as full sets and a share of those bays, from the type's first work on, give. */
    const breachesAtEnd = (shares: { readonly W1: number; readonly S1: number }) => {
      const broken = structuredClone(plan);
      const works = activitiesOf(broken, "work");
      expect(works).toHaveLength(4);
      const { aircraftIds, batterySets } = broken.crewDays[0]!.outfit;
      for (const entry of batterySets) delete entry.bays;
      works.forEach((work, at) => {
        work.aircraftIds = [aircraftIds[at % 2]!];
      });
      for (const [at, id, sets, bays] of [
        [0, "W1", 3, 1],
        [1, "S1", 2, 2],
      ] as const) {
        const own = [works[at]!, works[at + 2]!];
        const { power } = operation.fleet.aircraftTypes[at]!;
        if (power.source !== "battery") throw new Error("both types fly on batteries");
        const chargedSets = (shares[id] * bays * (own[1]!.endMin - own[0]!.startMin)) / power.chargeMin;
        const airMin = (sets + chargedSets) * power.enduranceMin * (1 - power.reserveFrac);
        own.forEach(({ detail }, one) => {
          Object.assign(detail, { turnMin: 0, ferryMin: 0, sprayMin: one === 0 ? 0 : airMin });
        });
      }
      return checkPlan(changed, broken)
        .breaches.filter(({ rule, blockId }) => rule === "batteryEnergy" && blockId === works[3]!.blockId)
        .map(({ sentence }) => sentence.includes("together"));
    };
    expect(breachesAtEnd({ W1: 0.5, S1: 0.5 })).toEqual([]);
    expect(breachesAtEnd({ W1: 0.98, S1: 0.98 })).toEqual([true]);
    expect(breachesAtEnd({ W1: 0, S1: 1.02 })).toEqual([false]);
  });
});

describe("the kind that works a block", () => {
  const operation = kindsOperation(true);
  const problem = problemOf(operation);
  const kinds = problem.options[0]!.map(
    (option, optionIndex): Kind => ({ option, optionIndex, sets: 2, signature: 0 }),
  );
  const ground = problem.grounds.findIndex(({ order }) => problem.orders[order]!.order.id === "O-STEEP");

  it("is the quickest, of two alike the cheaper, and none where none can", () => {
    expect(quickestKind(problem, kinds, [0, 40], ground, 0)).toBe(1);
    expect(quickestKind(problem, kinds, [0, 0], ground, 0)).toBe(-1);
    // On the meadow's granules windows are TIGHT's alone, whatever WIDE's minutes were.
    const [wide, tight] = kinds as [Kind, Kind];
    const twice = [tight, { ...tight, option: { ...tight.option, count: 2 } }];
    expect(quickestKind(problem, twice, [30, 20], ground, 0)).toBe(1);
    expect(quickestKind(problem, twice, [20, 20], ground, 0)).toBe(0);
    expect(quickestKind(problem, twice.toReversed(), [20, 20], ground, 0)).toBe(1);
    expect(quickestKind(problem, [wide, tight], [10, 40], ground, 0)).toBe(1);
  });

  it("is another where the quicker one's windows are closed on that day", () => {
    const plain = kindsOperation(true);
    // Both types may do both liquid orders; WIDE bears wind, TIGHT does not.
    const fleet = structuredClone(plain.fleet);
    for (const type of fleet.aircraftTypes) {
      Object.assign(type.liquid!, { dropletMinUm: 110, dropletMaxUm: 500 });
      type.slopeMaxPct = 60;
      type.windMaxKph = type.id === "WIDE" ? 14 : 6;
    }
    // The small one is made the quicker of the two on the steep field.
    fleet.aircraftTypes.find(({ id }) => id === "WIDE")!.turnS = 120;
    const inWind = (windKph: number) => {
      const weather = hourlyWeather(plain.settings, smallStation, () => ({ windKph }));
      const its = problemOf(operationSchema.parse({ ...plain, fleet, weather }));
      const { pool } = createState(its.routes);
      const random = createRandom(1);
      let kit = pool.propose(0, random) as Kit;
      while (kit.also === undefined) kit = pool.propose(0, random) as Kit;
      const block = its.blocks.findIndex(({ block: { orderId } }) => orderId === "O-STEEP");
      const minutes = [kit, ...kit.also].map(({ signature }) => its.work.minutes(block, signature));
      expect(minutes[1]).toBeLessThan(minutes[0]!);
      expect(its.routes.ask(kit.profile, block)).toBe(minutes[its.kindOf(kit.profile, block)]);
      return its.types[kindFor(its, kit, block).option.type]!.id;
    };
    expect(inWind(4)).toBe("TIGHT");
    expect(inWind(10)).toBe("WIDE");
  });
});

describe("charging bays of two types", () => {
  const operation = kindsOperation(true);
  const taken = (wideSets: number, tightSets: number): KindTaken[] => [
    { option: { type: 0, count: 1 }, sets: wideSets },
    { option: { type: 1, count: 1 }, sets: tightSets },
  ];
  const withPower = (generatorKw: number, bays: number, kw: number): Operation => {
    const changed = structuredClone(operation);
    changed.fleet.tenders[0]!.generatorKw = generatorKw;
    Object.assign(changed.fleet.chargers[0]!, { bays, kw });
    return changed;
  };

  it("are within the generator, the charger and the sets", () => {
    // WIDE 12 kW, TIGHT 9 kW.
    expect(shareBays(withPower(22, 3, 40), taken(3, 3), [0], 0)).toEqual([[1], [1]]);
    // A third bay of 9 kW: 30 kW, the wide one's second would take 33.
    expect(shareBays(withPower(32, 4, 40), taken(3, 3), [0], 0)).toEqual([[1], [2]]);
    expect(shareBays(withPower(100, 3, 100), taken(3, 3), [0], 0)).toEqual([[2], [1]]);
    expect(shareBays(withPower(100, 9, 100), taken(2, 3), [0], 0)).toEqual([[2], [3]]);
  });

  it("are none where one type would have none", () => {
    expect(shareBays(withPower(20, 3, 40), taken(3, 3), [0], 0)).toBeNull();
    expect(shareBays(withPower(40, 1, 40), taken(3, 3), [0], 0)).toBeNull();
    expect(shareBays(withPower(40, 3, 20), taken(3, 3), [0], 0)).toBeNull();
    expect(shareBays(withPower(40, 3, 40), taken(3, 3), [], 0)).toBeNull();
  });
});
