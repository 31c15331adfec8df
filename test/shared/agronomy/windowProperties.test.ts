import { describe, expect, test } from "vitest";
import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import type { Interval } from "../../../shared/agronomy/intervals.ts";
import type { MinuteLimit } from "../../../shared/agronomy/limits.ts";
import { addDays, type Calendar, createCalendar } from "../../../shared/model/calendar.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import type { Product } from "../../../shared/model/product.ts";
import { calendarOf } from "../../support/operation.ts";
import { seededRandom } from "../../support/seededRandom.ts";
import { driftOracle } from "./driftOracle.ts";
import { answersOf } from "./oneOrder.ts";
import { randomOperation } from "./randomOperation.ts";

const rounds = 40;

/** Random operations with less that stops whole days, so that there are windows to lose. */
function openOperations(seed: number): Operation[] {
  const random = seededRandom(seed);
  return Array.from({ length: rounds }, () => {
    const operation = randomOperation(random);
    const [feature] = operation.fields.features;
    const { harvestDate, ...properties } = feature!.properties;
    const isNearHarvest = random() < 0.2;
    return {
      ...operation,
      fields: {
        ...operation.fields,
        features: [{ ...feature!, properties: isNearHarvest ? feature!.properties : properties }],
      },
      products: operation.products.map((product) => ({
        ...product,
        buffers: random() < 0.5 ? product.buffers : [],
        bloomRule: random() < 0.2 ? product.bloomRule : "allowed",
        uses: product.uses.map((use) => ({ ...use, retreatmentDays: random() < 0.2 ? use.retreatmentDays : 0 })),
      })),
      orders: operation.orders.map((order) => ({ ...order, earliest: "2020-01-01T00:00", latest: "2040-01-01T00:00" })),
    };
  });
}

/** The windows of the one order by every kind of aircraft, by day and by night. */
function allWindows(operation: Operation): (readonly Interval[])[] {
  const agronomy = createAgronomy(operation, calendarOf(operation));
  return operation.fleet.aircraftTypes.flatMap((type) =>
    [false, true].map((night) => agronomy.windows(operation.orders[0]!, type, { night }).windows),
  );
}

function lieInside(inner: readonly Interval[], outer: readonly Interval[]): boolean {
  return inner.every(({ startMin, endMin }) =>
    outer.some((window) => window.startMin <= startMin && endMin <= window.endMin),
  );
}

function totalMin(lists: readonly (readonly Interval[])[]): number {
  return lists.flat().reduce((sum, { startMin, endMin }) => sum + endMin - startMin, 0);
}

/** Changes what the first product's label says. */
function withLabel(operation: Operation, change: (label: Product) => Partial<Product>): Operation {
  const [first, ...others] = operation.products;
  return { ...operation, products: [{ ...first!, ...change(first!) }, ...others] };
}

function withLimits(operation: Operation, change: Partial<Operation["settings"]["limits"]>): Operation {
  const { settings } = operation;
  return { ...operation, settings: { ...settings, limits: { ...settings.limits, ...change } } };
}

const limitsOf = (operation: Operation) => operation.settings.limits;

