import fc from "fast-check";
import geodesic from "geographiclib-geodesic";
import { describe, expect, it } from "vitest";
import { airBounds } from "../../../shared/agronomy/airBounds.ts";
import { createMix } from "../../../shared/agronomy/mix.ts";
import { createCalendar } from "../../../shared/model/calendar.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { crewSheet } from "../../../shared/plan/crewSheet.ts";
import { mixOf } from "../../../shared/plan/mix.ts";
import { type SiteLimit, siteLimits } from "../../../shared/plan/siteLimits.ts";
import { viewOperation, viewPlan } from "../../support/viewPlan.ts";

const operation = viewOperation();
const plan = viewPlan(operation);
const sheet = crewSheet(operation, plan, "K1", "2027-03-26")!;
const stop = sheet.stops[0]!;

describe("crewSheet", () => {
  it("is null on a day without work", () => {
    expect(crewSheet(operation, plan, "K1", "2027-03-27")).toBeNull();
    expect(crewSheet(operation, plan, "K2", "2027-03-26")).toBeNull();
    expect(crewSheet(operation, plan, "nobody", "2027-03-26")).toBeNull();
  });

  it("begins with who, when and with what", () => {
    expect(sheet).toMatchObject({
      crewName: "Crew 1",
      weekday: "Friday",
      base: "Yard",
      people: [{ name: "Pilot One", licenceClasses: ["agri"] }],
      leaveBy: { clock: "07:00" },
      backAt: { clock: "08:42" },
      outfit: {
        aircraft: ["2 × Small multirotor (A1, A2)"],
        batteries: ["4 battery sets for Small multirotor"],
        chargers: ["C1 (2 bays, 18 kW)"],
        tender: "Tender 1 (2000 L water)",
      },
    });
    expect(sheet.caution).toMatch(/label.*applicator on site decide/);
  });

  it("tells the day row by row, with the water that is left", () => {
    expect(sheet.timeline.map((row) => [row.start.clock, row.words, row.details.join(", "), row.tenderL])).toEqual([
      ["07:00", "Drive to Long Acre, pad P1", "8.4 km", 2000],
      ["07:12", "Set up", "", 2000],
      [
        "07:22",
        "Stop 1: spray Long Acre part 1 of 2, order O-1",
        "12.0 ha, 5 loads of up to 40 L, 3 battery changes",
        // 12 ha at 15 L/ha.
        1820,
      ],
      ["08:22", "Pack up", "", 1820],
      ["08:30", "Return to Yard", "8.4 km", 1820],
    ]);
    const sunday = crewSheet(operation, plan, "K1", "2027-03-28")!;
    // 2000, less 40 L to clean out, less 180 L of mix, and 220 L taken in.
    expect(sunday.timeline.map((row) => row.tenderL)).toEqual([2000, 2000, 1960, 1780, 1780, 1780, 2000, 2000]);
    expect(sunday.timeline.at(-2)!.words).toBe("Refill at Hydrant");
  });

  it("mixes four full loads and a last one", () => {
    const { full, last, whole } = stop.mix;
    // 40 L cover 40/15 ha: 2.667 L of the first, 0.533 L of the second, the rest is water.
    expect(full).toMatchObject({ loads: 4, size: 40, unit: "L" });
    expect(full.parts.map(({ amount }) => amount)).toEqual([expect.closeTo(8 / 3, 12), expect.closeTo(8 / 15, 12)]);
    expect(full.carrierL).toBeCloseTo(36.8, 12);
    expect(last).toMatchObject({ loads: 1, size: 20, carrierL: expect.closeTo(18.4, 12) });
    expect(whole.parts.map(({ amount }) => amount)).toEqual([expect.closeTo(12, 12), expect.closeTo(2.4, 12)]);
    expect(sheet.totals.products.map(({ name, amount }) => [name, amount])).toEqual([
      ["Liquid Example", expect.closeTo(12, 12)],
      ["Second Liquid", expect.closeTo(2.4, 12)],
    ]);
    expect(sheet.totals).toMatchObject({ loads: 5, carrierL: expect.closeTo(165.6, 9), cleanOutL: 0 });
  });

  it("shares granules out without water", () => {
    const granules = crewSheet(operation, plan, "K2", "2027-03-28")!.stops[0]!.mix;
    expect(granules).toMatchObject({
      full: { loads: 1, size: 480, unit: "kg", carrierL: 0, parts: [{ amount: 480, unit: "kg" }] },
      last: null,
    });
  });

  it("stays in the forecast window around the stop and says what ends it", () => {
    // Wind of 8 km/h all day: the window begins where an inversion is no more likely, an hour after sunrise.
    expect(stop.window).not.toBeNull();
    expect(stop.window!.from.min).toBeLessThanOrEqual(stop.start.min);
    expect(stop.window!.to.min).toBeGreaterThanOrEqual(stop.end.min);
    expect(stop.window!.endsBecause.length).toBeGreaterThan(0);
    // Before sunrise and without night work there is none.
    expect(crewSheet(operation, plan, "K2", "2027-03-28")!.stops[0]!.window).toBeNull();
  });

  it("names the neighbours with distance and direction", () => {
    expect(stop.neighbours).toHaveLength(1);
    const [school] = stop.neighbours;
    expect(school).toMatchObject({
      name: "Hill School",
      direction: "east",
      buffers: [{ productName: "Liquid Example", distanceM: 50, downwindOnly: true, onlyFinerThan: null }],
    });
    // GeographicLib from the field's east edge at the school's latitude, less the school's 20 m.
    const place = operation.sensitive.features[0]!.geometry.coordinates as [number, number];
    const edgeLonDeg = (operation.fields.features[0]!.geometry.coordinates[0] as [number, number][])[1]![0];
    const { s12 } = geodesic.Geodesic.WGS84.Inverse(place[1], edgeLonDeg, place[1], place[0]);
    expect(Math.abs(school!.distanceM - (s12! - 20))).toBeLessThan(0.05);
  });

  it("says that the field is worked again", () => {
    expect(stop.workedAgain).toMatchObject({ date: "2027-03-28", clock: "06:07" });
    expect(crewSheet(operation, plan, "K1", "2027-03-28")!.stops[0]!.workedAgain).toBeNull();
  });

  it("is plain JSON", () => {
    expect(JSON.parse(JSON.stringify(sheet))).toEqual(sheet);
  });
});

