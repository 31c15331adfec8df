import { describe, expect, it } from "vitest";
import { type AgainOutcome, bottleneckRow, leftOutCentsPerHa } from "../../../shared/cases/bottlenecks.ts";
import { bottlenecksText } from "../../../shared/cases/bottlenecksText.ts";
import { everyUnit, type Unit } from "../../../shared/cases/units.ts";
import type { Plan } from "../../../shared/plan/plan.ts";
import { smallOperation } from "../../support/operation.ts";

const operation = smallOperation({});
const unitOf = (kind: Unit["kind"]) => everyUnit(operation).find((unit) => unit.kind === kind)!;

const runsOf = (...totals: number[]): AgainOutcome => ({
  ok: true,
  runs: totals.map((totalCents, at) => ({ seed: at + 1, totalCents, servedHa: totalCents < 95_000 ? 30 : 20 })),
});

const notes = {
  currency: "EUR",
  method: "routes",
  boundCents: 50_000,
  leavesOut: null,
  seeds: 3,
  iterations: 10,
} as const;

describe("units", () => {
  it("are an hour at both ends of every shift, a day for every day off, and a thing of each kind", () => {
    const counted = new Map<string, number>();
    for (const { kind } of everyUnit(operation)) counted.set(kind, (counted.get(kind) ?? 0) + 1);
    expect(Object.fromEntries(counted)).toEqual({
      hourLater: 3,
      hourEarlier: 3,
      aircraft: 2,
      tender: 1,
      charger: 1,
      dutyHour: 1,
    });
    // Six sets for two aircraft: three come with one more.
    expect(unitOf("aircraft").changes).toMatchObject([{ kind: "addAircraft", typeId: "SMALL", batterySets: 3 }]);

    const [crew] = operation.fleet.crews;
    const fewer = {
      ...operation,
      fleet: { ...operation.fleet, crews: [{ ...crew!, shifts: crew!.shifts.slice(0, 2) }] },
    };
    expect(everyUnit(fewer).filter(({ kind }) => kind === "dayWorked")).toEqual([
      {
        kind: "dayWorked",
        crewDay: { crewId: "K1", date: "2027-06-09" },
        changes: [{ kind: "setShift", crewId: "K1", date: "2027-06-09", from: "04:30", to: "18:00" }],
      },
    ]);
  });
});

describe("predicted beside realised", () => {
  it("takes differences search by search, and asks whether they are clear", () => {
    const predicted = { unit: unitOf("tender"), atMostCents: 20_000, cents: 12_000 };
    // Saved: 11000, 10000, 12000: 11000 on the average, standard deviation 1000, t of two degrees 4.303: 1000 x 4.303 / sqrt(3) = 2484 either side.
    const tried = { before: runsOf(100_000, 101_000, 102_000), after: runsOf(89_000, 91_000, 90_000) };
    const row = bottleneckRow(operation, predicted, 2000, tried);
    expect(row.realised!.cents.mean).toBe(11_000);
    expect(row.realised!.cents.interval95![0]).toBeCloseTo(11_000 - 2484, 0);
    expect(row.realised).toMatchObject({ isClear: true, spreadCents: 1000, areaHa: 10 });
    expect(row.aboutHa).toBe(6);
    const text = bottlenecksText([row], notes).join("\n");
    expect(text).toContain("200.00  120.00  6.0  110.00 ± 24.84  10.00  1 tender more like Tender 1");
    expect(text).not.toContain(": no clear difference\n");

    const noisy = { before: runsOf(100_000, 101_000, 102_000), after: runsOf(100_100, 99_000, 103_000) };
    const unclear = bottleneckRow(operation, predicted, null, noisy);
    expect(unclear.realised!.isClear).toBe(false);
    expect(unclear.aboutHa).toBeNull();
    expect(bottlenecksText([unclear], notes).join(" ").replace(/ +/g, " ")).toContain("Tender 1: no clear difference");
  });

  it("says why a unit was not tried, and what is only to know", () => {
    const row = bottleneckRow(operation, { unit: unitOf("dutyHour"), atMostCents: 500, cents: null }, null, {
      before: runsOf(1),
      after: { ok: false, message: "a thread was lost" },
    });
    expect(row).toMatchObject({ realised: null, failed: "a thread was lost", onlyToKnow: true });
    expect(bottlenecksText([row], notes).join(" ").replace(/ +/g, " ")).toContain(
      "(only to know): not tried, a thread was lost",
    );
    expect(bottlenecksText([], notes).join("\n")).toContain("Nothing is short");
  });

  it("counts a hectare by what is left out for want of hours or things", () => {
    const conflict = (kind: string, orderId: string, areaHa: number) => ({ kind, orderId, areaHa });
    const conflicts = [
      conflict("notEnoughHours", "O-1", 3),
      conflict("equipmentShort", "O-2", 1),
      conflict("noWindow", "O-2", 50),
    ];
    // 3 ha at 2500 and one at 2000.
    expect(leftOutCentsPerHa(operation, { conflicts } as unknown as Plan)).toBe(9500 / 4);
    expect(leftOutCentsPerHa(operation, { conflicts: [] })).toBeNull();
  });
});