const stricter: readonly (readonly [string, (operation: Operation) => Operation])[] = [
  ["less wind", (o) => withLabel(o, ({ windMaxKph }) => ({ windMaxKph: windMaxKph - 3 }))],
  ["more least wind", (o) => withLabel(o, ({ windMinKph }) => ({ windMinKph: windMinKph + 2 }))],
  ["weaker gusts", (o) => withLabel(o, ({ gustMaxKph }) => ({ gustMaxKph: (gustMaxKph ?? 40) - 4 }))],
  ["a lower Delta T", (o) => withLabel(o, ({ deltaTMaxC }) => ({ deltaTMaxC: (deltaTMaxC ?? 14) - 1 }))],
  ["a higher least Delta T", (o) => withLabel(o, ({ deltaTMinC }) => ({ deltaTMinC: (deltaTMinC ?? 0) + 1 }))],
  ["cooler air", (o) => withLabel(o, ({ temperatureMaxC }) => ({ temperatureMaxC: (temperatureMaxC ?? 33) - 2 }))],
  ["warmer air", (o) => withLabel(o, ({ temperatureMinC }) => ({ temperatureMinC: (temperatureMinC ?? 4) + 6 }))],
  ["drier air", (o) => withLabel(o, ({ humidityMaxPct }) => ({ humidityMaxPct: (humidityMaxPct ?? 100) - 5 }))],
  ["moister air", (o) => withLabel(o, ({ humidityMinPct }) => ({ humidityMinPct: (humidityMinPct ?? 20) + 5 }))],
  ["a longer rainfast period", (o) => withLabel(o, ({ rainfastHours }) => ({ rainfastHours: rainfastHours + 1.5 }))],
  ["a longer re-entry interval", (o) => withLabel(o, ({ reiHours }) => ({ reiHours: reiHours + 7 }))],
  [
    "longer days to harvest and between applications",
    (o) =>
      withLabel(o, ({ uses }) => ({
        uses: uses.map((use) => ({ ...use, phiDays: use.phiDays + 2, retreatmentDays: use.retreatmentDays + 2 })),
      })),
  ],
  ["possible inversions, too", (o) => withLabel(o, () => ({ inversionRule: "notWhenPossible" }))],
  ["no bloom at all", (o) => withLabel(o, () => ({ bloomRule: "forbidden" }))],
  ["less rain that counts", (o) => withLimits(o, { rainMm: limitsOf(o).rainMm / 2, rainProbabilityPct: 30 })],
  [
    "less rain that makes wet",
    (o) => ({
      ...o,
      orders: o.orders.map((order) => ({ ...order, waitAfterRainMm: 0.1, waitAfterRainHours: 14 })),
    }),
  ],
  ["a wider angle of drift", (o) => withLimits(o, { driftAngleDeg: Math.min(180, limitsOf(o).driftAngleDeg + 30) })],
  [
    "a stronger wind before its direction is trusted",
    (o) => withLimits(o, { windVariableBelowKph: limitsOf(o).windVariableBelowKph + 4 }),
  ],
  ["a shorter flying day", (o) => shorterDay(o)],
  // What is not known may be rain, still air, or any wind.
  ["less weather that is known", (o) => ({ ...o, weather: o.weather.filter((_, index) => index % 9 !== 4) })],
  [
    "a forecast that begins later",
    (o) => ({ ...o, weather: o.weather.filter(({ start }) => start >= noonOfFirst(o)) }),
  ],
  ["the operation's own wind", (o) => withLimits(o, { windMaxKph: 9, gustMaxKph: 20 })],
];

/** Comparable as text with the starts of steps before the clocks change. */
function noonOfFirst({ settings }: Operation): string {
  return `${settings.firstDay}T12:00`;
}

function shorterDay(operation: Operation): Operation {
  const { flyingDay } = limitsOf(operation);
  const { fromOffsetMin, toOffsetMin } = flyingDay;
  return withLimits(operation, {
    flyingDay: { ...flyingDay, fromOffsetMin: fromOffsetMin + 25, toOffsetMin: toOffsetMin - 25 },
  });
}

describe("a stricter limit never adds a minute", () => {
  const bases = openOperations(31).map((operation) => ({ operation, before: allWindows(operation) }));

  test.each(stricter)("%s", (_, change) => {
    let lostMin = 0;
    bases.forEach(({ operation, before }, i) => {
      const after = allWindows(change(operation));
      after.forEach((windows, index) => {
        expect(lieInside(windows, before[index]!), `operation ${i}, ${index}`).toBe(true);
      });
      lostMin += totalMin(before) - totalMin(after);
    });
    expect(lostMin).toBeGreaterThan(0);
  });
});

/** One label spares the ground near to hives, the other keeps more than that free. */
function withNothingNear(operation: Operation): Operation {
  const kept = { kind: "apiary", distanceM: 300, downwindOnly: false, downwindRule: "stopsField" } as const;
  const spared = { kind: "apiary", distanceM: 250, downwindOnly: true, downwindRule: "sparesPart" } as const;
  return {
    ...operation,
    products: operation.products.map((product, at) => ({ ...product, buffers: [at === 0 ? spared : kept] })),
    orders: operation.orders.map((order) => ({ ...order, maySplit: true })),
  };
}

function withoutSparing(operation: Operation): Operation {
  return {
    ...operation,
    products: operation.products.map((product) => ({
      ...product,
      buffers: product.buffers.filter(({ downwindRule }) => downwindRule !== "sparesPart"),
    })),
  };
}

test("windows of a mix lie inside those of each of its products, over the ground that the mix leaves", () => {
  let fewer = 0;
  let nothingNear = 0;
  openOperations(32).forEach((drawn, i) => {
    const operation = i % 4 === 0 ? withNothingNear(drawn) : drawn;
    // One class of droplets, so that the mix does not do without a buffer for being coarser than one product alone.
    const of = (...productIds: readonly string[]): Operation => ({
      ...operation,
      orders: operation.orders.map((order) => ({
        ...order,
        dropletClass: "M",
        products: operation.products
          .filter(({ id }) => productIds.includes(id))
          .map(({ id }) => ({ productId: id, ratePerHa: 1 })),
      })),
    });
    const both = of("P1", "P2");
    const mixed = allWindows(both);
    // Where one label keeps free all that another spares, the mix does not wait for winds that the other alone would.
    const { isNearFieldOnly } = driftOracle(both, both.orders[0]!);
    if (isNearFieldOnly) nothingNear++;
    for (const productId of ["P1", "P2"]) {
      const alone = allWindows(isNearFieldOnly ? withoutSparing(of(productId)) : of(productId));
      mixed.forEach((windows, index) => {
        expect(lieInside(windows, alone[index]!), `operation ${i}, ${productId}`).toBe(true);
      });
      if (totalMin(mixed) < totalMin(alone)) fewer++;
    }
  });
  expect(fewer).toBeGreaterThan(rounds / 2);
  expect(nothingNear).toBeGreaterThan(3);
});

