import { describe, expect, it } from "vitest";
import { planFigures, shownDifference } from "../../../../services/web/app/week/planning/planFigures.ts";
import { mustBeDoneLeftOut, whatIsWorse } from "../../../../services/web/app/week/planning/worse.ts";
import type { OutfitChange, PlanDifference, StopChange, StopPlace } from "../../../../shared/replan/difference.ts";

const place = (crew: string, date: string) =>
  ({
    crewId: crew,
    crewName: crew.toUpperCase(),
    date,
    clock: "06:00",
    startAt: `${date}T06:00:00+02:00`,
  }) as StopPlace;

function change(kind: StopChange["kind"], blockId: string, more: Partial<StopChange> = {}): StopChange {
  return {
    kind,
    blockId,
    orderId: blockId.split("#")[0],
    fieldId: "F-1",
    fieldName: `Field of ${blockId.split("#")[0]}`,
    areaHa: 5,
    before: place("a", "2027-06-14"),
    now: kind === "moved" ? place("b", "2027-06-16") : null,
    reason: "saves",
    sentence: "It costs less.",
    ...more,
  } as StopChange;
}

type Orders = Parameters<typeof whatIsWorse>[1];
const order = (id: string, priority: Orders[number]["priority"], preferredDate: string | null = null) => ({
  id,
  fieldName: `Field of ${id}`,
  priority,
  preferredDate,
  areaHa: 10,
  plannedHa: 4,
});
const orders: Orders = [
  order("O-1", "mandatory"),
  order("O-2", "high"),
  order("O-3", "normal", "2027-06-15"),
  order("O-4", "normal", "2027-06-16"),
];

describe("what is worse in a plan", () => {
  it("names each order that must be done or is high once, with all that is dropped of it", () => {
    const changes = [
      change("dropped", "O-1#1"),
      change("dropped", "O-1#2", { areaHa: 2.5 }),
      change("dropped", "O-2#1"),
      change("dropped", "O-3#1"),
    ];
    const { high, mandatory, otherLeftOut } = whatIsWorse({ changes, outfits: [] }, orders, []);
    expect(mandatory).toEqual([{ orderId: "O-1", fieldName: "Field of O-1", areaHa: 7.5 }]);
    expect(high).toEqual([{ orderId: "O-2", fieldName: "Field of O-2", areaHa: 5 }]);
    expect(otherLeftOut.map(({ orderId }) => orderId)).toEqual(["O-3"]);
  });

  it("counts nothing that is done, or whose order was withdrawn", () => {
    const changes = [change("done", "O-1#1"), change("dropped", "O-9#1", { reason: "orderWithdrawn" })];
    expect(whatIsWorse({ changes, outfits: [] }, orders, [])).toEqual({
      mandatory: [],
      high: [],
      otherLeftOut: [],
      late: [],
      atWork: [],
    });
  });

  it("tells what comes after its preferred day and did not before", () => {
    const changes = [
      change("moved", "O-3#1"),
      change("moved", "O-3#2", { now: place("b", "2027-06-17") }),
      change("moved", "O-4#1"),
      change("moved", "O-3#3", { before: place("a", "2027-06-16") }),
    ];
    expect(whatIsWorse({ changes, outfits: [] }, orders, []).late).toEqual([
      { orderId: "O-3", fieldName: "Field of O-3", date: "2027-06-17" },
    ]);
    expect(whatIsWorse({ changes: changes.slice(2), outfits: [] }, orders, []).late).toEqual([]);
  });

  it("tells crews that are at work and have their day changed, and no others", () => {
    const changes = [
      change("done", "O-4#1"),
      change("moved", "O-3#1"),
      change("dropped", "O-2#1", { before: place("c", "2027-06-14") }),
      change("dropped", "O-2#2", { before: place("d", "2027-06-14") }),
    ];
    const outfits = [{ crewId: "a", crewName: "A", date: "2027-06-14", before: "x", now: "y" } as OutfitChange];
    const stop = (crewId: string, state: "notBegun" | "running" | "finished") =>
      ({ crewId, date: "2027-06-14", state }) as Parameters<typeof whatIsWorse>[2][number];
    const progress = [
      stop("a", "finished"),
      stop("a", "notBegun"),
      stop("c", "notBegun"),
      stop("d", "finished"),
      stop("d", "finished"),
    ];
    expect(whatIsWorse({ changes, outfits }, orders, progress).atWork).toEqual([
      { crewName: "A", date: "2027-06-14", changes: 2 },
    ]);
  });

  it("tells of a first plan what must be done and is not wholly in it", () => {
    const whole = { ...order("O-5", "mandatory"), plannedHa: 10 };
    expect(mustBeDoneLeftOut([...orders, whole])).toEqual([{ orderId: "O-1", fieldName: "Field of O-1", areaHa: 6 }]);
  });
});

describe("figures of two plans", () => {
  const totals = { stops: 3, servedHa: 100, totalCents: 9000, changeCents: 0, roadKm: 50 };
  const difference = {
    sameDays: true,
    before: { ...totals, changeCents: 500 },
    now: { ...totals, servedHa: 80, totalCents: 12_000, changeCents: 4000 },
    changes: [change("done", "O-1#1", { areaHa: 15 })],
  } satisfies Pick<PlanDifference, "sameDays" | "before" | "now" | "changes">;

  it("take what is done for no loss, and costs without what changes are charged", () => {
    expect(planFigures(difference)).toEqual([
      { of: "areaHa", was: 85, now: 80 },
      { of: "roadKm", was: 50, now: 50 },
      { of: "costCents", was: 8500, now: 8000 },
    ]);
  });

  it("differ by what whoever subtracts what is shown finds", () => {
    // 1,439.8 and 1,654.1 ha are shown.
    expect(shownDifference(1439.84, 1654.06, 0.1)).toBeCloseTo(-214.3, 9);
    expect(shownDifference(3_156_680, 2_890_640, 100)).toBe(266_100);
  });

  it("compare no costs of other days", () => {
    expect(planFigures({ ...difference, sameDays: false }).map(({ of }) => of)).toEqual(["areaHa", "roadKm"]);
  });
});
