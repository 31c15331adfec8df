import { mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fc from "fast-check";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { columnsOf, readTable, writeTable } from "../../../services/scenario/csv.ts";
import { operationFromDocument, readScenario } from "../../../services/scenario/read.ts";
import { writeScenario } from "../../../services/scenario/write.ts";
import { type Operation, operationSchema } from "../../../shared/model/operation.ts";
import { type Order, orderSchema } from "../../../shared/model/order.ts";
import { smallOperation } from "../../support/operation.ts";

const small = join(import.meta.dirname, "../../data/malformed/small");

let parent: string;
let dir: string;
beforeEach(async () => {
  parent = await mkdtemp(join(tmpdir(), "scenario-"));
  dir = join(parent, "one");
});
afterEach(() => rm(parent, { recursive: true }));

async function readOperation(from: string): Promise<Operation> {
  const outcome = await readScenario(from);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.faults));
  return outcome.operation;
}

const filesOf = async (from: string) =>
  Promise.all((await readdir(from)).sort().map(async (name) => [name, await readFile(join(from, name), "utf8")]));

/** Whatever people may write into a name or a note: any sign but control signs, line breaks, quotes, commas. */
const text = fc.string({ unit: "grapheme", maxLength: 20 });
const noteText = fc.oneof(
  text,
  fc.constantFrom("", 'say "hi", then\r\nwait', " leading", "trailing\n", "a;b", "=1+1", "ä€𝛥"),
);
const number = (min: number, max: number) => fc.double({ min, max, noNaN: true }).filter((value) => value > 0);

/** The small operation with much of it drawn at random, within what its schema allows. */
const operations = fc
  .record({
    notes: fc.array(noteText, { minLength: 2, maxLength: 2 }),
    name: text.filter((drawn) => drawn !== ""),
    carrierLPerHa: number(1e-9, 500),
    liquidShare: number(1e-12, 0.999),
    granularKgPerHa: number(1e-12, 1e6),
    maySplit: fc.boolean(),
    preferredDate: fc.option(fc.constantFrom("2027-06-07", "2027-06-09"), { nil: undefined }),
    dropletClass: fc.option(fc.constantFrom("XF", "UC"), { nil: undefined }),
    wet: fc.option(fc.record({ waitAfterRainMm: number(1e-9, 500), waitAfterRainHours: number(1e-9, 240) }), {
      nil: undefined,
    }),
    apartHours: fc.option(number(1e-9, 1440), { nil: undefined }),
    upper: fc.option(fc.record({ upperTemperatureC: number(-50, 60), upperTemperatureHeightM: number(2.01, 500) }), {
      nil: undefined,
    }),
    priority: fc.constantFrom("low", "normal", "high", "mandatory"),
    windKph: number(0, 250),
    gustierKph: number(0, 100),
    temperatureC: number(-50, 60),
    distanceKm: number(0, 2000),
    driftAngleDeg: number(0, 180),
  })
  .map((drawn): Operation => {
    const operation = smallOperation({});
    const [liquid, granular] = operation.orders;
    const { priority, preferredDate, dropletClass, maySplit, carrierLPerHa, liquidShare, notes, wet, apartHours } =
      drawn;
    return operationSchema.parse({
      ...operation,
      settings: {
        ...operation.settings,
        name: drawn.name,
        limits: { ...operation.settings.limits, driftAngleDeg: drawn.driftAngleDeg },
      },
      orders: [
        {
          ...liquid!,
          priority,
          maySplit,
          carrierLPerHa,
          notes: notes[0]!,
          products: [{ productId: "LIQ", ratePerHa: liquidShare * carrierLPerHa }],
          ...(preferredDate === undefined ? {} : { preferredDate }),
          ...(dropletClass === undefined ? {} : { dropletClass }),
          ...wet,
          apartFrom: apartHours === undefined ? [] : [{ orderId: granular!.id, hours: apartHours }],
        },
        {
          ...granular!,
          fieldId: liquid!.fieldId,
          notes: notes[1]!,
          products: [{ productId: "GRA", ratePerHa: drawn.granularKgPerHa }],
        },
      ],
      weather: operation.weather.map((step, at) =>
        at === 3
          ? {
              ...step,
              windKph: drawn.windKph,
              gustKph: drawn.windKph + drawn.gustierKph,
              temperatureC: drawn.temperatureC,
              ...drawn.upper,
            }
          : step,
      ),
      roads: [{ from: "B1", to: "F1/P1", distanceKm: drawn.distanceKm, durationMin: 7 }],
    });
  });

