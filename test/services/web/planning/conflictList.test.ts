import { describe, expect, it } from "vitest";
import { conflictGroups, noFilter } from "../../../../services/web/app/week/planning/conflictList.ts";
import type { ConflictView } from "../../../../shared/plan/weekOrders.ts";

const conflict = (orderId: string, kind: ConflictView["kind"], areaHa: number, more: Partial<ConflictView> = {}) =>
  ({
    orderId,
    blocks: [],
    fieldName: `Field of ${orderId}`,
    grower: "Masía Esquirel",
    priority: "normal",
    kind,
    kindWords: kind,
    areaHa,
    sentence: "wind all day",
    because: null,
    evidence: {},
    ...more,
  }) satisfies ConflictView;

const list = [
  conflict("O-1", "noWindow", 4),
  conflict("O-2", "notEnoughHours", 20, { priority: "low" }),
  conflict("O-3", "noWindow", 9),
  conflict("O-4", "noWindow", 1, { priority: "mandatory", grower: "Finca Ñandú" }),
];
const idsOf = (filter: Partial<typeof noFilter>) =>
  conflictGroups(list, { ...noFilter, ...filter }).map(({ conflicts, kind }) => [
    kind,
    conflicts.map(({ orderId }) => orderId),
  ]);

describe("what is not planned, by reason", () => {
  it("has the reason with most hectares first, and in it what weighs most", () => {
    expect(idsOf({})).toEqual([
      ["notEnoughHours", ["O-2"]],
      ["noWindow", ["O-4", "O-3", "O-1"]],
    ]);
    expect(conflictGroups(list, noFilter).map(({ areaHa }) => areaHa)).toEqual([20, 14]);
  });

  it("finds by all words that are asked for, in whatever case and wherever they stand", () => {
    expect(idsOf({ search: "ÑANDÚ o-4" })).toEqual([["noWindow", ["O-4"]]]);
    expect(idsOf({ search: "ñandú o-3" })).toEqual([]);
    expect(idsOf({ search: "  wind  " })).toEqual(idsOf({}));
  });

  it("filters by reason and priority together", () => {
    expect(idsOf({ kind: "noWindow", priority: "normal" })).toEqual([["noWindow", ["O-3", "O-1"]]]);
    expect(idsOf({ kind: "notEnoughHours", priority: "mandatory" })).toEqual([]);
  });

  it("loses none of many", () => {
    const many = Array.from({ length: 200 }, (_, at) => conflict(`O-${at}`, at % 3 === 0 ? "noWindow" : "byHand", at));
    const told = conflictGroups(many, noFilter).flatMap(({ conflicts }) => conflicts);
    expect(new Set(told.map(({ orderId }) => orderId)).size).toBe(200);
  });
});