/** The hand-made week moved so that O-1#1 ends at a local time, with the intervals of its products replaced. */
function sheetEnding(local: string, intervals: readonly { reiHours: number; phiDays: number }[]) {
  const settings = { ...operation.settings, timeZone: "America/Los_Angeles", firstDay: local.slice(0, 10) };
  const products = operation.products.map((product, index) => ({
    ...product,
    reiHours: intervals[index]?.reiHours ?? 0,
    uses: product.uses.map((use) => ({ ...use, phiDays: intervals[index]?.phiDays ?? 0 })),
  }));
  const moved: Operation = { ...operation, settings, products };
  const endMin = createCalendar(settings).minOfLocal(local);
  const [day] = plan.crewDays;
  const shift = endMin - day!.activities.find(({ kind }) => kind === "work")!.endMin;
  const activities = day!.activities.map((activity) => ({
    ...activity,
    startMin: activity.startMin + shift,
    endMin: activity.endMin + shift,
  }));
  const movedPlan = { ...plan, crewDays: [{ ...day!, date: settings.firstDay, activities }] };
  return crewSheet(moved, movedPlan, "K1", settings.firstDay)!.stops[0]!;
}

describe("re-entry and harvest", () => {
  it("counts PHI in whole days from the date of the application", () => {
    // Last application 8 June, PHI 7: harvest from 15 June (extension calendar example).
    expect(sheetEnding("2027-06-08T09:00", [{ reiHours: 0, phiDays: 7 }]).harvestFrom).toBe("2027-06-15");
  });

  it("counts a day of REI as 24 h from the end of the application", () => {
    // REI of 4 days, ends 3 June 14:30: until 7 June 14:30 (reckoned by 3 CCR 6772).
    const { reentryFrom } = sheetEnding("2027-06-03T14:30", [{ reiHours: 96, phiDays: 0 }]);
    expect([reentryFrom.date, reentryFrom.clock]).toEqual(["2027-06-07", "14:30"]);
  });

  it("takes the longest of several products", () => {
    const { reentryFrom, harvestFrom } = sheetEnding("2027-06-08T09:00", [
      { reiHours: 12, phiDays: 7 },
      { reiHours: 72, phiDays: 1 },
    ]);
    // abamectin 12 h and 7 d beside malathion's 72 h (UC IPM citrus 2017).
    expect([reentryFrom.date, reentryFrom.clock, harvestFrom]).toEqual(["2027-06-11", "09:00", "2027-06-15"]);
  });

  it("lets an REI that is longer than the PHI rule the harvest", () => {
    // Methomyl on citrus: REI 3 d, PHI 1 d (UC IPM citrus 2017). It ends at 09:00, so the next midnight is the 12th.
    expect(sheetEnding("2027-06-08T09:00", [{ reiHours: 72, phiDays: 1 }]).harvestFrom).toBe("2027-06-12");
  });

  it("dates work that ends at midnight by its last minute", () => {
    const { harvestFrom, reentryFrom } = sheetEnding("2027-06-08T00:00", [{ reiHours: 24, phiDays: 1 }]);
    expect(reentryFrom.iso).toBe("2027-06-09T00:00:00-07:00");
    // The last minute is on the 7th, PHI ends with the 8th, re-entry with the beginning of the 9th.
    expect(harvestFrom).toBe("2027-06-09");
  });
});

