import { describe, expect, it } from "vitest";
import { applyChanges } from "../../../shared/cases/applyChanges.ts";
import { type Change, changesSchema } from "../../../shared/cases/change.ts";
import { changesWords } from "../../../shared/cases/changeWords.ts";
import { shortDateWords } from "../../../shared/model/dateWords.ts";
import { pathText } from "../../../shared/model/faults.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { richOperation } from "../../support/richOperation.ts";

const operation = richOperation();
const crew = operation.fleet.crews[0]!;
const [type] = operation.fleet.aircraftTypes;
const [aircraft] = operation.fleet.aircraft;
const [tender] = operation.fleet.tenders;
const [charger] = operation.fleet.chargers;
const [base] = operation.settings.bases;
const [order] = operation.orders;
const preferring = operation.orders.find(({ preferredDate }) => preferredDate !== undefined)!;
const [field] = operation.fields.features;
const [step] = operation.weather;

function changedBy(changes: unknown[]): Operation {
  const outcome = applyChanges(operation, changesSchema.parse(changes));
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.faults));
  return outcome.operation;
}

function faultsOf(changes: unknown[]): string[] {
  const outcome = applyChanges(operation, changesSchema.parse(changes));
  return outcome.ok
    ? []
    : outcome.faults.map(
        ({ path, value, expected }) => `${pathText([...path])}: ${JSON.stringify(value)}; ${expected}`,
      );
}

