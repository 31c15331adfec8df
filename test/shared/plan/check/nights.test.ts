import { describe, expect, test } from "vitest";
import { checkPlan } from "../../../../shared/plan/check/checkPlan.ts";
import type { CrewDay, Plan } from "../../../../shared/plan/plan.ts";
import { richOperation } from "../../../support/richOperation.ts";
import { richPlan } from "../../../support/richPlan.ts";

/** Of the plan made by hand: crew 3 works from B2 and sleeps at B1, with four sets of the small aircraft and charger C2 (2 bays). */
function night(plan: Plan): { evening: CrewDay; morning: CrewDay; minutes: number } {
  const [evening, morning] = plan.crewDays.filter(({ crewId }) => crewId === "K3") as [CrewDay, CrewDay];
  return { evening, morning, minutes: morning.activities[0]!.startMin - evening.activities.at(-1)!.endMin };
}

describe("charging in a night away", () => {
  test.each([
    ["takes all of it", 0, true],
    ["takes a minute more", 1, false],
  ] as const)("%s", (_, moreMin, holds) => {
    const operation = richOperation();
    const plan = richPlan(operation);
    const { minutes } = night(plan);
    const { power } = operation.fleet.aircraftTypes.find(({ id }) => id === "SMALL")!;
    if (power.source !== "battery") throw new Error("the small aircraft fly on batteries");
    const charger = operation.fleet.chargers.find(({ id }) => id === "C2")!;
    const tender = operation.fleet.tenders.find(({ id }) => id === "T3")!;
    const bays = Math.min(
      charger.bays,
      Math.floor(charger.kw / power.chargeKw),
      Math.floor(tender.generatorKw / power.chargeKw),
    );
    // Four sets, so many at once, one after the other.
    power.chargeMin = (minutes + moreMin) / Math.ceil(4 / bays);
    const found = checkPlan(operation, plan).breaches.filter(({ rule }) => rule === "nightCharging");
    expect(found.length).toBe(holds ? 0 : 1);
  });
});

describe("water", () => {
  test.each([
    ["the base where the crew slept", "B1", true],
    ["its own base, where the day ends", "B2", true],
    ["a base that has nothing to do with the day", "B9", false],
  ] as const)("may be taken at %s: %s, %s", (_, baseId, holds) => {
    const operation = richOperation();
    operation.settings.bases.push({
      ...operation.settings.bases[0]!,
      id: "B9" as (typeof operation.settings.bases)[0]["id"],
    });
    const plan = richPlan(operation);
    const { morning } = night(plan);
    const drive = morning.activities[0]!;
    const { startMin, endMin } = drive;
    const way = { startMin: endMin, endMin: endMin + 500, distanceKm: 0 };
    morning.activities = [
      { ...way, kind: "drive", startMin, endMin, from: "B1", to: baseId },
      { kind: "refill", startMin: endMin, endMin: endMin + 60, place: baseId, waterL: 1 },
      { ...way, kind: "drive", startMin: endMin + 60, from: baseId, to: "B2" },
    ];
    const found = checkPlan(operation, plan).breaches.filter(({ rule, crewId }) => rule === "place" && crewId === "K3");
    expect(found.length).toBe(holds ? 0 : 1);
  });
});
