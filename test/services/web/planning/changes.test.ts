import { describe, expect, it } from "vitest";
import { aircraftOut, crewOut } from "../../../../services/web/app/week/planning/outOfService.ts";
import { thingChangeOf } from "../../../../services/web/app/week/planning/putIn.ts";
import { remedyDeed, remedyEffects } from "../../../../services/web/app/week/planning/remedyWords.ts";
import { nextDate } from "../../../../services/web/app/week/planning/times.ts";
import { applyChanges } from "../../../../shared/cases/applyChanges.ts";
import type { Remedy } from "../../../../shared/cases/remedy.ts";
import { asChanges, type RemedyChange } from "../../../../shared/cases/remedyChange.ts";
import type { Aircraft } from "../../../../shared/model/fleet.ts";
import type { Operation } from "../../../../shared/model/operation.ts";
import { smallOperation } from "../../../support/operation.ts";

const aircraft = (outOfService: Aircraft["outOfService"]) =>
  ({ id: "ac-1", typeId: "t", baseId: "b", outOfService }) as unknown as Aircraft;

describe("taken out of service", () => {
  it("joins days that touch or overlap, and keeps those apart that do not", () => {
    const known = aircraft([
      { from: "2027-06-10", to: "2027-06-12" },
      { from: "2027-06-20", to: "2027-06-21" },
    ]);
    const out = aircraftOut(known, { from: "2027-06-13", to: "2027-06-14" }, nextDate);
    expect(out.outOfService).toEqual([
      { from: "2027-06-10", to: "2027-06-14" },
      { from: "2027-06-20", to: "2027-06-21" },
    ]);
    const within = aircraftOut(known, { from: "2027-06-11", to: "2027-06-11" }, nextDate);
    expect(within.outOfService).toEqual(known.outOfService);
  });

  it("knows the day after the last of a month, of February and of a year", () => {
    expect([nextDate("2027-06-30"), nextDate("2028-02-28"), nextDate("2027-12-31")]).toEqual([
      "2027-07-01",
      "2028-02-29",
      "2028-01-01",
    ]);
  });

  it("takes a crew's shifts on these days alone, and tells where it has none", () => {
    const crew = smallOperation({}).fleet.crews[0]!;
    const [first, ...others] = crew.shifts;
    expect(crewOut(crew, { from: first!.date, to: first!.date })?.shifts).toEqual(others);
    expect(crewOut(crew, { from: "2001-01-01", to: "2001-01-02" })).toBeNull();
  });
});

const remedy = (sentence: string): Remedy => ({
  changes: [],
  sentence,
  askGrower: false,
  haWon: 12.4,
  haWonInAll: 10,
  orderIdsWon: [],
  stopsMoved: 1,
  stopsDropped: 2,
  costCents: -500,
  hireCents: 0,
  earnedCents: 41_000,
  valueCents: 0,
  netCents: 0,
});

describe("remedies", () => {
  it("are told by what is to be done, and by what that brings in the units that are chosen", () => {
    const one = remedy(
      "West large one hour longer on Friday 18 June 2027: 12.4 ha more (O-41, O-66), 1 stop moves, 5.00 EUR less to run",
    );
    expect(remedyDeed(one)).toBe("West large one hour longer on Friday 18 June 2027");
    const effects = remedyEffects(
      one,
      (areaHa) => `${areaHa.toFixed(1)} areas`,
      (cents) => `${cents} cents`,
    );
    expect(effects).toEqual([
      "12.4 areas more planned",
      "2.4 areas of other orders give way",
      "1 stop moves",
      "2 stops are left out",
      "41000 cents more earned",
      "500 cents less to run",
    ]);
    expect(remedyDeed(remedy("Something else altogether"))).toBe("Something else altogether");
  });

  /** What cases and remedies make of the same change is the truth beside which the screen's is held. */
  it("come to the same in the operation as where they were tried", () => {
    const operation = smallOperation({});
    const [crew] = operation.fleet.crews;
    const [order] = operation.orders;
    const [field] = operation.fields.features;
    const changes: RemedyChange[] = [
      { kind: "longerShift", crewId: crew!.id, dates: [crew!.shifts[0]!.date], earlierMin: 0, laterMin: 60 },
      { kind: "setShift", crewId: crew!.id, date: crew!.shifts[0]!.date, from: "04:30", to: "12:00" },
      { kind: "changeOrder", orderId: order!.id, set: { maySplit: true } },
      { kind: "changeOrder", orderId: order!.id, set: { latest: order!.latest } },
      { kind: "harvestDate", fieldId: field!.properties.id, date: "2027-12-01" },
      { kind: "addPad", fieldId: field!.properties.id, pad: { ...field!.properties.pads[0]!, id: "pad-new" as never } },
    ];
    for (const change of changes) {
      const tried = applyChanges(operation, asChanges([change]));
      if (!tried.ok) throw new Error(JSON.stringify(tried.faults));
      const { changed, id, resource } = thingChangeOf(change)!;
      expect(changed(thingIn(operation, resource, id)), change.kind).toEqual(thingIn(tried.operation, resource, id));
    }
  });

  it("leave to people what has to be hired or brought first", () => {
    expect(thingChangeOf({ kind: "addCharger", baseId: "b" as never, bays: 2, kw: 10, count: 1 })).toBeNull();
  });
});

function thingIn({ fields, fleet, orders }: Operation, resource: "crews" | "orders" | "fields", id: string): unknown {
  if (resource === "crews") return fleet.crews.find((one) => one.id === id);
  if (resource === "orders") return orders.find((one) => one.id === id);
  return fields.features.find(({ properties }) => properties.id === id);
}
