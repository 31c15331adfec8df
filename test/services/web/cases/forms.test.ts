import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { beforeAll, describe, expect, it } from "vitest";
import { readScenario } from "../../../../services/scenario/read.ts";
import { historyFromTable } from "../../../../services/scenario/readSeason.ts";
import { copyName, newCaseId, stepsOf, withValue } from "../../../../services/web/app/cases/forms/draft.ts";
import { faultsBeside, faultsOfWhole, placeWords } from "../../../../services/web/app/cases/forms/faultPlaces.ts";
import type { FieldForm } from "../../../../services/web/app/cases/forms/fields.ts";
import { beginChange, changeKinds, kindForms, turnedInto } from "../../../../services/web/app/cases/forms/kinds.ts";
import { presentValue } from "../../../../services/web/app/cases/forms/present.ts";
import { shownOf, storedOf, typedNumber, unitOf } from "../../../../services/web/app/cases/forms/quantity.ts";
import { choicesOf } from "../../../../services/web/app/cases/forms/things.ts";
import { weatherFromCsv } from "../../../../services/web/app/cases/forms/weatherCsv.ts";
import { applyChanges } from "../../../../shared/cases/applyChanges.ts";
import { type Change, changeSchema } from "../../../../shared/cases/change.ts";
import { judgeCaseSet } from "../../../../shared/cases/judgeCaseSet.ts";
import { valueAt } from "../../../../shared/model/faults.ts";
import type { Operation } from "../../../../shared/model/operation.ts";
import { weatherSchema } from "../../../../shared/model/weather.ts";

const scenarios = fileURLToPath(new URL("../../../../scenarios/", import.meta.url));
let demo: Operation;
beforeAll(async () => {
  const read = await readScenario(`${scenarios}demo`);
  if (!read.ok) throw new Error("scenarios/demo is faulty");
  demo = read.operation;
});

describe("forms of changes", () => {
  it("there is one for every kind of change that the schema knows, and for no other", () => {
    const known = changeSchema.options.map(({ shape }) => shape.kind.value);
    expect(known).toHaveLength(27);
    expect([...changeKinds].sort()).toEqual([...known].sort());
  });

  /** Somebody who fills in every field; ids of new things as nobody else has them. */
  function filled(kind: Change["kind"]): Record<string, unknown> {
    let change = { ...beginChange(kind, demo) } as Record<string, unknown>;
    for (const field of kindForms[kind].fields) {
      const steps = stepsOf(field.path);
      const value = valueAt(change, steps);
      if (value === undefined || (field.as === "things" && (value as unknown[]).length === 0))
        change = withValue(change, steps, valueFor(field, change));
    }
    return change;
  }
  function valueFor(field: FieldForm, change: Record<string, unknown>): unknown {
    switch (field.as) {
      case "thing":
        return choicesOf(field.of, demo, change.crewId)[0]?.id;
      case "things":
        return [choicesOf(field.of, demo, change.crewId)[0]!.id];
      case "word":
        return field.of[0]!.id;
      case "number":
        return field.path.endsWith("Deg") ? 41 : field.path.endsWith("Frac") ? 0.25 : 8;
      case "text":
        return "something-new";
      case "date":
        return "2027-06-20";
      case "clock":
        return "05:00";
      case "dateTime":
        return "2027-06-20T05:00";
      case "orderLike":
        return { ...demo.orders[0], id: "order-new" };
      case "weather":
        return demo.weather;
      case "setsToMove":
        return [];
    }
  }

  /** Members that the operation's own schemas do not have: of those they say which there are. */
  function unknownMembers(change: Change): string[] {
    const judged = applyChanges(demo, [change]);
    const faults = judged.ok ? [] : judged.faults.filter(({ expected }) => expected.startsWith("one of "));
    return faults.map(({ path }) => path.join("."));
  }

  it("would be seen to speak of a member that there is not", () => {
    const [type] = demo.fleet.aircraftTypes;
    expect(unknownMembers({ kind: "changeType", typeId: type!.id, set: { power: { colour: 1 } } })).toEqual([
      "operation.fleet.aircraftTypes.0.power.colour",
    ]);
  });

  it.each(changeKinds)("%s: every field stands where the schema has it", (kind) => {
    // Where something is filled in that the schema does not know, or lacks something, it is refused.
    const parsed = changeSchema.safeParse(filled(kind));
    expect(parsed.error?.issues ?? []).toEqual([]);
    // The members to change are judged with the operation: none of them may be unknown there.
    expect(unknownMembers(parsed.data!)).toEqual([]);
  });

  it("begin with what can be made at once, where nothing has to be written", () => {
    const ready: Change["kind"][] = [
      "addAircraft",
      "takeAircraft",
      "batterySets",
      "addCharger",
      "addTender",
      "addCrew",
    ];
    for (const kind of [...ready, "longerShift", "setShift", "changeWeather"] as const) {
      const parsed = changeSchema.parse(beginChange(kind, demo));
      expect(applyChanges(demo, [parsed]).ok, kind).toBe(true);
    }
  });

  it("know what holds now where a field is left empty", () => {
    const [crew] = demo.fleet.crews;
    const change = { kind: "changeCrew", crewId: crew!.id };
    expect(presentValue(demo, change, "set.restMinHours")).toBe(crew!.restMinHours);
    const [tender] = demo.fleet.tenders;
    expect(presentValue(demo, { kind: "addTender", like: tender!.id }, "set.waterL")).toBe(tender!.waterL);
    const settings = { kind: "changeSettings" };
    expect(presentValue(demo, settings, "costs.driveCentsPerKm")).toBe(demo.settings.costs.driveCentsPerKm);
    expect(presentValue(demo, change, "crewId")).toBeUndefined();
    expect(presentValue(demo, { kind: "changeCrew", crewId: "nobody" }, "set.restMinHours")).toBeUndefined();
  });

  it("keep base, type and crew when the kind is turned into another", () => {
    const other = demo.settings.bases.at(-1)!.id;
    const turned = turnedInto("addCharger", { ...beginChange("addAircraft", demo), baseId: other }, demo);
    expect(turned).toEqual({ kind: "addCharger", baseId: other, bays: 2, kw: 18, count: 1 });
  });
});

