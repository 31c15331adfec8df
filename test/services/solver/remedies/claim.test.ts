import { describe, expect, it } from "vitest";
import { claimOf } from "../../../../services/solver/remedies/claim.ts";
import type { TriedPlan } from "../../../../services/solver/remedies/tryChanges.ts";
import { orderIdSchema } from "../../../../shared/model/quantities.ts";

const orderId = orderIdSchema.parse("O-1");
const group = { orderIds: [orderId] };
const tried = (areaHa: number, facts: Partial<TriedPlan> = {}): TriedPlan => ({
  status: "planned",
  servedHa: { "O-1": areaHa, "O-2": 10 },
  servedHaInAll: areaHa + 10,
  costCents: 1000 + 100 * areaHa,
  valueCents: 2000 * (areaHa + 10),
  earnedCents: 2000 * (areaHa + 10),
  hireCents: 0,
  stopsMoved: 1,
  stopsDropped: 0,
  isGood: true,
  withoutCents: null,
  ...facts,
});
const claim = (
  before: readonly TriedPlan[],
  after: readonly (TriedPlan | null)[],
  { presentHa = 0, isMandatory = false } = {},
) =>
  claimOf(
    group,
    {
      presentHa: { "O-1": presentHa },
      worthOf: (won) => 2000 * won.reduce((sum, { areaHa }) => sum + areaHa, 0),
      isMandatory: () => isMandatory,
    },
    before,
    after,
  );

describe("what is claimed of a change", () => {
  it("is what the worst search with it has over the best without, at the dearer cost", () => {
    // Worst with it 8 ha, best without 3 ha. Pairs: 12 - 3 = 9 ha for 900 and 8 - 2 = 6 ha for 600 cents; the second nets 12000 - 600, less than 18000 - 900.
    expect(claim([tried(3), tried(2)], [tried(12), tried(8)])).toEqual({
      haWon: 5,
      haWonInAll: 6,
      orderIdsWon: ["O-1"],
      stopsMoved: 1,
      stopsDropped: 0,
      costCents: 600,
      hireCents: 0,
      earnedCents: 12000,
      valueCents: 12000,
      netCents: 11400,
    });
  });

  it("counts hire, and is told at a loss", () => {
    expect(claim([tried(0)], [tried(5, { hireCents: 20000 })])).toMatchObject({ hireCents: 20000, netCents: -10500 });
  });

  it("is nothing where the search finds as much anyway, or the present plan has it", () => {
    expect(claim([tried(5)], [tried(5)])).toBeNull();
    expect(claim([tried(0)], [tried(5)], { presentHa: 5 })).toBeNull();
  });

  it("is nothing where one search does not find it, was not made, or made a plan that is not good", () => {
    expect(claim([tried(0), tried(0)], [tried(5), tried(0)])).toBeNull();
    expect(claim([tried(0), tried(0)], [tried(5), null])).toBeNull();
    expect(claim([tried(0)], [tried(5, { isGood: false })])).toBeNull();
  });

  it("is nothing where it costs more than it is worth, or as much of other orders gives way", () => {
    expect(claim([tried(0)], [tried(5, { costCents: 12000 })])).toBeNull();
    const others = [tried(5, { servedHaInAll: 10 })];
    expect(claim([tried(0)], others)).toBeNull();
    expect(claim([tried(0)], others, { isMandatory: true })).toMatchObject({ haWon: 5, haWonInAll: 0 });
  });

  it("is nothing where the change would be as well used for something else", () => {
    // 5 ha are worth 10000 cents; leaving them out again has to cost 1500 at least.
    const before = [tried(0), tried(0), tried(0)];
    expect(claim(before, [tried(5), tried(5), tried(5, { withoutCents: 1400 })])).toBeNull();
    expect(claim(before, [tried(5), tried(5), tried(5, { withoutCents: 1600 })])).toMatchObject({ haWon: 5 });
  });
});