describe("changes to an operation", () => {
  const shift = crew.shifts[0]!;
  const cases: [string, object, (of: Operation) => unknown, unknown][] = [
    [
      "more aircraft, with ids of their own",
      { kind: "addAircraft", typeId: type!.id, baseId: base!.id, count: 2 },
      ({ fleet }) => fleet.aircraft.slice(-2).map(({ id, typeId, baseId }) => [id, typeId, baseId]),
      [
        [`${type!.id}-new`, type!.id, base!.id],
        [`${type!.id}-new-2`, type!.id, base!.id],
      ],
    ],
    [
      "an aircraft less",
      { kind: "takeAircraft", aircraftId: aircraft!.id },
      ({ fleet }) => fleet.aircraft.map(({ id }) => id),
      operation.fleet.aircraft.slice(1).map(({ id }) => id),
    ],
    [
      "a charger",
      { kind: "addCharger", baseId: base!.id, bays: 3, kw: 20 },
      ({ fleet }) => fleet.chargers.at(-1),
      { id: "charger-new", baseId: base!.id, bays: 3, kw: 20 },
    ],
    [
      "a charger less",
      { kind: "takeCharger", chargerId: charger!.id },
      ({ fleet }) => fleet.chargers.length,
      operation.fleet.chargers.length - 1,
    ],
    [
      "a tender like another, with a larger tank",
      { kind: "addTender", like: tender!.id, set: { waterL: 9000 } },
      ({ fleet }) => fleet.tenders.at(-1),
      { ...tender!, id: `${tender!.id}-new`, name: `${tender!.name}, another`, waterL: 9000 },
    ],
    [
      "a crew like another, with people of its own",
      { kind: "addCrew", like: crew.id, set: { maxAircraft: 1 } },
      ({ fleet }) => fleet.crews.at(-1)!.people.map(({ id }) => id),
      crew.people.map(({ id }) => `${id}-new`),
    ],
    [
      "a shift on a day",
      { kind: "setShift", crewId: crew.id, date: shift.date, from: "04:00", to: "09:30" },
      ({ fleet }) => fleet.crews[0]!.shifts[0],
      { date: shift.date, from: "04:00", to: "09:30" },
    ],
    [
      "a day off",
      { kind: "dayOff", crewId: crew.id, date: shift.date },
      ({ fleet }) => fleet.crews[0]!.shifts,
      crew.shifts.slice(1),
    ],
    [
      "what somebody learns",
      { kind: "train", crewId: crew.id, personId: crew.people[0]!.id, licenceClasses: ["night-licence"] },
      ({ fleet }) => fleet.crews[0]!.people[0]!.licenceClasses,
      [...crew.people[0]!.licenceClasses, "night-licence"],
    ],
    [
      "a member within a member, the others as they were",
      { kind: "changeType", typeId: type!.id, set: { power: { enduranceMin: 33 }, windMaxKph: 12 } },
      ({ fleet }) => fleet.aircraftTypes[0],
      { ...type!, windMaxKph: 12, power: { ...type!.power, enduranceMin: 33 } },
    ],
    [
      "a type like another",
      { kind: "addType", like: type!.id, id: "next", set: { payloadKg: 77 } },
      ({ fleet }) => fleet.aircraftTypes.at(-1),
      { ...type!, id: "next", payloadKg: 77 },
    ],
    [
      "an order's priority",
      { kind: "changeOrder", orderId: order!.id, set: { priority: "mandatory" } },
      ({ orders }) => orders[0]!.priority,
      "mandatory",
    ],
    [
      "a member taken away",
      { kind: "changeOrder", orderId: preferring.id, set: { preferredDate: null } },
      ({ orders }) => orders.find(({ id }) => id === preferring.id)!.preferredDate,
      undefined,
    ],
    [
      "harvest on another day",
      { kind: "harvestDate", fieldId: field!.properties.id, date: "2031-12-01" },
      ({ fields }) => fields.features[0]!.properties.harvestDate,
      "2031-12-01",
    ],
    [
      "wind and warmth",
      { kind: "changeWeather", windFactor: 1.5, warmerC: 2 },
      ({ weather }) => [weather[0]!.windKph, weather[0]!.gustKph, weather[0]!.temperatureC, weather[0]!.rainMm],
      [step!.windKph * 1.5, step!.gustKph * 1.5, step!.temperatureC + 2, step!.rainMm],
    ],
    [
      "settings",
      { kind: "changeSettings", planning: { blockMaxMin: 66 }, costs: { driveCentsPerKm: 5 } },
      ({ settings }) => [settings.planning.blockMaxMin, settings.costs.driveCentsPerKm],
      [66, 5],
    ],
  ];
  it.each(cases)("make %s, and nothing else", (_, change, look, expected) => {
    const before = structuredClone(operation);
    expect(look(operation)).not.toEqual(expected);
    expect(look(changedBy([change]))).toEqual(expected);
    expect(operation).toEqual(before);
  });

  it("make nothing of nothing", () => {
    expect(changedBy([])).toEqual(operation);
    expect(changesWords(operation, [])).toBe("as it is");
  });

  it("build on each other", () => {
    const changed = changedBy([
      { kind: "addBase", base: { ...base!, id: "inn", name: "The inn", latDeg: base!.latDeg + 0.1 } },
      { kind: "moveThings", toBaseId: "inn", aircraftIds: [aircraft!.id], tenderIds: [tender!.id] },
      { kind: "batterySets", baseId: "inn", typeId: type!.id, more: 5 },
      { kind: "batterySets", baseId: "inn", typeId: type!.id, more: -2 },
    ]);
    expect(changed.fleet.aircraft[0]!.baseId).toBe("inn");
    expect(changed.fleet.tenders[0]!.baseId).toBe("inn");
    expect(changed.fleet.batteryStocks.at(-1)).toEqual({ baseId: "inn", aircraftTypeId: type!.id, sets: 3 });
  });

  it("take locks along with what they name", () => {
    const locked: Operation = {
      ...operation,
      locks: [
        {
          crewId: crew.id,
          date: shift.date,
          outfit: { aircraftIds: [aircraft!.id] },
          stops: [],
          inOrder: false,
          nothingElse: false,
        },
      ],
    };
    const outcome = applyChanges(locked, changesSchema.parse([{ kind: "takeAircraft", aircraftId: aircraft!.id }]));
    expect(outcome.ok && outcome.operation.locks.map(({ outfit }) => outfit)).toEqual([undefined]);
  });

  it("name what they do not know, with what is near", () => {
    expect(faultsOf([{ kind: "takeCrew", crewId: `${crew.id}x` }])[0]).toContain(
      `changes[0].crewId: "${crew.id}x"; one of`,
    );
    expect(faultsOf([{ kind: "takeCrew", crewId: `${crew.id}x` }])[0]).toContain(`(perhaps ${crew.id})`);
  });

  it("are judged as the operation that comes of them", () => {
    expect(faultsOf([{ kind: "changeType", typeId: type!.id, set: { windMaxKph: -4 } }])[0]).toMatch(
      /^operation\.fleet\.aircraftTypes\[0\]\.windMaxKph: -4; /,
    );
    expect(changesSchema.safeParse([{ kind: "changeType", typeId: "a", set: { windMax: 4 } }]).success).toBe(false);
    expect(faultsOf([{ kind: "batterySets", baseId: base!.id, typeId: type!.id, more: -400 }])[0]).toContain(
      "no more than",
    );
  });

  it("are told by the names of things", () => {
    const changes: Change[] = changesSchema.parse([
      { kind: "addAircraft", typeId: type!.id, baseId: base!.id, batterySets: 2 },
      { kind: "longerShift", crewId: crew.id, dates: [shift.date], laterMin: 60 },
      { kind: "changeType", typeId: type!.id, set: { power: { enduranceMin: 12 }, runningCentsPerHour: 5500 } },
      {
        kind: "changeType",
        typeId: type!.id,
        set: { nightCapable: false, liquid: { swathM: 8 }, power: { reserveFrac: 0.25 } },
      },
    ]);
    expect(changesWords(operation, changes)).toBe(
      `1 more ${type!.name} at ${base!.name} with 2 battery sets; ${crew.name} 60 min later back on ${shortDateWords(shift.date, shift.date)}; ${type!.name}: endurance 12 min, running cost 55.00 EUR per h; ${type!.name}: can work at night no, for spraying: swath 8 m, reserve at landing 25 %`,
    );
  });
});

describe("a shift moved", () => {
  const longer = (earlierMin: number, laterMin: number) => ({
    kind: "longerShift",
    crewId: crew.id,
    earlierMin,
    laterMin,
  });
  it("ends on the next day where it has to", () => {
    const night = changedBy([
      { kind: "setShift", crewId: crew.id, date: shiftDate, from: "18:00", to: "23:30" },
      longer(30, 60),
    ]);
    expect(night.fleet.crews[0]!.shifts[0]).toEqual({ date: shiftDate, from: "17:30", to: "00:30" });
  });
  it("is refused when it would begin on the day before, or not last", () => {
    expect(faultsOf([longer(600, 0), longer(600, 0)])[0]).toContain("a shift that then begins on its day");
    expect(faultsOf([longer(-600, -600)])[0]).toContain("lasts longer than nothing");
  });
});

const shiftDate = crew.shifts[0]!.date;
