import { mkdtemp, readdir, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, describe, expect, test } from "vitest";
import { conflictCases } from "../../../services/scenario/generate/demo/conflictCases.ts";
import { demoOperation } from "../../../services/scenario/generate/demo/demoOperation.ts";
import { pressedCases } from "../../../services/scenario/generate/demo/pressedCases.ts";
import { smallOperation } from "../../../services/scenario/generate/small.ts";
import { readScenario } from "../../../services/scenario/read.ts";
import { writeScenario } from "../../../services/scenario/write.ts";
import { planOperation } from "../../../services/solver/planOperation.ts";
import { createRandom } from "../../../services/solver/random.ts";
import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import { type LimitName, minuteLimits, typeLimits } from "../../../shared/agronomy/limits.ts";
import { createCalendar } from "../../../shared/model/calendar.ts";
import { conflictKinds } from "../../../shared/plan/plan.ts";
import { geometryReport } from "./geometryReport.ts";
import { expectWholeWeather } from "./wholeWeather.ts";

const folder = (name: string) => fileURLToPath(new URL(`../../../scenarios/${name}`, import.meta.url));
const demo = demoOperation();
const temporary = await mkdtemp(join(tmpdir(), "scenario-"));
afterAll(() => rm(temporary, { recursive: true }));

test.each([
  ["demo", demo],
  ["small", smallOperation()],
])("the folder %s holds what the script writes, and reads back", async (name, operation) => {
  const fresh = join(temporary, name);
  expect(await writeScenario(fresh, operation)).toEqual({ ok: true });
  const written = (await readdir(fresh)).sort();
  expect((await readdir(folder(name))).sort()).toEqual(written);
  for (const file of written) {
    expect(await readFile(join(folder(name), file), "utf8"), file).toBe(await readFile(join(fresh, file), "utf8"));
  }
  const outcome = await readScenario(folder(name));
  expect(outcome.ok ? outcome.operation : outcome.faults).toEqual(operation);
});

describe("the demo is as hard as a real week", () => {
  const { fields, orders, products, fleet, settings } = demo;

  test("in numbers", () => {
    expect(fields.features.length).toBeGreaterThanOrEqual(64);
    expect(orders.length).toBeGreaterThanOrEqual(85);
    expect(products.length).toBeGreaterThanOrEqual(13);
    expect(products.filter(({ method }) => method === "granular").length).toBeGreaterThanOrEqual(3);
    expect(fleet.aircraftTypes.filter(({ kind }) => kind === "multirotor")).toHaveLength(3);
    expect(fleet.aircraftTypes.filter(({ kind }) => kind === "helicopter")).toHaveLength(1);
    expect(fleet.crews).toHaveLength(5);
    expect(fleet.tenders).toHaveLength(4);
    expect(settings.bases).toHaveLength(2);
    const holes = fields.features.filter(({ geometry }) =>
      geometry.type === "Polygon" ? geometry.coordinates.length > 1 : geometry.coordinates.some((rings) => rings[1]),
    );
    expect(holes.length).toBeGreaterThanOrEqual(5);
    expect(fields.features.filter(({ properties }) => properties.pads.length > 1).length).toBeGreaterThanOrEqual(8);
    expect(fields.features.filter(({ geometry }) => geometry.type === "MultiPolygon").length).toBeGreaterThanOrEqual(2);
  });

  test("with waits between orders, a buffer by droplets that holds for some, and a mast at one base", () => {
    expect(orders.filter(({ apartFrom }) => apartFrom.length > 0).length).toBeGreaterThanOrEqual(5);
    expect(orders.filter(({ waitAfterRainMm }) => waitAfterRainMm !== undefined).length).toBeGreaterThanOrEqual(3);
    const byDroplets = products.filter(({ buffers }) => buffers.some(({ onlyFinerThan }) => onlyFinerThan));
    const classes = orders
      .filter((order) => order.products.some(({ productId }) => byDroplets.some(({ id }) => id === productId)))
      .map(({ dropletClass }) => dropletClass);
    expect(new Set(classes).size).toBeGreaterThan(1);
    const masts = demo.weather.filter(({ upperTemperatureC }) => upperTemperatureC !== undefined);
    expect(new Set(masts.map(({ stationId }) => stationId)).size).toBe(1);
    const inversions = masts.filter((step) => step.upperTemperatureC! > step.temperatureC);
    expect(inversions.length).toBeGreaterThan(20);
    expect(inversions.length).toBeLessThan(masts.length / 2);
  });

  test("on ground that holds together", () => {
    const { faults, fields: measured } = geometryReport(demo);
    expect(faults).toEqual([]);
    const areasHa = measured.map(({ areaHa }) => areaHa);
    expect(Math.max(...areasHa) / Math.min(...areasHa)).toBeGreaterThan(20);
  });

  test("under weather for the week, the day before and the morning after", () => expectWholeWeather(demo, 12));
});

