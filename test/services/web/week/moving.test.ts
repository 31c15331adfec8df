import { describe, expect, it } from "vitest";
import {
  across,
  along,
  atMinute,
  isSameTarget,
  laneAtFirst,
  type MoveLane,
  moveLanes,
  takeUp,
} from "../../../../services/web/app/week/board/moving.ts";
import { nextOf } from "../../../../services/web/app/week/board/nextPlace.ts";
import { weekAddress, weekPlaceOf } from "../../../../services/web/app/week/selected.ts";
import { checkPlan } from "../../../../shared/plan/check/checkPlan.ts";
import { weekView } from "../../../../shared/plan/weekView.ts";
import { viewOperation, viewPlan } from "../../../support/viewPlan.ts";

const stop = (blockId: string, startMin: number, minutes = 60) => ({
  blockId,
  fieldName: `Field ${blockId}`,
  clock: "00:00",
  startMin,
  endMin: startMin + minutes,
});
const lanes: MoveLane[] = [
  { crewId: "A", crewName: "North", date: "2027-06-14", stops: [stop("a", 360), stop("b", 480), stop("c", 600)] },
  { crewId: "B", crewName: "South", date: "2027-06-14", stops: [stop("d", 420), stop("e", 620)] },
  { crewId: "A", crewName: "North", date: "2027-06-15", stops: [stop("f", 1440 + 300), stop("g", 1440 + 700)] },
  { crewId: "B", crewName: "South", date: "2027-06-15", stops: [] },
];
const taken = (blockId: string) => takeUp(lanes, blockId)!;

describe("a form for moving", () => {
  const reason = (evidence: Record<string, unknown>) => {
    const operation = viewOperation();
    const { conflicts } = weekView(operation, viewPlan(operation), { ok: true, checked: {}, breaches: [] });
    return { conflicts: conflicts.map((one) => ({ ...one, evidence })) };
  };

  it("begins where the block stands, or where its reason says that it might", () => {
    expect(laneAtFirst(reason({}), lanes, "g")).toBe(2);
    expect(laneAtFirst(reason({ crewDay: { crewId: "B", date: "2027-06-15" } }), lanes, "O-2#2")).toBe(3);
    expect(laneAtFirst(reason({ fitsAlone: { crewId: "B", date: "2027-06-14" } }), lanes, "O-2#2")).toBe(1);
    expect(laneAtFirst(reason({ fitsAlone: false }), lanes, "O-2#2")).toBe(0);
  });
});

describe("a stop that is moved by keys", () => {
  it("stands at its own place when it is taken up", () => {
    expect(taken("b").to).toEqual({ crewId: "A", date: "2027-06-14", after: "a" });
    expect(taken("a").to.after).toBeNull();
    expect(takeUp(lanes, "nothing")).toBeNull();
  });

  it("goes before and after the others of its day, and no further than its ends", () => {
    const later = along(lanes, taken("b"), 1);
    expect(later.to.after).toBe("c");
    expect(along(lanes, later, 1).to.after).toBe("c");
    const earlier = along(lanes, taken("b"), -1);
    expect(earlier.to.after).toBeNull();
    expect(along(lanes, earlier, -1).to.after).toBeNull();
    expect(isSameTarget(along(lanes, later, -1).to, taken("b").to)).toBe(true);
  });

  it("goes to the next crew or day at its own time of day", () => {
    const south = across(lanes, taken("c"), 1);
    // c begins at 10:00; d's middle is 07:30, e's 10:50.
    expect(south.to).toEqual({ crewId: "B", date: "2027-06-14", after: "d" });
    // f's middle is 05:30 of the next day, g's 12:10.
    expect(across(lanes, south, 1).to).toEqual({ crewId: "A", date: "2027-06-15", after: "f" });
    const last = across(lanes, across(lanes, south, 1), 1);
    expect(last.to).toEqual({ crewId: "B", date: "2027-06-15", after: null });
    expect(across(lanes, last, 1)).toEqual(last);
    expect(across(lanes, taken("a"), -1)).toEqual(taken("a"));
  });

  it("never comes after itself where it is let go", () => {
    expect(atMinute(lanes[0]!, "a", 10_000).after).toBe("c");
    expect(atMinute(lanes[0]!, "c", 10_000).after).toBe("b");
    expect(atMinute(lanes[0]!, "c", 0).after).toBeNull();
  });

  it("may go to every day on which a crew has a shift, as the board has them", () => {
    const operation = viewOperation();
    const plan = viewPlan(operation);
    const week = weekView(operation, plan, checkPlan(operation, plan));
    const shifts = operation.fleet.crews.flatMap(({ id, shifts: own }) => own.map(({ date }) => `${date} ${id}`));
    const found = moveLanes(week).map(({ crewId, date }) => `${date} ${crewId}`);
    expect(found).toEqual(shifts.sort());
    expect(moveLanes(week).flatMap(({ stops }) => stops).length).toBeGreaterThan(2);
  });
});

describe("arrow keys on the board", () => {
  const places = [
    { row: 0, px: 0 },
    { row: 0, px: 100 },
    { row: 1, px: 0 },
    { row: 1, px: 40 },
    { row: 1, px: 90 },
    { row: 3, px: 70 },
  ];
  it("go along a row and stop at its ends", () => {
    expect(nextOf(places, 2, "ArrowRight")).toBe(3);
    expect(nextOf(places, 4, "ArrowRight")).toBeNull();
    expect(nextOf(places, 2, "ArrowLeft")).toBeNull();
    expect(nextOf(places, 3, "End")).toBe(4);
    expect(nextOf(places, 4, "Home")).toBe(2);
  });
  it("go to what stands nearest in the next row that has anything", () => {
    expect(nextOf(places, 1, "ArrowDown")).toBe(4);
    expect(nextOf(places, 4, "ArrowDown")).toBe(5);
    expect(nextOf(places, 5, "ArrowUp")).toBe(4);
    expect(nextOf(places, 5, "ArrowDown")).toBeNull();
    expect(nextOf(places, 0, "ArrowUp")).toBeNull();
    expect(nextOf(places, 0, "x")).toBeNull();
  });
});

describe("the address of the week", () => {
  const plan = "7c1c6a52-0000-4000-8000-000000000001";
  const within = (address: string) => address.replace("#week/", "").split("/").map(decodeURIComponent);
  it.each([
    null,
    { kind: "order", orderId: "O-1" },
    { kind: "order", orderId: "O/1 é", blockId: "O/1 é#2" },
    { kind: "crewDay", crewId: "crew 1", date: "2027-06-14" },
  ] as const)("says what is chosen and is read again: %o", (selected) => {
    expect(weekPlaceOf(within(weekAddress(plan, selected)))).toEqual({ planId: plan, selected });
  });
  it("chooses nothing where it is not to be understood", () => {
    expect(weekPlaceOf([])).toEqual({ planId: null, selected: null });
    expect(weekPlaceOf([plan, "order"])).toEqual({ planId: plan, selected: null });
    expect(weekPlaceOf([plan, "day", "crew-1"])).toEqual({ planId: plan, selected: null });
    expect(weekPlaceOf([plan, "else", "x"])).toEqual({ planId: plan, selected: null });
  });
});
