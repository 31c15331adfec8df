import { describe, expect, it } from "vitest";
import { z } from "zod";
import { hintOf } from "../../../../services/web/app/kit/form/hints.ts";
import { faultsAt, placeFaults } from "../../../../services/web/app/kit/form/placedFaults.ts";
import { quantityOf, shownNumber, typedNumber } from "../../../../services/web/app/kit/form/quantities.ts";
import {
  differences,
  emptyOf,
  kindOf,
  type Shape,
  unionOf,
  withAt,
} from "../../../../services/web/app/kit/form/shape.ts";
import { keyOf, placeOf, type ThingName, thingKinds } from "../../../../services/web/app/kit/thing/things.ts";
import { memberLabels } from "../../../../shared/model/memberWords.ts";
import { listResources, wholeResources } from "../../../../shared/model/resources.ts";
import { richOperation } from "../../../support/richOperation.ts";

const shapeOf = (schema: z.ZodType) => z.toJSONSchema(schema, { io: "input" }) as Shape;
const settings = wholeResources.find(({ name }) => name === "settings")!.schema;
const formed = listResources.filter(({ name }) => name !== "locks");

/** Every member of every shape that a form is made of. */
function membersOf(name: string, shape: Shape): readonly (readonly [name: string, shape: Shape])[] {
  const inner = [
    ...Object.entries(shape.properties ?? {}),
    ...(shape.items ? [[`${name}Entry`, shape.items] as const] : []),
    ...(shape.oneOf ?? []).map((one) => [name, one] as const),
  ];
  return [[name, shape] as const, ...inner.flatMap(([member, of]) => membersOf(member, of))];
}

describe("forms", () => {
  it("know the kinds of things, their places and keys as the resources have them", () => {
    const operation = richOperation();
    for (const { keyOf: keyOfResource, name, path } of formed) {
      const kind = name as ThingName;
      expect(thingKinds[kind].path).toEqual(path);
      const entries = path.reduce<unknown>((at, step) => (at as Record<string, unknown>)[step], operation) as unknown[];
      expect(entries.length).toBeGreaterThan(0);
      for (const [at, entry] of entries.entries()) {
        expect(keyOf(kind, entry)).toBe(keyOfResource(entry));
        expect(placeOf(kind, operation, keyOfResource(entry))).toEqual([...path, at]);
      }
    }
    expect(Object.keys(thingKinds).sort()).toEqual(formed.map(({ name }) => name).sort());
  });

  it("have a label for every member that the model has", () => {
    const shapes = [...formed.map(({ entrySchema }) => entrySchema), settings].map(shapeOf);
    const names = shapes.flatMap((shape) => membersOf("", shape)).map(([name]) => name);
    const bare = names.filter((name) => /^[a-z]/.test(name) && !name.endsWith("Entry") && !memberLabels[name]);
    // Outlines are drawn, bases and water points are lists of their own, the version of the format is fixed.
    const notAsked = ["coordinates", "properties", "bases", "waterPoints", "formatVersion"];
    expect([...new Set(bare)].filter((name) => !notAsked.includes(name))).toEqual([]);
  });

  it("tell dates, times and references from texts", () => {
    const { properties } = shapeOf(formed.find(({ name }) => name === "orders")!.entrySchema);
    const kinds = [
      "fieldId",
      "earliest",
      "preferredDate",
      "priority",
      "maySplit",
      "carrierLPerHa",
      "notes",
      "products",
    ];
    expect(kinds.map((name) => kindOf(name, properties![name]!))).toEqual([
      "reference",
      "dateTime",
      "date",
      "choice",
      "yesNo",
      "number",
      "text",
      "list",
    ]);
    const type = shapeOf(formed.find(({ name }) => name === "aircraft-types")!.entrySchema);
    const power = unionOf(type.properties!.power!);
    expect([power.by, ...power.shapes.keys()]).toEqual(["source", "battery", "fuel"]);
    expect(emptyOf(type)).toEqual({ power: { source: "battery" } });
  });

  it("change one place and leave all else as it was", () => {
    const before = { a: [{ b: 1 }, { b: 2 }], c: "x" };
    const frozen = structuredClone(before);
    expect(withAt(before, ["a", 1, "b"], 3)).toEqual({ a: [{ b: 1 }, { b: 3 }], c: "x" });
    expect(withAt(before, ["c"], undefined)).toEqual({ a: [{ b: 1 }, { b: 2 }] });
    expect(withAt(before, ["a", 0], undefined)).toEqual({ a: [{ b: 2 }], c: "x" });
    expect(withAt(undefined, ["d", "e"], 1)).toEqual({ d: { e: 1 } });
    expect(before).toEqual(frozen);
    expect(differences([before, withAt(before, ["a", 1, "b"], 3), before])).toEqual([
      { path: ["a", 1, "b"], values: [2, 3, 2] },
    ]);
    expect(differences([before, structuredClone(before)])).toEqual([]);
  });
});