describe("a draft", () => {
  it("is changed at a place and stays what it was", () => {
    const before = { cases: [{ id: "a", set: { waterL: 1 } }, { id: "b" }] };
    expect(withValue(before, ["cases", 0, "set", "waterL"], 2)).toEqual({
      cases: [{ id: "a", set: { waterL: 2 } }, { id: "b" }],
    });
    expect(withValue(before, ["cases", 0, "set", "waterL"], undefined)).toEqual({ cases: [{ id: "a" }, { id: "b" }] });
    expect(withValue(before, ["cases", 0], undefined)).toEqual({ cases: [{ id: "b" }] });
    expect(withValue(before, ["cases", 2, "changes", 0], "new").cases).toHaveLength(3);
    expect(withValue(before, ["cases", 1, "dates"], [])).toEqual({ cases: [before.cases[0], { id: "b", dates: [] }] });
    expect(before).toEqual({ cases: [{ id: "a", set: { waterL: 1 } }, { id: "b" }] });
  });

  it("has ids and names that nobody else has", () => {
    expect(newCaseId([{ id: "case-1" }, { id: "case-3" }])).toBe("case-2");
    expect(copyName("West")).toBe("West, copy");
    expect(copyName("x".repeat(120))).toHaveLength(120);
  });
});

describe("numbers of forms", () => {
  // NIST Special Publication 811 (2008), appendix B.8: factors that are exact by definition.
  it.each([
    ["volumeL", 3.785411784, 1, "gal"],
    ["lengthM", 0.3048, 1, "ft"],
    ["massKg", 0.45359237, 1, "lb"],
    ["windKph", 1.609344, 1, "mph"],
    ["speedMps", 0.44704, 1, "mph"],
    ["rainMm", 25.4, 1, "in"],
    ["deltaC", 5, 9, "°F"],
    ["moneyCentsPerKm", 100, 1.609344, "USD/mi"],
  ] as const)("%s: %d is %d in the other units", (quantity, stored, shown, unit) => {
    expect(unitOf(quantity, "us", "USD")).toBe(unit);
    expect(shownOf(quantity, "us", stored)).toBeCloseTo(shown, 4);
    expect(storedOf(quantity, "us", shown)).toBeCloseTo(stored, 4);
  });

  it("areas and money by area agree: 100 EUR/ha are 40.47 EUR/ac", () => {
    expect(shownOf("areaHa", "us", 0.40468564224)).toBeCloseTo(1, 4);
    expect(shownOf("moneyCentsPerHa", "us", 10_000)).toBeCloseTo(40.4686, 3);
    expect(shownOf("moneyCentsPerHa", "metric", 10_000)).toBe(100);
  });

  it("come back as they were when nobody changes them", () => {
    for (const quantity of ["volumeL", "speedMps", "moneyCentsPerHa", "shareFrac"] as const)
      for (const value of [0.3, 12, 87.5, 3000])
        expect(storedOf(quantity, "us", shownOf(quantity, "us", value))).toBeCloseTo(value, 1);
  });

  it("are read with a point or a comma; what is none stays as it is written", () => {
    expect(["1.5", " 1,5 ", "-2", "−2", "", "1.", "twelve", "1e3"].map(typedNumber)).toEqual([
      1.5,
      1.5,
      -2,
      -2,
      undefined,
      1,
      "twelve",
      "1e3",
    ]);
  });
});

