import { describe, expect, it } from "vitest";
import { addDays, createCalendar, daysBetween } from "../../../shared/model/calendar.ts";
import { operationSchema } from "../../../shared/model/operation.ts";
import { validateOperation } from "../../../shared/model/validate.ts";
import type { WeatherStep } from "../../../shared/model/weather.ts";
import { type SampledWeek, sampleWeek } from "../../../shared/season/sampleWeek.ts";
import { type Season, seasonFaults } from "../../../shared/season/season.ts";
import { seasonWeeks, weekOfSample } from "../../../shared/season/seasonWeeks.ts";
import { demoWithSeason } from "../../support/demoSeason.ts";
import { planned } from "../../support/planned.ts";
import { seededRandom } from "../../support/seededRandom.ts";

const { operation, season } = await demoWithSeason();
const weeks = seasonWeeks(season.document, operation);
const sample = (index: number, from = operation) => sampleWeek(from, season, index, seededRandom(index));

const faultsOf = ({ operation: week, about }: SampledWeek) => {
  const validation = validateOperation(week);
  return validation.ok ? [] : [{ firstDay: about.firstDay, faults: validation.faults.slice(0, 3) }];
};

it("sampled weeks are operations without a fault", () => {
  expect([0, 5, 9, 14, 18, 23].flatMap((index) => faultsOf(sample(index)))).toEqual([]);
  // 200 of a smaller one, since ground and hourly steps take most of the time: those on whose dates the season presses, and steps of three hours.
  const orders = operation.orders.filter(({ id }) => id >= "O-109");
  const fieldIds = new Set(orders.map(({ fieldId }) => fieldId));
  const smaller = operationSchema.parse({
    ...operation,
    orders: orders.map((order) => ({ ...order, apartFrom: [] })),
    fields: {
      ...operation.fields,
      features: operation.fields.features.filter(({ properties }) => fieldIds.has(properties.id)),
    },
    sensitive: { type: "FeatureCollection", features: [] },
  });
  const days = season.history.days.map(({ date, steps }) => ({
    date,
    steps: steps
      .filter(({ fromClockMin }) => fromClockMin % 180 === 0)
      .map(({ fromClockMin, step }) => ({
        fromClockMin,
        toClockMin: fromClockMin + 180,
        step: { ...step, stepMin: 180 },
      })),
  }));
  const few: Season = {
    document: { ...season.document, demand: [{ from: "2027-04-01", to: "2027-09-30", ordersPerWeek: 6 }] },
    history: { ...season.history, days },
  };
  expect(seasonFaults(few, smaller)).toEqual([]);
  for (let index = 0; index < 200; index++) {
    expect(faultsOf(sampleWeek(smaller, few, index, seededRandom(index)))).toEqual([]);
  }
}, 120_000);