describe("a scenario folder", () => {
  it("reads back as it was written", async () => {
    await fc.assert(
      fc.asyncProperty(operations, async (operation) => {
        expect(await writeScenario(dir, operation)).toEqual({ ok: true });
        expect(await readOperation(dir)).toEqual(operation);
      }),
      { numRuns: 60 },
    );
  });

  it("is the same byte for byte when read and written", async () => {
    await writeScenario(dir, await readOperation(small));
    expect(await filesOf(dir)).toEqual(await filesOf(small));
  });

  it("has waiting times to several orders in one cell", async () => {
    const operation = await readOperation(small);
    const [first, second, third] = operation.orders;
    const orders = [
      {
        ...first!,
        apartFrom: [
          { orderId: second!.id, hours: 48 },
          { orderId: third!.id, hours: 0.5 },
        ],
      },
      { ...second!, fieldId: first!.fieldId },
      { ...third!, fieldId: first!.fieldId },
    ];
    expect(await writeScenario(dir, { ...operation, orders })).toEqual({ ok: true });
    expect(await readFile(join(dir, "orders.csv"), "utf8")).toContain(",O-2:48; O-3:0.5,yes,");
    expect((await readOperation(dir)).orders).toEqual(orders);
  });

  it("has alternatives of an order in one cell, and what can be hired", async () => {
    const operation = await readOperation(small);
    const [first] = operation.orders;
    const alternatives = [
      { products: [{ ...first!.products[0]!, ratePerHa: 0.8 }], carrierLPerHa: 20 },
      { products: [operation.orders.find(({ carrierLPerHa }) => carrierLPerHa === undefined)!.products[0]!] },
    ];
    const field = operation.fields.features.find(({ properties }) => properties.id === first!.fieldId)!;
    const polygons = field.geometry.type === "Polygon" ? [field.geometry.coordinates] : field.geometry.coordinates;
    const ground: Order["ground"] = { type: "MultiPolygon", coordinates: polygons };
    const orders = [{ ...first!, alternatives: alternatives.slice(0, 1), ground }, ...operation.orders.slice(1)];
    const hire: Operation["fleet"]["hire"] = [
      {
        kind: "aircraft",
        typeId: operation.fleet.aircraftTypes[0]!.id,
        batterySets: 0,
        baseIds: [operation.settings.bases[0]!.id],
        most: 2,
        hireCents: 5000,
        per: "day",
      },
    ];
    const changed = { ...operation, orders, fleet: { ...operation.fleet, hire } };
    expect(await writeScenario(dir, changed)).toEqual({ ok: true });
    expect(await readOperation(dir)).toEqual(changed);
    const columns = columnsOf(orderSchema);
    const text = writeTable(orderSchema, [{ ...first!, alternatives }]);
    expect(columns.map(({ name }) => name)).toEqual(expect.arrayContaining(["alternatives", "ground"]));
    expect(readTable("orders.csv", text, orderSchema).entries).toEqual([
      expect.objectContaining({ id: first!.id, alternatives }),
    ]);
  });

  it("may come with byte order marks and carriage returns, as spreadsheets write them", async () => {
    await writeScenario(dir, await readOperation(small));
    for (const [name, content] of await filesOf(small)) {
      await writeFile(join(dir, name!), `\uFEFF${content!.replaceAll("\n", "\r\n")}`);
    }
    expect(await readOperation(dir)).toEqual(await readOperation(small));
  });

  it("may have empty rows and columns in any order", async () => {
    await writeScenario(dir, await readOperation(small));
    const [header, ...rows] = (await readFile(join(dir, "roads.csv"), "utf8")).trim().split("\n");
    const turned = [header!, "", ...rows].map((line) => line.split(",").reverse().join(","));
    await writeFile(join(dir, "roads.csv"), `${turned.join("\n")}\n\n`);
    expect(await readOperation(dir)).toEqual(await readOperation(small));
  });

  it("may lack sensitive places and roads, and says which defaults filled in", async () => {
    await writeScenario(dir, await readOperation(small));
    await rm(join(dir, "sensitive.geojson"));
    await rm(join(dir, "roads.csv"));
    const outcome = await readScenario(dir);
    expect(outcome).toMatchObject({ ok: true, operation: { roads: [], sensitive: { features: [] } } });
    expect(outcome.ok && outcome.defaultsUsed).toEqual([
      { path: ["sensitive"], value: { type: "FeatureCollection", features: [] }, count: 1 },
      { path: ["roads"], value: [], count: 1 },
      { path: ["locks"], value: [], count: 1 },
    ]);
  });

  it("holds what is locked, and loses the file when nothing is", async () => {
    const operation = await readOperation(small);
    const { id: crewId, shifts } = operation.fleet.crews[0]!;
    const locked: Operation = {
      ...operation,
      locks: [
        {
          crewId,
          date: shifts[0]!.date,
          outfit: { aircraftIds: [operation.fleet.aircraft[0]!.id], tenderId: operation.fleet.tenders[0]!.id },
          stops: [{ orderId: operation.orders[0]!.id, part: 1, startAt: "2027-06-07T06:00" as never }],
          inOrder: true,
          nothingElse: false,
        },
      ],
    };
    expect(await writeScenario(dir, locked)).toEqual({ ok: true });
    expect(await readOperation(dir)).toEqual(locked);
    await writeScenario(dir, operation);
    expect(await readdir(dir)).not.toContain("locks.json");
    expect(await readOperation(dir)).toEqual(operation);
  });
});

