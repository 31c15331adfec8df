import { describe, expect, it } from "vitest";
import { groupConflicts } from "../../../../services/solver/remedies/groups.ts";
import type { Conflict } from "../../../../shared/plan/plan.ts";
import { tightOperation } from "../../../support/tightOperation.ts";

const operation = tightOperation(2);
const [crew] = operation.fleet.crews;
const crewDay = { crewId: crew!.id, date: crew!.shifts[0]!.date };

function conflict(at: number, evidence: Conflict["evidence"]): Conflict {
  const { id: orderId } = operation.orders[at]!;
  return { orderId, kind: "notEnoughHours", blockIds: [], areaHa: 2, sentence: "as the plan says", evidence };
}

describe("the words of a group", () => {
  const atLoss = { crewDay, costCents: 9000, valueCents: 4000 };
  const full = { fitsAlone: crewDay };
  const sentence = (...conflicts: Conflict[]) =>
    groupConflicts(operation, { conflicts }).map((group) => group.sentence);

  it("say what there are hours for, at a loss", () => {
    expect(sentence(conflict(0, atLoss))).toEqual([
      expect.stringMatching(/, 2\.0 ha: not enough crew hours; could be done on top, but at a loss$/),
    ]);
    expect(sentence(conflict(0, atLoss), conflict(1, full))).toEqual([
      expect.stringMatching(/: not enough crew hours; 1 of them could be done on top, but at a loss$/),
    ]);
    const gains = { crewDay, costCents: 4000, valueCents: 9000 };
    expect(sentence(conflict(0, gains))).toEqual([expect.stringMatching(/: not enough crew hours$/)]);
    expect(sentence(conflict(0, full), conflict(1, full))).toEqual([expect.stringMatching(/: not enough crew hours$/)]);
  });
});
