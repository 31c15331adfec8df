import { describe, expect, it } from "vitest";
import { addDays, daysBetween } from "../../../shared/model/calendar.ts";
import { operationSchema } from "../../../shared/model/operation.ts";
import { validateOperation } from "../../../shared/model/validate.ts";
import { moveOperation } from "../../../shared/season/moveOperation.ts";
import { hourlyWeather, rectangleField, smallOperation } from "../../support/operation.ts";

const settings = { timeZone: "Europe/Madrid", firstDay: "2027-03-08", days: 7, forecastIssued: "2027-03-07T18:00" };
const fieldOf = (properties: Parameters<typeof rectangleField>[2]) =>
  rectangleField("F1", { eastM: 3000, northM: 1000, widthM: 600, heightM: 400 }, properties);
const small = smallOperation({});

const order = (id: string, times: { earliest: string; latest: string; preferredDate?: string }) => ({
  id,
  fieldId: "F1",
  products: [{ productId: "LIQ", ratePerHa: 1 }],
  carrierLPerHa: 15,
  priceCentsPerHa: 2500,
  ...times,
});

/** Sunday is 14 March; a fortnight later the clocks of Madrid skip 02:00 to 03:00 on it. */
const operation = smallOperation({
  settings,
  fields: {
    type: "FeatureCollection",
    features: [
      fieldOf({
        harvestDate: "2027-04-20",
        hazardsSurveyed: "2027-02-12",
        bloom: { from: "2027-03-10", to: "2027-03-12" },
        closures: [
          { from: "2027-03-14T01:30", to: "2027-03-14T02:30", reason: "irrigation" },
          { from: "2027-03-14T02:10", to: "2027-03-14T02:50", reason: "within the hour" },
          { from: "2027-03-09T06:00", to: "2027-03-09T18:00", reason: "workers" },
        ],
        entries: [{ from: "2027-03-14T02:30", to: "2027-03-14T09:00", who: "scout" }],
        pastApplications: [{ productId: "LIQ", endedAt: "2027-02-01T09:30", ratePerHa: 1 }],
      }),
    ],
  },
  orders: [
    order("O-1", { earliest: "2027-03-08T00:00", latest: "2027-03-15T00:00", preferredDate: "2027-03-14" }),
    order("O-2", { earliest: "2027-03-14T02:30", latest: "2027-03-14T12:00" }),
  ],
  fleet: {
    ...small.fleet,
    aircraft: small.fleet.aircraft.map((aircraft) => ({
      ...aircraft,
      outOfService: [{ from: "2027-03-10", to: "2027-03-11" }],
    })),
    crews: small.fleet.crews.map((crew) => ({
      ...crew,
      shifts: [
        { date: "2027-03-13", from: "20:00", to: "02:30" },
        { date: "2027-03-14", from: "02:15", to: "10:00" },
      ],
    })),
  },
  weather: hourlyWeather(settings, { stationId: "S", latDeg: 51, lonDeg: 11 }, () => ({})),
});

