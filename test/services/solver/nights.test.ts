import { describe, expect, it } from "vitest";
import { planOperation } from "../../../services/solver/planOperation.ts";
import { createRandom } from "../../../services/solver/random.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { checkPlan } from "../../../shared/plan/check/checkPlan.ts";
import { crewSheet } from "../../../shared/plan/crewSheet.ts";
import type { Activity, CrewDay, Plan } from "../../../shared/plan/plan.ts";
import { crewSheetText, weekText } from "../../../shared/plan/text.ts";
import { weekView } from "../../../shared/plan/weekView.ts";
import { type Crew, twoFarFields } from "../../support/farFields.ts";
import { type OperationInput, smallOperation } from "../../support/operation.ts";

function planned(operation: Operation, seed = 1): Plan {
  const plan = planOperation(operation, { seed, random: createRandom(seed), doneShare: (done) => done / 300 });
  expect(checkPlan(operation, plan).breaches).toEqual([]);
  return plan;
}

function minutesOf({ activities }: CrewDay, kind: Activity["kind"]): number {
  return activities.reduce((sum, one) => sum + (one.kind === kind ? one.endMin - one.startMin : 0), 0);
}

describe("a crew that may sleep by two far fields", () => {
  const operation = twoFarFields({ overnightBaseIds: ["B2"], nightAwayCents: 5000 });
  const plan = planned(operation);

  it("does, and its week costs what a sum by hand says", () => {
    const drives = plan.crewDays.map(({ activities }) =>
      activities.flatMap((one) => (one.kind === "drive" ? [`${one.from} to ${one.to}`] : [])),
    );
    expect(drives).toEqual([
      ["B1 to F1/P1", "F1/P1 to B2"],
      ["B2 to F2/P1", "F2/P1 to B1"],
    ]);
    const workMin = plan.crewDays.reduce((sum, day) => sum + minutesOf(day, "work"), 0);
    // On the road 60 + 2 and 2 + 60 min, each day 5 min of setting up and 5 of packing up.
    const dutyMin = 124 + 20 + workMin;
    expect(plan.score).toMatchObject({
      unservedCents: 0,
      // (60 + 1 + 1 + 60) km at 90 cents.
      driveCents: 10_980,
      // 6000 cents an hour, no day over eight hours.
      labourCents: dutyMin * 100,
      overtimeCents: 0,
      runningCents: Math.round(workMin * 750),
      lodgingCents: 5000,
      dutyMin,
    });
  });

  it("costs as much less than coming home as the road saved is worth, less the lodging", () => {
    const home = planned(twoFarFields({}));
    expect(home.score.driveCents).toBe(240 * 90);
    // 118 km at 90 cents and 116 min at 100 cents saved, 5000 cents paid.
    expect(home.score.totalCents - plan.score.totalCents).toBe(118 * 90 + 116 * 100 - 5000);
  });

  it("is told where it sleeps", () => {
    const report = checkPlan(operation, plan);
    expect(weekText(weekView(operation, plan, report)).replace(/\s+/g, " ")).toContain("61.0 km, sleeps at Hostel.");
    const [monday, tuesday] = ["2027-06-07", "2027-06-08"].map((date) =>
      crewSheetText(crewSheet(operation, plan, "K1", date)!),
    );
    expect(monday).toMatch(/Leave Yard by .*, at Hostel for the night /);
    expect(monday).toContain("For the night to Hostel");
    expect(monday!.replace(/\s+/g, " ")).toContain("sleeps at Hostel; the whole outfit stays there");
    expect(tuesday).toMatch(/Leave Hostel by .*, back /);
    expect(tuesday).toContain("Return to Yard");
  });
});

describe("a crew comes home", () => {
  const cases: readonly (readonly [string, Partial<Crew>])[] = [
    ["where lodging costs more than the road", { overnightBaseIds: ["B2"], nightAwayCents: 118 * 90 + 116 * 100 + 1 }],
    ["where it may not sleep away", {}],
  ];
  it.each(cases)("%s", (_, terms) => {
    const { score } = planned(twoFarFields(terms));
    expect(score).toMatchObject({ lodgingCents: 0, roadKm: 240, unservedCents: 0 });
  });

  it("where it has no shift on the day after", () => {
    const { fleet } = smallOperation({}) as OperationInput;
    const [monday, , wednesday] = fleet.crews[0]!.shifts;
    const terms = { overnightBaseIds: ["B2"], shifts: [monday!, wednesday!] };
    const { score } = planned(twoFarFields(terms));
    expect(score).toMatchObject({ lodgingCents: 0, roadKm: 120 });
  });
});

describe("what only a night away brings into reach", () => {
  it("is done: home by the end of the shift is possible from neither field, sleeping there is", () => {
    const terms = (overnightBaseIds: Crew["overnightBaseIds"]) => ({
      overnightBaseIds,
      dutyMaxHoursPerDay: 2.3,
    });
    expect(planned(twoFarFields(terms([]))).score.servedHa).toBe(0);
    expect(planned(twoFarFields(terms(["B2"]))).score.unservedCents).toBe(0);
  });
});
