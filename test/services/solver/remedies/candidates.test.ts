import { describe, expect, it, test } from "vitest";
import { demoOperation } from "../../../../services/scenario/generate/demo/demoOperation.ts";
import { candidatesFor } from "../../../../services/solver/remedies/candidates.ts";
import { groupConflicts } from "../../../../services/solver/remedies/groups.ts";
import { changedBy } from "../../../../services/solver/remedies/tryChanges.ts";
import { remedyFaults } from "../../../../shared/cases/remedyGuard.ts";
import { bindsAlike } from "../../../../shared/cases/whatBinds.ts";
import type { Operation } from "../../../../shared/model/operation.ts";
import { type Conflict, type ConflictKind, conflictKinds, type Plan } from "../../../../shared/plan/plan.ts";
import { planned } from "../../../support/planned.ts";
import { tightOperation } from "../../../support/tightOperation.ts";

/** Every order in conflicts of all kinds, dates only asked of the first few: each of those takes an agronomy of its own. */
function everyConflict({ orders }: Operation, kinds: readonly ConflictKind[] = conflictKinds): Conflict[] {
  const isQuick = (kind: ConflictKind) => ["noQualifiedCrew", "labelForbids", "equipmentShort"].includes(kind);
  return orders.flatMap(({ id: orderId }, at) =>
    kinds
      .filter((kind) => at < mostDated || isQuick(kind))
      .map((kind) => ({ orderId, kind, blockIds: [], areaHa: 1, sentence: `${orderId}: ${kind}`, evidence: {} })),
  );
}
const mostDated = 2;

function candidates(operation: Operation, plan: Plan, conflicts: readonly Conflict[]) {
  return groupConflicts(operation, { conflicts: [...conflicts] }).flatMap((group) =>
    candidatesFor(operation, plan, group).map((candidate) => ({ group, ...candidate })),
  );
}

describe("what may help keeps every rule", () => {
  test.each([1, 2, 3])("of the tight operation %i, whatever is asked for", { timeout: 200_000 }, (seed) => {
    const operation = tightOperation(seed);
    const plan = planned(operation, 20);
    const found = [
      ...candidates(operation, plan, plan.conflicts),
      ...candidates(operation, plan, everyConflict(operation)),
    ];
    expect(found.length).toBeGreaterThan(30);
    const seen = new Set<string>();
    for (const { change } of found) {
      expect(remedyFaults(operation, [change])).toEqual([]);
      if (seen.has(JSON.stringify(change))) continue;
      seen.add(JSON.stringify(change));
      // Judging a whole operation takes a while: one in five, and all kinds among them.
      if (seen.size % 5 > 0) continue;
      const changed = changedBy(operation, [change]);
      expect(changed).not.toBeNull();
      expect(bindsAlike(operation, changed!)).toBe(true);
    }
  });

  it("offers other products only against what no date, hour or thing changes", () => {
    const operation = tightOperation(2);
    const plan = planned(operation, 20);
    const kinds = ["labelForbids", "bufferLeavesNothing", "seasonMaximum", "notEnoughHours"] as const;
    const found = candidates(operation, plan, everyConflict(operation, kinds));
    const kindsAgainst = (kind: string) => [
      ...new Set(found.filter(({ group }) => group.kind === kind).map(({ change }) => change.kind)),
    ];
    for (const kind of ["labelForbids", "bufferLeavesNothing", "seasonMaximum"])
      expect(kindsAgainst(kind)).toEqual(["changeOrder"]);
    expect(kindsAgainst("notEnoughHours").sort()).toEqual([
      "addAircraft",
      "addCharger",
      "addPad",
      "addTender",
      "batterySets",
      "changeOrder",
      "longerShift",
      "moveThings",
      "setShift",
    ]);
  });

  it("asks the grower of dates, products and parts, and of nothing else", () => {
    const operation = demoOperation();
    const found = candidates(operation, planned(operation, 0), everyConflict(operation, ["windowTooShort"]));
    for (const { change, askGrower } of found)
      expect(askGrower).toBe(change.kind === "changeOrder" || change.kind === "harvestDate");
    expect(new Set(found.map(({ askGrower }) => askGrower)).size).toBe(2);
  });

  it("gives no crew an hour that its duty does not leave", () => {
    const operation = tightOperation(3);
    const plan = planned(operation, 20);
    const tired = structuredClone(operation);
    for (const crew of tired.fleet.crews) crew.dutyMaxHoursPerWeek = 0.1;
    const hours = (of: Operation) =>
      candidates(of, plan, everyConflict(of, ["notEnoughHours"])).filter(({ change }) =>
        ["longerShift", "setShift"].includes(change.kind),
      );
    expect(hours(operation).length).toBeGreaterThan(0);
    expect(hours(tired)).toEqual([]);
  });
});