describe("an operation that is moved", () => {
  it("is sound to begin with", () => {
    expect(validateOperation(operation)).toMatchObject({ ok: true });
  });

  it("has all its dates so many days later, and every time of day as it was", () => {
    const moved = moveOperation(operation, 91);
    const { properties } = moved.fields.features[0]!;
    expect(moved.settings).toMatchObject({ firstDay: "2027-06-07", forecastIssued: "2027-06-06T18:00" });
    expect(properties).toMatchObject({
      harvestDate: "2027-07-20",
      hazardsSurveyed: "2027-05-14",
      bloom: { from: "2027-06-09", to: "2027-06-11" },
      closures: [
        { from: "2027-06-13T01:30", to: "2027-06-13T02:30" },
        { from: "2027-06-13T02:10", to: "2027-06-13T02:50" },
        { from: "2027-06-08T06:00", to: "2027-06-08T18:00" },
      ],
      entries: [{ from: "2027-06-13T02:30", to: "2027-06-13T09:00" }],
      pastApplications: [{ endedAt: "2027-05-03T09:30" }],
    });
    expect(moved.orders).toMatchObject([
      { earliest: "2027-06-07T00:00", latest: "2027-06-14T00:00", preferredDate: "2027-06-13" },
      { earliest: "2027-06-13T02:30", latest: "2027-06-13T12:00" },
    ]);
    expect(moved.fleet.aircraft[0]!.outOfService).toEqual([{ from: "2027-06-09", to: "2027-06-10" }]);
    expect(moved.fleet.crews[0]!.shifts).toEqual([
      { date: "2027-06-12", from: "20:00", to: "02:30" },
      { date: "2027-06-13", from: "02:15", to: "10:00" },
    ]);
  });

  it("leaves no date behind: what is moved forth and back is as it was", () => {
    expect(moveOperation(moveOperation(operation, 91), -91)).toEqual({ ...operation, locks: [] });
    // Every text of the moved operation that looks like a date is another one, in the same order.
    const dates = (value: unknown) => JSON.stringify(value).match(/20\d\d-\d\d-\d\d/g)!;
    const { weather: _, ...rest } = operation;
    const { weather: __, ...restMoved } = moveOperation(operation, 91);
    expect(dates(restMoved)).toEqual(dates(rest).map((date) => addDays(date, 91)));
  });

  it("over the change to summer time: what falls into the skipped hour begins when it is over", () => {
    const moved = moveOperation(operation, 14);
    const { properties } = moved.fields.features[0]!;
    expect(daysBetween(operation.settings.firstDay, moved.settings.firstDay)).toBe(14);
    expect(properties.closures.map(({ from, to }) => [from, to])).toEqual([
      ["2027-03-28T01:30", "2027-03-28T03:00"],
      ["2027-03-23T06:00", "2027-03-23T18:00"],
    ]);
    expect(properties.entries).toMatchObject([{ from: "2027-03-28T03:00", to: "2027-03-28T09:00" }]);
    expect(moved.orders[1]).toMatchObject({ earliest: "2027-03-28T03:00", latest: "2027-03-28T12:00" });
    expect(moved.fleet.crews[0]!.shifts).toEqual([
      { date: "2027-03-27", from: "20:00", to: "03:00" },
      { date: "2027-03-28", from: "03:00", to: "10:00" },
    ]);
    const weather = hourlyWeather(moved.settings, { stationId: "S", latDeg: 51, lonDeg: 11 }, () => ({}));
    expect(validateOperation({ ...moved, weather })).toMatchObject({ ok: true });
  });

  it("over the change to winter time every time of day is shown and stays", () => {
    // Sunday 31 October 2027 has 25 hours in Madrid; 33 weeks after 14 March.
    const moved = moveOperation(operation, 231);
    expect(moved.settings.firstDay).toBe("2027-10-25");
    expect(moved.fields.features[0]!.properties.closures.map(({ from, to }) => [from, to])).toEqual([
      ["2027-10-31T01:30", "2027-10-31T02:30"],
      ["2027-10-31T02:10", "2027-10-31T02:50"],
      ["2027-10-26T06:00", "2027-10-26T18:00"],
    ]);
    const weather = hourlyWeather(moved.settings, { stationId: "S", latDeg: 51, lonDeg: 11 }, () => ({}));
    expect(validateOperation({ ...moved, weather })).toMatchObject({ ok: true });
  });

  it("drops what lasts no minute any more, and what other orders said of it", () => {
    const within = operationSchema.parse({
      ...operation,
      orders: [
        { ...operation.orders[0], apartFrom: [{ orderId: "O-3", hours: 24 }] },
        order("O-3", { earliest: "2027-03-14T02:05", latest: "2027-03-14T02:55" }),
      ],
    });
    expect(moveOperation(within, 7).orders).toHaveLength(2);
    expect(moveOperation(within, 14).orders).toMatchObject([{ id: "O-1", apartFrom: [] }]);
  });

  it("forgets its locks", () => {
    const locked = operationSchema.parse({
      ...operation,
      locks: [{ crewId: operation.fleet.crews[0]!.id, date: "2027-03-13" }],
    });
    expect(moveOperation(locked, 7).locks).toEqual([]);
  });
});
