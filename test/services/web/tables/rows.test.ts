import { describe, expect, it } from "vitest";
import { outOfService } from "../../../../services/web/app/fleet/outOfService.ts";
import { orderRows, outlineHa, priorityRank } from "../../../../services/web/app/orders/orderRows.ts";
import { calmSpans, stationHours, stationsOf, windLimits } from "../../../../services/web/app/weather/stationHours.ts";
import { richOperation } from "../../../support/richOperation.ts";

describe("orders in rows", () => {
  it("carry what they are looked for by, and what became of them in the plan", () => {
    const operation = richOperation();
    const [first, second] = operation.orders;
    const work = [{ crewName: "West large", start: { iso: "2027-06-14T09:00:00+02:00" } }];
    const week = { orders: [{ id: first!.id, status: "partly", work }] } as unknown as Parameters<typeof orderRows>[1];
    const rows = orderRows(operation, week);
    const field = operation.fields.features.find(({ properties }) => properties.id === first!.fieldId)!;
    const product = operation.products.find(({ id }) => id === first!.products[0]!.productId)!;
    expect(rows[0]).toMatchObject({
      id: first!.id,
      fieldName: field.properties.name,
      grower: field.properties.grower,
      status: "partly",
      work,
    });
    expect(rows.find(({ id }) => id === second!.id)!.work).toEqual([]);
    for (const words of [field.properties.crop, product.name, product.active]) expect(rows[0]!.text).toContain(words);
    expect(rows.find(({ id }) => id === second!.id)!.status).toBe("notInPlan");
    expect(new Set(orderRows(operation, null).map(({ status }) => status))).toEqual(new Set(["noPlan"]));
    const ranks = (["mandatory", "high", "normal", "low"] as const).map((priority) => priorityRank({ priority }));
    expect(ranks).toEqual([...ranks].sort());
  });

  it("have the area of their outline", () => {
    // On the equator a thousandth of a degree is 111.3 m east and 110.6 m north (WGS 84): 1.231 ha; a hole of a quarter of the sides takes a sixteenth.
    const square = (from: number, to: number): [number, number][] => [
      [from, from],
      [to, from],
      [to, to],
      [from, to],
      [from, from],
    ];
    const outer = square(0, 0.001);
    expect(outlineHa({ type: "Polygon", coordinates: [outer] })).toBeCloseTo(1.2309, 3);
    const hole = square(0.0004, 0.00065).reverse();
    expect(outlineHa({ type: "Polygon", coordinates: [outer, hole] })).toBeCloseTo((1.2309 * 15) / 16, 3);
  });
});

describe("hours of a station", () => {
  const operation = richOperation();
  const [step] = operation.weather;
  const at = (start: string, windKph: number, more: object = {}) => ({
    ...step!,
    start,
    stepMin: 60,
    windKph,
    ...more,
  });

  it("stand on the operation's clock, in order, with their Delta T", () => {
    const warm = { temperatureC: 25, humidityPct: 50 };
    const weather = [at("2027-06-14T04:00:00Z", 5, warm), at("2027-06-14T01:00:00Z", 5, warm)];
    const zoned = {
      ...operation,
      weather,
      settings: { ...operation.settings, timeZone: "Europe/Madrid", altitudeM: 0 },
    };
    const hours = stationHours(zoned, step!.stationId);
    expect(hours.map(({ clock, date }) => `${date} ${clock}`)).toEqual(["2027-06-14 03:00", "2027-06-14 06:00"]);
    // Wet bulb at 25 °C, 50 % and sea level: 17.9 °C (psychrometric tables, ASHRAE Handbook Fundamentals 2017, chapter 1).
    expect(hours[0]!.deltaTC).toBeCloseTo(25 - 17.9, 1);
    expect(stationsOf(operation)).toEqual([...new Set(operation.weather.map(({ stationId }) => stationId))]);
  });

  it("are calm within the limits and without rain, joined where they follow each other", () => {
    const weather = [
      at("2027-06-14T00:00:00Z", 5, { gustKph: 8, rainMm: 0 }),
      at("2027-06-14T01:00:00Z", 15, { gustKph: 20, rainMm: 0 }),
      at("2027-06-14T02:00:00Z", 16, { gustKph: 20, rainMm: 0 }),
      at("2027-06-14T03:00:00Z", 5, { gustKph: 21, rainMm: 0 }),
      at("2027-06-14T04:00:00Z", 5, { gustKph: 8, rainMm: 0.2 }),
      at("2027-06-14T05:00:00Z", 2, { gustKph: 8, rainMm: 0 }),
      at("2027-06-14T06:00:00Z", 3, { gustKph: 8, rainMm: 0 }),
    ];
    const hours = stationHours({ ...operation, weather }, step!.stationId);
    const from = hours[0]!.startS;
    const spans = calmSpans(hours, { windMaxKph: 15, windMinKph: 3, gustMaxKph: 20 });
    expect(spans.map(({ fromS, toS }) => [(fromS - from) / 3600, (toS - from) / 3600])).toEqual([
      [0, 2],
      [6, 7],
    ]);
    expect(calmSpans(hours, { windMaxKph: null, windMinKph: null, gustMaxKph: null })).toHaveLength(2);
  });

  it("are held against the operation's limits and the strictest label of what is ordered", () => {
    const [used, other] = operation.products;
    const orders = [{ ...operation.orders[0]!, products: [{ productId: used!.id, ratePerHa: 1 }] }];
    const products = [
      { ...used!, windMaxKph: 18, windMinKph: 3, gustMaxKph: 30 },
      { ...other!, windMaxKph: 5, windMinKph: 4, gustMaxKph: 6 },
    ];
    const limitsOf = (windMaxKph?: number) =>
      windLimits({
        ...operation,
        orders,
        products,
        settings: {
          ...operation.settings,
          limits: { ...operation.settings.limits, windMaxKph, gustMaxKph: undefined },
        },
      } as typeof operation);
    expect(limitsOf()).toEqual({ windMaxKph: 18, windMinKph: 3, gustMaxKph: 30 });
    expect(limitsOf(12).windMaxKph).toBe(12);
  });
});

describe("aircraft out of service", () => {
  it("are told where it touches a day of the plan", () => {
    const operation = richOperation();
    const { days, firstDay } = operation.settings;
    const last = new Date(Date.parse(`${firstDay}T00:00:00Z`) + (days - 1) * 86_400_000).toISOString().slice(0, 10);
    const spans = [
      { from: "2000-01-01", to: "2000-01-02" },
      { from: last, to: "2099-01-01" },
      { from: "2000-01-01", to: firstDay },
      { from: "2099-01-01", to: "2099-01-02" },
    ];
    const [one, ...others] = operation.fleet.aircraft;
    const aircraft = [{ ...one!, outOfService: spans }, ...others.map((other) => ({ ...other, outOfService: [] }))];
    expect(outOfService({ ...operation, fleet: { ...operation.fleet, aircraft } })).toEqual([
      { aircraftId: one!.id, from: "2000-01-01", to: firstDay },
      { aircraftId: one!.id, from: last, to: "2099-01-01" },
    ]);
  });
});