describe("mixOf", () => {
  const order = { ...operation.orders[0]!, products: [{ ...operation.orders[0]!.products[0]!, ratePerHa: 0.2 }] };
  const products = [operation.products[0]!];

  it("measures the product by tank and rates", () => {
    // 800 L, 200 mL/ha, 100 L/ha: 1.6 L a load (extension mixing example).
    const mix = mixOf({ order: { ...order, carrierLPerHa: 100 }, products, loads: 1, loadSize: 800, amount: 800 });
    expect(mix.full.parts[0]!.amount).toBeCloseTo(1.6, 12);
    expect(mix.last).toBeNull();
  });

  it("weighs a powder in kg and gives it its volume of the tank", () => {
    // 400 L at 100 L/ha is 4 ha; 0.5 kg/ha is 2 kg, which at 0.5 kg/L takes up 4 L.
    const powder = { ...products[0]!, rateUnit: "kg" as const, densityKgPerL: 0.5 };
    const of = { ...order, carrierLPerHa: 100, products: [{ ...order.products[0]!, ratePerHa: 0.5 }] };
    const { full } = mixOf({ order: of, products: [powder], loads: 1, loadSize: 400, amount: 400 });
    expect(full.parts[0]).toMatchObject({ amount: 2, unit: "kg" });
    expect(full.carrierL).toBeCloseTo(396, 9);
  });

  it("cannot be when the products alone are more than the spray", () => {
    const of = { ...order, carrierLPerHa: 0.1 };
    expect(() => mixOf({ order: of, products, loads: 1, loadSize: 40, amount: 40 })).toThrow(RangeError);
  });

  it("adds up to the whole, whatever the loads", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 60 }),
        fc.double({ min: 5, max: 400, noNaN: true }),
        fc.double({ min: 0.01, max: 1, noNaN: true }),
        (loads, loadSize, lastShare) => {
          const amount = (loads - 1 + lastShare) * loadSize;
          const { full, last, whole } = mixOf({ order, products, loads, loadSize, amount });
          expect(full.loads + (last?.loads ?? 0)).toBe(loads);
          expect(full.loads * full.size + (last?.size ?? 0)).toBeCloseTo(amount, 6);
          const lastAmount = last === null ? 0 : last.parts[0]!.amount;
          expect(full.loads * full.parts[0]!.amount + lastAmount).toBeCloseTo(whole.parts[0]!.amount, 6);
          expect(full.carrierL + full.parts[0]!.amount).toBeCloseTo(full.size, 6);
        },
      ),
    );
  });
});