describe("every limit binds somewhere: without it a minute would be open", () => {
  const calendar = createCalendar(demo.settings);
  const agronomy = createAgronomy(demo, calendar);
  const alone = new Map<LimitName, string>();
  for (const order of demo.orders) {
    for (const type of demo.fleet.aircraftTypes) {
      const always = agronomy.typeLimits(order, type);
      const only = new Set(always.map(({ limit }) => limit));
      if (only.size === 1) alone.set([...only][0]!, order.id);
      if (only.size > 0 || agronomy.orderLimits(order).length > 0) continue;
      for (let min = 0; min < calendar.horizonMin; min += 30) {
        const limits = new Set(agronomy.judge(order, type, min, { night: false }).map(({ limit }) => limit));
        if (limits.size === 1) alone.set([...limits][0]!, order.id);
      }
    }
  }

  // The demo has a forecast for every hour and liquid and granular gear on every aircraft.
  const notHere: readonly LimitName[] = ["noForecast", "method"];
  test.each([...minuteLimits, ...typeLimits].filter((limit) => !notHere.includes(limit)))("%s", (limit) => {
    expect(alone.get(limit), `an order that ${limit} alone stops`).toBeDefined();
  });

  test("no hour is stopped for what is not known of the night before it or of rain", () => {
    const sentences = demo.orders.flatMap((order) =>
      demo.fleet.aircraftTypes.flatMap((type) =>
        agronomy
          .hours(order, type, { night: true })
          .flatMap(({ judgements }) => judgements.map(({ sentence }) => sentence)),
      ),
    );
    expect(sentences.some((sentence) => sentence.startsWith("inversion "))).toBe(true);
    expect(sentences.filter((sentence) => sentence.includes("known"))).toEqual([]);
  });

  test("buffers cut fields, and take one whole", () => {
    const areas = demo.orders.map((order) => agronomy.treatedArea(order));
    expect(areas.filter(({ areaHa, fieldHa }) => areaHa > 0.05 && areaHa < fieldHa * 0.995).length).toBeGreaterThan(3);
    expect(areas.filter(({ areaHa }) => areaHa < 0.05)).toHaveLength(1);
  });
});

describe("the plan of the demo", () => {
  const iterations = 150;
  const plan = planOperation(demo, {
    random: createRandom(1),
    seed: 1,
    doneShare: (done) => done / iterations,
  });

  test("serves most of the ground", () => {
    const servedFrac = plan.score.servedHa / plan.score.orderedHa;
    expect(servedFrac).toBeGreaterThan(0.65);
    expect(servedFrac).toBeLessThan(0.95);
  });

  // What is taken out by hand no planner leaves out.
  test.each(conflictKinds.filter((kind) => kind !== "byHand"))("has a conflict of the kind %s", (kind) => {
    expect(plan.conflicts.map((conflict) => conflict.kind)).toContain(kind);
  });

  const kindOf = new Map(plan.conflicts.map(({ orderId, kind }) => [orderId as string, kind]));
  const orderIdsOf = (fieldName: string) => {
    const field = demo.fields.features.find(({ properties }) => properties.name === fieldName)!;
    return demo.orders.filter(({ fieldId }) => fieldId === field.properties.id).map(({ id }) => id as string);
  };

  test.each(conflictCases.map(({ field, shows }) => [field.name, shows]))("%s: %s", (name, shows) => {
    expect(orderIdsOf(name).map((orderId) => kindOf.get(orderId))).toContain(shows);
  });

  test.each(pressedCases.filter(({ shows }) => shows === "limit").map(({ field }) => field.name))(
    "%s is not stopped for good",
    (name) => {
      for (const orderId of orderIdsOf(name)) expect([undefined, "notEnoughHours"]).toContain(kindOf.get(orderId));
    },
  );
});
