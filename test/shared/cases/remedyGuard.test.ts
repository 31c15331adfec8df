import { describe, expect, it, test } from "vitest";
import { demoOperation } from "../../../services/scenario/generate/demo/demoOperation.ts";
import { applyChanges } from "../../../shared/cases/applyChanges.ts";
import { changesSchema } from "../../../shared/cases/change.ts";
import { remedyFaults } from "../../../shared/cases/remedyGuard.ts";
import { bindsAlike } from "../../../shared/cases/whatBinds.ts";

const demo = demoOperation();
const field = (name: string) => demo.fields.features.find(({ properties }) => properties.name === name)!.properties;
const combine = field("Combine's First");
const cannery = demo.orders.find(({ fieldId }) => fieldId === field("Cannery Ground").id)!;
const alternative = cannery.alternatives![0]!;
const pad = field("Idle Hundred").pads[0]!;

const things = { aircraftIds: [], chargerIds: [], tenderIds: [], batterySets: [] };
const order = (set: object) => ({ kind: "changeOrder", orderId: cannery.id, set });

/** Each breaks a label, a licence, duty, rest or a buffer, takes away what protects somebody, or asks for what is not to be had. */
const forbidden: readonly (readonly [string, object])[] = [
  ["a longer duty", { kind: "changeCrew", crewId: "crew-1", set: { dutyMaxHoursPerDay: 14 } }],
  ["a longer week", { kind: "changeCrew", crewId: "crew-1", set: { dutyMaxHoursPerWeek: 70 } }],
  ["less rest", { kind: "changeCrew", crewId: "crew-1", set: { restMinHours: 6 } }],
  ["night work", { kind: "changeCrew", crewId: "crew-1", set: { nightWork: true } }],
  ["more aircraft for a crew", { kind: "changeCrew", crewId: "crew-1", set: { maxAircraft: 4 } }],
  ["a licence", { kind: "train", crewId: "crew-1", personId: "alda", ratings: [], licenceClasses: ["high-hazard"] }],
  ["a rating", { kind: "train", crewId: "crew-1", personId: "alda", ratings: ["stork"], licenceClasses: [] }],
  [
    "more at once",
    { kind: "train", crewId: "crew-1", personId: "alda", ratings: [], licenceClasses: [], aircraftAtOnce: 5 },
  ],
  ["another crew", { kind: "addCrew", like: "crew-1", count: 1 }],
  ["an aircraft's limits", { kind: "changeType", typeId: "crane-50", set: { windMaxKph: 60 } }],
  ["another type", { kind: "addType", like: "crane-50", id: "crane-99", set: { slopeMaxPct: 90 } }],
  ["the operation's limits", { kind: "changeSettings", limits: { rainMm: 10 } }],
  ["the planner's weights", { kind: "changeSettings", planning: { highFactor: 9 } }],
  ["other weather", { kind: "changeWeather", windFactor: 0.5, rainFactor: 0, warmerC: 0 }],
  ["other steps", { kind: "replaceWeather", steps: demo.weather.slice(0, 2) }],
  ["fewer orders", { kind: "takeOrders", orderIds: [demo.orders[0]!.id] }],
  ["more orders", { kind: "addOrders", orders: [{ ...demo.orders[0]!, id: "O-new" }] }],
  ["a base", { kind: "addBase", base: { ...demo.settings.bases[0]!, id: "third" } }],
  ["a day off that is taken away with its shift", { kind: "dayOff", crewId: "crew-1", date: "2027-06-14" }],
  ["droplets", order({ dropletClass: "XF" })],
  ["a price", order({ priceCentsPerHa: 1 })],
  ["a wait that is dropped", order({ apartFrom: [] })],
  ["rain that is forgotten", order({ waitAfterRainMm: null })],
  ["products that are not listed", order({ products: [{ productId: "mcpa", ratePerHa: 1 }], carrierLPerHa: 60 })],
  [
    "another rate than is listed",
    order({ products: [{ productId: "azoxystrobin", ratePerHa: 2 }], carrierLPerHa: 60 }),
  ],
  ["another volume than is listed", order({ products: alternative.products, carrierLPerHa: 20 })],
  ["products and a date at once", order({ ...alternative, latest: "2027-06-22T00:00" })],
  ["an earlier latest", order({ latest: "2027-06-20T00:00" })],
  ["a latest in two weeks", order({ latest: "2027-07-05T00:00" })],
  ["a later earliest", order({ earliest: "2027-06-15T00:00" })],
  ["one piece", order({ maySplit: false })],
  ["an earlier harvest", { kind: "harvestDate", fieldId: combine.id, date: "2027-06-20" }],
  ["a harvest in two weeks", { kind: "harvestDate", fieldId: combine.id, date: "2027-07-06" }],
  ["two hours", { kind: "longerShift", crewId: "crew-1", dates: ["2027-06-14"], earlierMin: 60, laterMin: 60 }],
  ["all week", { kind: "longerShift", crewId: "crew-1", earlierMin: 0, laterMin: 60 }],
  ["a shift that there is", { kind: "setShift", crewId: "crew-1", date: "2027-06-14", from: "05:30", to: "17:30" }],
  ["unusual hours", { kind: "setShift", crewId: "crew-1", date: "2027-06-20", from: "00:00", to: "23:59" }],
  ["a day that is not planned", { kind: "setShift", crewId: "crew-1", date: "2027-06-28", from: "05:30", to: "17:30" }],
  ["what is not for hire", { kind: "addAircraft", typeId: "stork", baseId: "east", count: 1, batterySets: 0 }],
  ["more than are for hire", { kind: "addTender", like: "tender-2", baseId: "west", count: 2 }],
  [
    "sets that do not come with it",
    { kind: "addAircraft", typeId: "crane-50", baseId: "west", count: 1, batterySets: 9 },
  ],
  ["another charger", { kind: "addCharger", baseId: "west", bays: 8, kw: 90, count: 1 }],
  ["sets that are sold", { kind: "batterySets", baseId: "west", typeId: "crane-50", more: -2 }],
  ["an aircraft that is not there", { kind: "moveThings", toBaseId: "east", ...things, aircraftIds: ["crane-9"] }],
  [
    "a pad in the next valley",
    { kind: "addPad", fieldId: field("Idle Hundred").id, pad: { ...pad, id: "far", latDeg: pad.latDeg + 0.02 } },
  ],
];