describe("200 sampled weeks of the demo", () => {
  const sampled = Array.from({ length: 200 }, (_, index) => sample(index));

  it("take every week of the season as often as any other, give or take one", () => {
    const times = weeks.map((_, week) => sampled.filter(({ about }) => about.week === week).length);
    expect(weeks).toHaveLength(25);
    expect(Math.min(...times)).toBe(8);
    expect(Math.max(...times)).toBe(8);
    for (const { operation: week, about } of sampled) {
      expect(week.settings.firstDay).toBe(weeks[about.week]!.firstDay);
      // Mondays, as the demo's own first day.
      expect(Math.abs(daysBetween(operation.settings.firstDay, week.settings.firstDay)) % 7).toBe(0);
    }
  });

  it("have days of weather that equal a day of the history field by field, all stations on the same", () => {
    const byDate = new Map(season.history.days.map((day) => [day.date, day]));
    for (const { operation: week, about } of sampled.slice(0, 60)) {
      const dateOf = ({ start }: WeatherStep) => start.slice(0, "2027-06-07".length);
      expect([...new Set(week.weather.map(dateOf))]).toEqual(about.weather.map(({ date }) => date));
      for (const { date, historyDate } of about.weather) {
        const measured = byDate.get(historyDate)!.steps;
        const steps = week.weather.filter((step) => dateOf(step) === date);
        expect(new Set(steps.map(({ stationId }) => stationId)).size).toBe(2);
        expect(steps.map(({ start, ...rest }) => ({ ...rest, hour: Number(start.slice(11, 13)) }))).toEqual(
          measured.map(({ fromClockMin, step: { start: _, ...rest } }) => ({ ...rest, hour: fromClockMin / 60 })),
        );
      }
    }
  });

  it("take weather from within 15 calendar days, and say where runs begin", () => {
    for (const { about } of sampled) {
      for (const [at, { date, historyDate, beginsRun }] of about.weather.entries()) {
        const sameYear = `${date.slice(0, 4)}${historyDate.slice(4)}`;
        expect(Math.abs(daysBetween(date, sameYear))).toBeLessThanOrEqual(15);
        const before = about.weather[at - 1];
        if (before !== undefined && !beginsRun) expect(historyDate).toBe(addDays(before.historyDate, 1));
      }
    }
  });

  it("have as many orders as the season says, month by month", () => {
    for (const { from, to, ordersPerWeek } of season.document.demand) {
      // Weeks that lie in the month whole.
      const counts = sampled
        .filter(({ about }) => from <= about.firstDay && addDays(about.firstDay, 6) <= to)
        .map(({ about }) => about.orders);
      expect(counts.length).toBeGreaterThanOrEqual(24);
      const mean = counts.reduce((sum, count) => sum + count, 0) / counts.length;
      expect(Math.abs(mean - ordersPerWeek!), from).toBeLessThan(4 * Math.sqrt(ordersPerWeek! / counts.length));
    }
    const over = sampled.filter(({ about }) => about.firstDay === "2027-04-26")[0]!;
    // Five days of April, two of May.
    expect(over.about.expectedOrders).toBeCloseTo((5 * 30 + 2 * 55) / 7, 9);
  });

  it("have a forecast from the day before the week to the day after it, as the limits look at them", () => {
    const { orders, products } = operation;
    const lookBackDays = Math.ceil(Math.max(...orders.map(({ waitAfterRainHours = 0 }) => waitAfterRainHours)) / 24);
    const rainfastDays = Math.ceil(Math.max(...products.map(({ rainfastHours }) => rainfastHours)) / 24);
    for (const { operation: week, about } of sampled.slice(0, 25)) {
      expect(daysBetween(about.weather[0]!.date, about.firstDay)).toBe(1 + lookBackDays);
      const last = about.weather[about.weather.length - 1]!.date;
      expect(daysBetween(addDays(about.firstDay, 6), last)).toBe(1 + rainfastDays);
      const calendar = createCalendar(week.settings);
      const minutes = week.weather.map(({ start, stepMin }) => ({ at: calendar.minOfInstant(start), stepMin }));
      const covered = minutes.filter(({ at }) => 0 <= at && at < calendar.horizonMin);
      expect(covered.reduce((sum, { stepMin }) => sum + stepMin, 0)).toBe(2 * calendar.horizonMin);
    }
  });

  it("keep what an order is: its field, mix, price and days of the week", () => {
    const templates = new Map(operation.orders.map((order) => [order.id, order]));
    for (const { operation: week, about } of sampled.slice(0, 25)) {
      const days = daysBetween(operation.settings.firstDay, about.firstDay);
      for (const { apartFrom: _, ...order } of week.orders) {
        const { apartFrom: __, ...template } = templates.get(order.id)!;
        const later = (local: string) => addDays(local.slice(0, 10), days) + local.slice(10);
        expect(order).toEqual({
          ...template,
          earliest: later(template.earliest),
          latest: later(template.latest),
          ...(template.preferredDate !== undefined && { preferredDate: later(template.preferredDate) }),
        });
      }
    }
  });
});

