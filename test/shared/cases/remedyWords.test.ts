import { describe, expect, it, test } from "vitest";
import { demoOperation } from "../../../services/scenario/generate/demo/demoOperation.ts";
import { remedyChangeSchema } from "../../../shared/cases/remedyChange.ts";
import { remedySentence, whatToDo } from "../../../shared/cases/remedyWords.ts";

const demo = demoOperation();
const cannery = demo.orders.find(({ maySplit, alternatives }) => !maySplit && alternatives !== undefined)!;
const fieldId = cannery.fieldId;
const things = { aircraftIds: [], chargerIds: [], tenderIds: [], batterySets: [] };
const hour = { kind: "longerShift", crewId: "crew-1", dates: ["2027-06-18"], earlierMin: 0, laterMin: 60 };

const words: readonly (readonly [object, string])[] = [
  [hour, "West large one hour longer on Friday 18 June 2027"],
  [{ ...hour, earlierMin: 60, laterMin: 0 }, "West large one hour earlier out on Friday 18 June 2027"],
  [
    { kind: "setShift", crewId: "crew-3", date: "2027-06-19", from: "06:00", to: "14:30" },
    "West small fields out on its day off, Saturday 19 June 2027, 06:00 to 14:30",
  ],
  [
    { kind: "moveThings", toBaseId: "east", ...things, tenderIds: ["tender-1"] },
    `Bring Big Bartolo to ${demo.settings.bases.find(({ id }) => id === "east")!.name}`,
  ],
  [
    { kind: "addTender", like: "tender-2", baseId: "west", count: 1 },
    "Hire 1 tender more like Old Bartolo at Molino Viejo, west yard",
  ],
  [
    { kind: "harvestDate", fieldId, date: "2027-08-22" },
    "Ask Estate Castroñeda to harvest Cannery Ground on Sunday 22 August 2027 or later",
  ],
  [
    { kind: "changeOrder", orderId: cannery.id, set: { latest: "2027-06-22T00:00" } },
    "Ask Estate Castroñeda whether O-113 on Cannery Ground may wait until the end of Monday 21 June 2027",
  ],
  [
    { kind: "changeOrder", orderId: cannery.id, set: { earliest: "2027-06-13T06:00" } },
    "Ask Estate Castroñeda whether O-113 on Cannery Ground may be done from Sunday 13 June 2027 06:00 on",
  ],
  [
    { kind: "changeOrder", orderId: cannery.id, set: { maySplit: true } },
    "Ask Estate Castroñeda whether O-113 on Cannery Ground may be done in parts",
  ],
  [
    { kind: "changeOrder", orderId: cannery.id, set: { ...cannery.alternatives![0]! } },
    "Ask Estate Castroñeda to take Azoxystrobin 250 suspension at 0.8 L/ha in 60 L/ha for O-113 on Cannery Ground",
  ],
];

describe("a remedy in words", () => {
  test.each(words)("%j", (change, sentence) => {
    expect(whatToDo(demo, remedyChangeSchema.parse(change))).toBe(sentence);
  });

  const facts = {
    changes: [remedyChangeSchema.parse(hour)],
    haWon: 12.4,
    haWonInAll: 12.4,
    orderIdsWon: [cannery.id],
    stopsMoved: 2,
    stopsDropped: 0,
    costCents: 3820,
    hireCents: 0,
    earnedCents: 41000,
  };

  it("tells what it wins, moves and costs", () => {
    expect(remedySentence(demo, facts)).toBe(
      "West large one hour longer on Friday 18 June 2027: 12.4 ha more (O-113), 2 stops move, 38.20 EUR more to run, 410.00 EUR more earned",
    );
  });

  it("tells of others, of hire, and of a loss", () => {
    const dear = { ...facts, haWonInAll: 10, stopsMoved: 1, stopsDropped: 1, costCents: -100, hireCents: 50000 };
    expect(remedySentence(demo, dear)).toBe(
      "West large one hour longer on Friday 18 June 2027: 12.4 ha more (O-113), 2.4 ha of others give way, 1 stop moves, 1 stop is left out, 1.00 EUR less to run, 500.00 EUR of hire, 410.00 EUR more earned, a loss of 89.00 EUR",
    );
    expect(remedySentence(demo, { ...facts, haWonInAll: 20 })).toContain("(O-113), 7.6 ha of others, too, 2 stops");
  });
});