test("a week moved by seven days keeps every limit but those of the sun", () => {
  const ofSun: readonly MinuteLimit[] = ["daylight", "bloom", "inversion"];
  let open = 0;
  for (const drawn of openOperations(33)) {
    const operation: Operation = {
      ...drawn,
      settings: { ...drawn.settings, timeZone: "Etc/GMT-2" },
      products: drawn.products.map((product) => ({ ...product, bloomRule: "allowed", inversionRule: "ignore" })),
    };
    const later: Operation = JSON.parse(
      JSON.stringify(operation).replace(/\b\d{4}-\d\d-\d\d(?=[T"])/g, (date) => addDays(date, 7)),
    );
    expect(later.settings.firstDay).toBe(addDays(operation.settings.firstDay, 7));
    const [before, after] = [operation, later].map((one) => createAgronomy(one, calendarOf(one)));
    operation.fleet.aircraftTypes.forEach((type) => {
      const was = before!.windows(operation.orders[0]!, type, { night: true });
      const is = after!.windows(later.orders[0]!, type, { night: true });
      const withoutSun = ({ lostMin }: typeof was) =>
        Object.fromEntries(Object.entries(lostMin).filter(([limit]) => !ofSun.includes(limit as MinuteLimit)));
      expect(withoutSun(is)).toEqual(withoutSun(was));
      if (!type.nightCapable) return;
      expect(is.windows).toEqual(was.windows);
      open += was.windows.length;
    });
  }
  expect(open).toBeGreaterThan(100);
});

describe("weeks in which the clocks change", () => {
  // Clocks of Berlin go forward on 28 March 2027 and back on 31 October, those of Adelaide back on 4 April and forward on
  // 3 October (IANA time zone database).
  test.each([
    ["Europe/Berlin", "2027-03-27", -60],
    ["Europe/Berlin", "2027-10-30", 60],
    ["Australia/Adelaide", "2027-04-03", 60],
    ["Australia/Adelaide", "2027-10-02", -60],
  ])(
    "%s from %s: the forecast holds for the minutes that pass, whatever the clocks show",
    (timeZone, firstDay, byMin) => {
      const airOfHour = (hour: number) => ({
        rainMm: [20, 30, 44].includes(hour) ? 2 : 0,
        windKph: hour % 7 === 0 ? 25 : 8,
        cloudPct: hour % 3 === 0 ? 100 : 10,
        humidityPct: hour % 11 === 0 ? 99 : 60,
      });
      const situation = {
        firstDay,
        days: 3,
        labels: [{ windMaxKph: 15, rainfastHours: 2, humidityMaxPct: 95, inversionRule: "notWhenPossible" } as const],
        order: { waitAfterRainMm: 2, waitAfterRainHours: 5 },
        airOfHour,
      };
      const local = answersOf({ ...situation, timeZone });
      expect(local.calendar.horizonMin).toBe(3 * 1440 + byMin);
      // The same instants told in a zone whose clocks never change: the day before to the day after.
      const inUtc: Operation = {
        ...local.operation,
        settings: { ...local.operation.settings, timeZone: "UTC", firstDay: addDays(firstDay, -1), days: 5 },
      };
      const calendar = createCalendar(inUtc.settings);
      const told = createAgronomy(inUtc, calendar).windows(inUtc.orders[0]!, local.helicopter, { night: true }).windows;
      const here = local.agronomy.windows(local.order, local.helicopter, { night: true }).windows;
      const inMs = (list: readonly Interval[], of: Calendar) =>
        list.map(({ startMin, endMin }) => [of.epochMsOfMin(startMin), of.epochMsOfMin(endMin)] as const);
      const [fromMs, toMs] = [0, local.calendar.horizonMin].map((min) => local.calendar.epochMsOfMin(min));
      const within = inMs(told, calendar)
        .map(([start, end]) => [Math.max(start, fromMs!), Math.min(end, toMs!)] as const)
        .filter(([start, end]) => start < end);
      expect(here.length).toBeGreaterThan(3);
      expect(inMs(here, local.calendar)).toEqual(within);
    },
  );
});
