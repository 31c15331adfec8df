import { describe, expect, it } from "vitest";
import { scorePlan } from "../../../shared/plan/score.ts";
import { viewOperation, viewPlan } from "../../support/viewPlan.ts";

const operation = viewOperation();
const plan = viewPlan(operation);

describe("scorePlan", () => {
  it("adds up the hand-made week", () => {
    expect(scorePlan(operation, plan)).toEqual({
      // O-2#2, 7 ha at 2000 cents, priority high counts twice.
      unservedCents: 28_000,
      // O-1#2, 12 ha on Sunday, two days after the preferred Friday, at 200 cents per ha and day.
      lateCents: 4_800,
      // (8.4 + 8.4) + (8.4 + 2.5 + 6) + (5 + 5) = 43.7 km at 90 cents.
      driveCents: 3_933,
      // 102 + 154 + 130 = 386 minutes at 6000 cents an hour.
      labourCents: 38_600,
      overtimeCents: 0,
      // 1 h with two small ones at 900, 1.5 h with one, 20 min with the helicopter at 45000: 1800 + 1350 + 15000.
      runningCents: 18_150,
      // Crew 1 takes another tender on its second day.
      outfitChangeCents: 2_000,
      lodgingCents: 0,
      riskCents: 0,
      changeCents: 0,
      totalCents: 95_483,
      servedHa: 32,
      orderedHa: 39,
      roadKm: expect.closeTo(43.7, 9),
      dutyMin: 386,
    });
  });

  it("pays overtime over each crew-day's standard hours", () => {
    const crews = operation.fleet.crews.map((crew) => ({ ...crew, standardHoursPerDay: 1 }));
    const score = scorePlan({ ...operation, fleet: { ...operation.fleet, crews } }, plan);
    // 42 + 94 + 70 = 206 minutes over, at 100 cents a minute, half of it on top.
    expect(score.overtimeCents).toBe(10_300);
    expect(score.labourCents).toBe(38_600);
  });

  it("does not take the order in which an outfit is listed for another outfit", () => {
    const [first, second, third] = plan.crewDays;
    const turned = {
      ...second!,
      outfit: { ...first!.outfit, aircraftIds: [...first!.outfit.aircraftIds].reverse() },
    };
    const score = scorePlan(operation, { blocks: plan.blocks, crewDays: [turned, third!, first!] });
    expect(score.outfitChangeCents).toBe(0);
  });

  it("costs nothing but the orders left out when nobody goes out", () => {
    const score = scorePlan(operation, { blocks: plan.blocks, crewDays: [] });
    // 24 ha at 2500 and 15 ha at 2000 that count twice.
    expect(score.totalCents).toBe(24 * 2500 + 15 * 2000 * 2);
    expect(score.unservedCents).toBe(score.totalCents);
    expect(score).toMatchObject({ servedHa: 0, orderedHa: 39, roadKm: 0, dutyMin: 0 });
  });

  it("values a mandatory order at the highest price of any order, whatever it pays itself", () => {
    const orders = operation.orders.map((order) =>
      order.id === "O-2" ? { ...order, priority: "mandatory" as const, priceCentsPerHa: 1 } : order,
    );
    // O-2#2, 7 ha at the 2500 cents of O-1, twenty times.
    expect(scorePlan({ ...operation, orders }, plan).unservedCents).toBe(7 * 2500 * 20);
    const dearer = orders.map((order) => (order.id === "O-2" ? { ...order, priceCentsPerHa: 3000 } : order));
    expect(scorePlan({ ...operation, orders: dearer }, plan).unservedCents).toBe(7 * 3000 * 20);
  });

  it("is not late before or on the preferred date", () => {
    const orders = operation.orders.map((order) => ({ ...order, preferredDate: "2027-03-28" }));
    expect(scorePlan({ ...operation, orders }, plan).lateCents).toBe(0);
  });
});