describe("a sampled week", () => {
  it("is the same of the same seed, and another of another", () => {
    expect(sample(3)).toEqual(sample(3));
    const other = sampleWeek(operation, season, 3, seededRandom(99));
    expect(other.about.firstDay).toBe(sample(3).about.firstDay);
    expect(other.about).not.toEqual(sample(3).about);
  });

  it("meets the same weather and orders whatever the fleet, limits and intervals are", () => {
    const other = operationSchema.parse({
      ...operation,
      settings: { ...operation.settings, limits: { ...operation.settings.limits, windMaxKph: 9 } },
      products: operation.products.map((product) => ({ ...product, rainfastHours: 30 })),
      fleet: { ...operation.fleet, aircraft: operation.fleet.aircraft.slice(0, 2) },
    });
    for (let index = 0; index < 8; index++) {
      const [mine, theirs] = [sample(index), sample(index, other)];
      const weekOf = ({ about }: SampledWeek) =>
        about.weather.filter(({ date }) => about.firstDay <= date && date < addDays(about.firstDay, 7));
      expect(weekOf(theirs)).toEqual(weekOf(mine));
      expect(theirs.operation.orders).toEqual(mine.operation.orders);
    }
  });

  it("can be planned, and the checker finds nothing", () => {
    const { operation: week } = sample(7);
    expect(planned(week, 0).crewDays.length).toBeGreaterThan(0);
  });

  it("may be one in which the clocks change", () => {
    // Madrid, 2027: Sunday 28 March has 23 hours. The history begins on 31 March.
    const spring = {
      ...season,
      document: {
        ...season.document,
        demand: [{ from: "2027-03-22", to: "2027-03-28", ordersPerWeek: 30 }],
        weather: { meanRunDays: 3, windowDays: 40 },
      },
    };
    expect(seasonFaults(spring, operation)).toEqual([]);
    const { operation: week, about } = sampleWeek(operation, spring, 0, seededRandom(1));
    expect(about.firstDay).toBe("2027-03-22");
    expect(createCalendar(week.settings).horizonMin).toBe(7 * 1440 - 60);
    expect(week.weather.filter(({ start }) => start.startsWith("2027-03-28"))).toHaveLength(2 * 23);
    expect(validateOperation(week)).toMatchObject({ ok: true });
  });

  it("may lie at the edge of the history, as long as all that it needs is there", () => {
    const seasonOf = (from: string, to: string) => ({
      ...season,
      document: {
        ...season.document,
        demand: [{ from, to, ordersPerWeek: 30 }],
        weather: { meanRunDays: 3, windowDays: 3 },
      },
    });
    // The history begins on 31 March.
    const early = seasonOf("2027-04-05", "2027-04-11");
    expect(seasonFaults(early, operation)).toEqual([]);
    expect(faultsOf(sampleWeek(operation, early, 0, seededRandom(1)))).toEqual([]);
    const tooEarly = seasonOf("2027-03-22", "2027-03-28");
    expect(seasonFaults(tooEarly, operation)).toHaveLength(1);
    expect(() => sampleWeek(operation, tooEarly, 0, seededRandom(1))).toThrow("the history is too short");
  });

  it("of a demand in hectares has so many, on average, by the areas of its fields", () => {
    const perHa = {
      ...season,
      document: { ...season.document, demand: [{ from: "2027-05-03", to: "2027-06-27", areaHaPerWeek: 1000 }] },
    };
    const orderHa = 1000 / sampleWeek(operation, perHa, 0, seededRandom(0)).about.expectedOrders;
    // The demo's fields have 2 to 70 ha.
    expect(orderHa).toBeGreaterThan(10);
    expect(orderHa).toBeLessThan(40);
  });
});

describe("the order in which weeks are sampled", () => {
  it.each([1, 2, 5, 25, 26, 52])("takes each of %d weeks once before any again", (count) => {
    for (const round of [0, 3]) {
      const taken = Array.from({ length: count }, (_, at) => weekOfSample(round * count + at, count));
      expect([...taken].sort((a, b) => a - b)).toEqual(Array.from({ length: count }, (_, at) => at));
    }
  });

  it("spreads few samples over all of the season", () => {
    for (const samples of [4, 8, 13]) {
      const quarters = Array.from({ length: samples }, (_, index) => Math.floor((4 * weekOfSample(index, 52)) / 52));
      const times = [0, 1, 2, 3].map((quarter) => quarters.filter((other) => other === quarter).length);
      // Three gaps theorem (Knuth, The Art of Computer Programming 3, 6.4, theorem S): no gap is far longer than another.
      expect(Math.min(...times)).toBeGreaterThanOrEqual(Math.floor(samples / 4) - 1 || 1);
      expect(Math.max(...times)).toBeLessThanOrEqual(Math.ceil(samples / 4) + 1);
    }
  });
});