describe("siteLimits", () => {
  const limitOf = (limits: readonly SiteLimit[], measure: string, bound: string) =>
    limits.find((limit) => limit.measure === measure && limit.bound === bound)?.value;

  it("takes the strictest of labels, aircraft and operation, and says whose it is", () => {
    expect(stop.siteLimits.limits.map(({ measure, bound, value, setBy }) => [measure, bound, value, setBy])).toEqual([
      ["wind", "least", 3, { kind: "label", productName: "Second Liquid" }],
      ["wind", "most", 12, { kind: "label", productName: "Second Liquid" }],
      ["gust", "most", 25, { kind: "operation" }],
      ["Delta T", "least", 2, { kind: "label", productName: "Liquid Example" }],
      ["Delta T", "most", 8, { kind: "label", productName: "Liquid Example" }],
    ]);
    // Labels F to C; the aircraft makes 110 to 400 µm, which reaches into F (from 106) and C (341 to 404).
    expect(stop.siteLimits.dropletClasses).toEqual(["F", "M", "C"]);
    expect(stop.siteLimits).toMatchObject({ rainfastHours: 2, inversion: "notWhenLikely" });
  });

  it("agrees with what the windows are made of", () => {
    const maybe = (min: number, max: number) => fc.option(fc.integer({ min, max }), { nil: undefined });
    const label = fc.record({
      windMinKph: fc.integer({ min: 0, max: 8 }),
      windMaxKph: fc.integer({ min: 10, max: 30 }),
      gustMaxKph: maybe(15, 40),
      deltaTMinC: maybe(0, 4),
      deltaTMaxC: maybe(6, 12),
      temperatureMinC: maybe(0, 10),
      temperatureMaxC: maybe(20, 35),
      humidityMinPct: maybe(10, 40),
      humidityMaxPct: maybe(60, 95),
    });
    fc.assert(
      fc.property(label, label, maybe(8, 30), (one, other, windMaxKph) => {
        const given = <Facts extends object>(facts: Facts) =>
          Object.fromEntries(Object.entries(facts).filter(([, value]) => value !== undefined));
        const products = operation.products.map((product, index) => ({
          ...product,
          ...given(index === 0 ? one : other),
        }));
        const limits = { ...operation.settings.limits, ...given({ windMaxKph }) };
        const changed = { ...operation, products };
        const order = operation.orders[0]!;
        const type = operation.fleet.aircraftTypes[0]!;
        const bounds = airBounds(createMix(changed, order, "wheat"), type, limits);
        const site = siteLimits({ order, products: products.slice(0, 2), types: [type], limits }).limits;
        expect(limitOf(site, "wind", "least") ?? 0).toBe(bounds.windMinKph.value);
        expect(limitOf(site, "wind", "most")).toBe(bounds.windMaxKph.value);
        expect(limitOf(site, "gust", "most")).toBe(bounds.gustMaxKph.value);
        expect(limitOf(site, "Delta T", "least")).toBe(bounds.deltaTMinC?.value);
        expect(limitOf(site, "Delta T", "most")).toBe(bounds.deltaTMaxC?.value);
        expect(limitOf(site, "temperature", "least")).toBe(bounds.temperatureMinC?.value);
        expect(limitOf(site, "temperature", "most")).toBe(bounds.temperatureMaxC?.value);
        expect(limitOf(site, "humidity", "least")).toBe(bounds.humidityMinPct?.value);
        expect(limitOf(site, "humidity", "most")).toBe(bounds.humidityMaxPct?.value);
      }),
    );
  });
});