const allowed: readonly (readonly [string, object])[] = [
  ["an hour", { kind: "longerShift", crewId: "crew-1", dates: ["2027-06-14"], earlierMin: 0, laterMin: 60 }],
  ["a day off worked", { kind: "setShift", crewId: "crew-1", date: "2027-06-20", from: "05:30", to: "17:30" }],
  [
    "things from the other yard",
    { kind: "moveThings", toBaseId: "east", ...things, aircraftIds: ["lark-1"], chargerIds: ["charger-w1"] },
  ],
  ["a hired tender", { kind: "addTender", like: "tender-2", baseId: "west", count: 1 }],
  ["a hired aircraft", { kind: "addAircraft", typeId: "crane-50", baseId: "east", count: 1, batterySets: 2 }],
  ["hired sets", { kind: "batterySets", baseId: "west", typeId: "crane-50", more: 2 }],
  ["a hired charger", { kind: "addCharger", baseId: "west", bays: 2, kw: 18, count: 2 }],
  ["a later harvest", { kind: "harvestDate", fieldId: combine.id, date: "2027-06-24" }],
  ["a later latest", order({ latest: "2027-06-24T00:00" })],
  ["an earlier earliest", order({ earliest: "2027-06-11T00:00" })],
  ["parts", order({ maySplit: true })],
  ["what is listed", order({ products: alternative.products, carrierLPerHa: alternative.carrierLPerHa })],
];

describe("the guard of remedies", () => {
  test.each(forbidden)("refuses %s", (_, change) => {
    expect(remedyFaults(demo, [change])).toHaveLength(1);
    const among = remedyFaults(demo, [allowed[0]![1], change]);
    expect(among).toHaveLength(1);
  });

  test.each(allowed)("lets %s pass, and nothing that binds is touched", (_, change) => {
    expect(remedyFaults(demo, [change])).toEqual([]);
    const outcome = applyChanges(demo, changesSchema.parse([change]));
    expect(outcome.ok ? [] : outcome.faults).toEqual([]);
    expect(outcome.ok && outcome.operation).not.toEqual(demo);
    expect(outcome.ok && bindsAlike(demo, outcome.operation)).toBe(true);
  });

  it("leaves locked things where they are", () => {
    const change = { kind: "moveThings", toBaseId: "east", ...things, aircraftIds: ["lark-1"] };
    const outfit = { aircraftIds: [demo.fleet.aircraft.find(({ id }) => id === "lark-1")!.id] };
    const crewId = demo.fleet.crews[2]!.id;
    const locks = [{ crewId, date: demo.settings.firstDay, stops: [], outfit, inOrder: false, nothingElse: false }];
    expect(remedyFaults({ ...demo, locks }, [change])).toHaveLength(1);
  });
});

describe("what binds", () => {
  const changed = (edit: (operation: typeof demo) => void) => {
    const copy = JSON.parse(JSON.stringify(demo)) as typeof demo;
    edit(copy);
    return bindsAlike(demo, copy);
  };

  it("is the same in a copy", () => expect(changed(() => {})).toBe(true));

  const edits: readonly (readonly [string, (operation: typeof demo) => void])[] = [
    ["a label", ({ products }) => (products[0]!.reiHours = 0)],
    ["a sensitive place", ({ sensitive }) => sensitive.features.pop()],
    ["a licence", ({ fleet }) => fleet.crews[1]!.people[0]!.licenceClasses.push("restricted")],
    ["a rating", ({ fleet }) => fleet.crews[3]!.people[1]!.ratings.push(fleet.aircraftTypes[0]!.id)],
    ["duty", ({ fleet }) => (fleet.crews[0]!.dutyMaxHoursPerDay += 1)],
    ["rest", ({ fleet }) => (fleet.crews[0]!.restMinHours -= 1)],
    ["an entry", ({ fields }) => entriesOf(fields).pop()],
    [
      "a closure",
      ({ fields }) => fields.features.find(({ properties }) => properties.closures[0])!.properties.closures.pop(),
    ],
    [
      "a past application",
      ({ fields }) =>
        fields.features.find(({ properties }) => properties.pastApplications[0])!.properties.pastApplications.pop(),
    ],
    ["a limit", ({ settings }) => (settings.limits.rainMm += 1)],
    ["droplets", ({ orders }) => (orders[0]!.dropletClass = "XF")],
    ["a wait", ({ orders }) => orders.find(({ apartFrom }) => apartFrom[0])!.apartFrom.pop()],
    ["an aircraft's limit", ({ fleet }) => (fleet.aircraftTypes[0]!.windMaxKph += 1)],
    ["the weather", ({ weather }) => (weather[0]!.windKph = 0)],
  ];
  test.each(edits)("holds %s", (_, edit) => expect(changed((operation) => void edit(operation))).toBe(false));
});

function entriesOf(fields: typeof demo.fields) {
  return fields.features.find(({ properties }) => properties.entries.length > 0)!.properties.entries;
}
