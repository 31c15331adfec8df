import { describe, expect, it } from "vitest";
import { createCalendar } from "../../../shared/model/calendar.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import type { PublishedStop } from "../../../shared/plan/plan.ts";
import { publishedStops } from "../../../shared/plan/published.ts";
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

  const planned = (weights: Partial<Operation["settings"]["planning"]>, forecastIssued?: string): Operation => ({
    ...operation,
    settings: {
      ...operation.settings,
      planning: { ...operation.settings.planning, ...weights },
      ...(forecastIssued === undefined ? {} : { forecastIssued: forecastIssued as never }),
    },
  });

  it("counts hectares in hours that the forecast may miss by what trust lacks", () => {
    // 12 ha on the first day at 95 %, 12 ha and 8 ha 48 to 72 h ahead at 80 %: 0.6 + 2.4 + 1.6 = 4.6 ha at 1000 cents.
    expect(scorePlan(planned({ riskCentsPerHa: 1000 }), plan).riskCents).toBe(4_600);
    // Issued at 07:52 the day before, so of the first work, 07:22 to 08:22, half lies within 24 h: (5 % + 10 %) / 2 of 12 ha are 0.9 ha;
    // the others lie 66 to 71 h ahead at 80 %: 0.2 of 20 ha are 4 ha.
    expect(scorePlan(planned({ riskCentsPerHa: 1000 }, "2027-03-25T07:52"), plan).riskCents).toBe(900 + 4_000);
    expect(scorePlan(operation, plan).riskCents).toBe(0);
  });

  it("counts what is otherwise than published", () => {
    const weights = {
      changeDroppedCents: 500,
      changeCrewDayCents: 300,
      changeStartCents: 70,
      changeStartToleranceMin: 30,
    };
    const apart = plan.blocks.map((block, at) => ({
      ...block,
      geometry: {
        ...block.geometry,
        coordinates: block.geometry.coordinates.map((rings) =>
          rings.map((ring) => ring.map(([lonDeg, latDeg]): [number, number] => [lonDeg + at, latDeg])),
        ),
      },
    }));
    const laid = { ...plan, blocks: apart };
    const stops = publishedStops(laid, createCalendar(operation.settings));
    const changed = (published: PublishedStop[]) => scorePlan(planned(weights), { ...laid, published }).changeCents;
    const [first, second, third] = stops;
    expect(changed(stops)).toBe(0);
    expect(changed([])).toBe(0);
    expect(changed([{ ...first!, startMin: first!.startMin + 30 }])).toBe(0);
    expect(changed([{ ...first!, startMin: first!.startMin - 31 }])).toBe(70);
    expect(changed([first!, { ...second!, crewId: "K2" as never }])).toBe(300);
    expect(changed([{ ...third!, date: "2027-03-27" }])).toBe(300);
    // O-2#2 is left out.
    const left = apart.find(({ id }) => id === "O-2#2")!;
    expect(changed([{ ...third!, blockId: left.id, areaHa: left.areaHa, geometry: left.geometry }])).toBe(500);
    // Another order's ground is no matter, nor what is under half of a block's own.
    expect(changed([{ ...second!, orderId: "O-3" as never, crewId: "K2" as never }])).toBe(0);
    const slid = (lonDeg: number) => ({
      ...second!,
      crewId: "K2" as never,
      geometry: {
        ...second!.geometry,
        coordinates: second!.geometry.coordinates.map((rings) =>
          rings.map((ring) => ring.map(([x, y]): [number, number] => [x + lonDeg, y])),
        ),
      },
    });
    const ring = second!.geometry.coordinates[0]![0]!;
    const widthDeg = Math.max(...ring.map(([x]) => x)) - Math.min(...ring.map(([x]) => x));
    expect(changed([slid(0.49 * widthDeg)])).toBe(300);
    expect(changed([slid(0.51 * widthDeg)])).toBe(0);
  });

  it("takes only the days to come of what was published, in minutes of its own", () => {
    const tomorrow = createCalendar({ ...operation.settings, firstDay: "2027-03-27" as never, days: 3 });
    const stops = publishedStops(plan, tomorrow);
    expect(stops.map(({ date }) => date)).toEqual(["2027-03-28", "2027-03-28"]);
    // 05:30 and 12 + 10 + 15 minutes, on the day that has lost an hour.
    expect(stops[0]!.startMin).toBe(24 * 60 + 4 * 60 + 30 + 37);
  });
});