describe("writing a scenario", () => {
  it("refuses an operation that could not be read back, and leaves the folder as it was", async () => {
    const operation = await readOperation(small);
    await writeScenario(dir, operation);
    const before = await filesOf(dir);
    const [first, ...others] = operation.orders;
    const broken = { ...operation, orders: [{ ...first!, latest: first!.earliest }, ...others] };
    expect(await writeScenario(dir, broken)).toMatchObject({
      ok: false,
      faults: [{ place: "orders[0].latest (order O-1)" }],
    });
    expect(await filesOf(dir)).toEqual(before);
  });

  it("keeps what else lies in the folder and leaves nothing beside it", async () => {
    const operation = await readOperation(small);
    await writeScenario(dir, operation);
    await writeFile(join(dir, "notes.txt"), "mind the ditch");
    await writeScenario(dir, { ...operation, settings: { ...operation.settings, name: "Another name" } });
    expect(await readFile(join(dir, "notes.txt"), "utf8")).toBe("mind the ditch");
    expect((await readOperation(dir)).settings.name).toBe("Another name");
    expect(await readdir(parent)).toEqual(["one"]);
  });

  it("fails whole where a folder cannot be made", async () => {
    const operation = await readOperation(small);
    await writeFile(dir, "a file in the way");
    await expect(writeScenario(join(dir, "inside"), operation)).rejects.toThrow(/ENOTDIR|EEXIST/);
    expect(await readdir(parent)).toEqual(["one"]);
  });
});

describe("an operation as one document", () => {
  it("is judged alike, with places as paths", async () => {
    const operation = await readOperation(small);
    expect(operationFromDocument(JSON.parse(JSON.stringify(operation)))).toEqual({
      ok: true,
      operation,
      defaultsUsed: [],
    });
    const broken = {
      ...operation,
      fleet: { ...operation.fleet, crews: [{ ...operation.fleet.crews[0]!, baseId: "B9" }] },
    };
    expect(operationFromDocument(broken)).toEqual({
      ok: false,
      faults: [
        {
          file: "operation document",
          place: "fleet.crews[0].baseId (crew K1)",
          value: "B9",
          expected: "the id of a base: B1",
        },
      ],
    });
    expect(operationFromDocument("text")).toMatchObject({ ok: false, faults: [{ place: "the whole file" }] });
  });
});