describe("weather from a file", () => {
  it("is what the command line reads from it", () => {
    const text = readFileSync(`${scenarios}cases/history.csv`, "utf8");
    const [read, known] = [weatherFromCsv(text), historyFromTable("history.csv", text, demo)];
    if (!read.ok || !known.ok) throw new Error("the history is faulty");
    expect(read.steps.length).toBeGreaterThan(1000);
    expect(weatherSchema.parse(read.steps)).toEqual(known.steps);
  });

  it("names a row that has too many cells", () => {
    expect(weatherFromCsv("stationId,windKph\na,1\nb,2,3\n")).toEqual({ ok: false, row: 3 });
    expect(weatherFromCsv("\uFEFFstationId,windKph\r\na,\r\nb,x\r\n")).toEqual({
      ok: true,
      steps: [{ stationId: "a" }, { stationId: "b", windKph: "x" }],
    });
  });
});

describe("faults of a set", () => {
  it("stand beside their fields, and are told by the place that the writer knows", () => {
    const document = {
      name: "",
      cases: {
        formatVersion: 1,
        cases: [{ id: "case-1", name: "x", changes: [{ kind: "takeCrew", crewId: "crew-99" }], buys: [{ what: "x" }] }],
        weeksPerYear: 0,
        interestPct: 5,
      },
    };
    const judged = judgeCaseSet(document, demo);
    if (judged.ok) throw new Error("nothing wrong was found");
    const faults = judged.faults.map(({ expected, path, value }) => ({ expected, path: [...path], value }));
    const changePlace = ["cases", "cases", 0, "changes", 0];
    expect(faultsBeside(faults, [...changePlace, "crewId"])).toHaveLength(1);
    expect(faultsBeside(faults, ["cases", "weeksPerYear"])).toHaveLength(1);
    expect(faultsBeside(faults, ["cases", "interestPct"])).toEqual([]);
    expect(faultsOfWhole(faults, changePlace)).toEqual([]);
    const places = faults.map(({ path }) => placeWords(path, document.cases.cases));
    expect(places).toEqual(
      expect.arrayContaining([
        "Name of the set",
        "Weeks of a year like these",
        "Case 1, Change 1, Crew",
        "Case 1, Line 1 of what it costs to own",
      ]),
    );
  });

  it("of the operation that would come of a case are told with the case", () => {
    const faults = [{ path: ["cases", "cases", 1, "operation", "fleet", "crews"], value: 1, expected: "a crew" }];
    expect(faultsOfWhole(faults, ["cases", "cases", 1])).toEqual(faults);
    expect(faultsOfWhole(faults, ["cases", "cases", 0])).toEqual([]);
  });
});