describe("quantities", () => {
  const us = { system: "us", currency: "EUR", rateUnit: "L" } as const;
  const metric = { ...us, system: "metric" } as const;

  // NIST Special Publication 811 (2008), appendix B: 1 gal (US) = 3.785412 L, 1 acre = 4046.873 m2 (US survey), 1 mi/h = 1.609344 km/h, 1 ft = 0.3048 m, 1 lb = 0.4535924 kg.
  it.each([
    ["carrierLPerHa", 30, "gal/ac", 3.2072],
    ["tankL", 40, "gal", 10.5669],
    ["windMaxKph", 15, "mph", 9.32057],
    ["speedMaxMps", 10, "mph", 22.3694],
    ["swathM", 9, "ft", 29.5276],
    ["payloadKg", 40, "lb", 88.1849],
    ["temperatureMaxC", 30, "°F", 86],
    ["deltaTMaxC", 8, "°F", 14.4],
    ["priceCentsPerHa", 2750, "EUR per ac", 11.1289],
    ["reserveFrac", 0.25, "%", 25],
    ["waitAfterRainMm", 2, "in", 0.0787402],
    ["reiHours", 12, "h", 12],
  ] as const)("%s %s is shown in %s", (name, stored, unit, shown) => {
    const quantity = quantityOf(name, us)!;
    expect(quantity.unit).toBe(unit);
    expect(Math.abs(Number(shownNumber(stored, quantity)) / shown - 1)).toBeLessThan(2e-5);
    // What is typed as it is shown comes back, as near as it is shown.
    expect(Math.abs((typedNumber(shownNumber(stored, quantity), quantity) as number) / stored - 1)).toBeLessThan(1e-5);
  });

  it("follow the product where a rate is in its unit, and are plain in metric", () => {
    expect(quantityOf("ratePerHa", { ...us, rateUnit: "kg" })!.unit).toBe("lb/ac");
    expect(quantityOf("ratePerHa", { ...metric, rateUnit: "kg" })!.unit).toBe("kg/ha");
    expect(shownNumber(0.1 + 0.2, quantityOf("tankL", metric))).toBe("0.30000000000000004");
    expect(quantityOf("bays", us)).toBeNull();
    expect(quantityOf("priceCentsPerHa", metric)).toMatchObject({ unit: "EUR per ha", factor: 0.01 });
  });

  it("leave what is no number for the server to refuse, and nothing for nothing", () => {
    const wind = quantityOf("windMaxKph", us);
    expect([typedNumber("12,5", wind), typedNumber("calm", wind), typedNumber("  ", wind)]).toEqual([
      "12,5",
      "calm",
      undefined,
    ]);
    expect(typedNumber(" 1e1 ", null)).toBe(10);
  });
});

describe("faults of a thing", () => {
  it("are told where they are in the form, others apart", () => {
    const fault = (...path: (string | number)[]) => ({ path, value: null, expected: "something" });
    const told = placeFaults(
      [fault("orders", 3, "fieldId"), fault("orders", 2, "id"), fault("locks", 0)],
      ["orders", 3],
    );
    expect(told.within.map(({ path }) => path)).toEqual([["fieldId"]]);
    expect(told.elsewhere.map(({ path }) => path)).toEqual([
      ["orders", 2, "id"],
      ["locks", 0],
    ]);
    const within = [fault("products", 0, "ratePerHa"), fault("products")];
    expect(faultsAt(within, ["products"], false)).toHaveLength(1);
    expect(faultsAt(within, ["products", 0, "ratePerHa"], true)).toHaveLength(1);
    expect(faultsAt(within, ["products"], true)).toHaveLength(2);
  });
});

describe("hints", () => {
  it("leave out units, examples and names that no screen shows", () => {
    const hints = [
      "what the grower pays, cents per hectare",
      "work may not begin before, local time as 2027-06-07T05:30",
      "rain that leaves canopy or ground too wet, mm; given together with waitAfterRainHours",
      "spray volume in all, L/ha; left empty for granules, whose kg/ha are the sum of the rates",
      "a wall-clock time in the operation's time zone, as 2027-06-07T05:30",
      "degrees from north",
    ].map((description) => hintOf({ description }));
    expect(hints).toEqual([
      "what the grower pays",
      "work may not begin before",
      "rain that leaves canopy or ground too wet",
      "spray volume in all",
      null,
      "degrees from north",
    ]);
  });

  it("have no member's own name in them", () => {
    const shapes = [...formed.map(({ entrySchema }) => entrySchema), settings].map(shapeOf);
    const told = shapes.flatMap((shape) => membersOf("", shape)).map(([, of]) => hintOf(of) ?? "");
    expect(told.filter((hint) => /[a-z][A-Z]|_/.test(hint))).toEqual([]);
    expect(told.filter(Boolean).length).toBeGreaterThan(100);
  });
});
