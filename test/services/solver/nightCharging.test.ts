import { describe, expect, it } from "vitest";
import { morningSets } from "../../../services/solver/nightCharging.ts";
import type { Operation } from "../../../shared/model/operation.ts";

import { smallOperation } from "../../support/operation.ts";

/** The small operation with one stock of sets at its first base, and a crew that is at least ten hours at home. */
function withStock(sets: number, mainsKw: number, chargersKw: number): { operation: Operation; baseId: string } {
  const operation = smallOperation({ orders: [] });
  const base = operation.settings.bases[0]!;
  const type = operation.fleet.aircraftTypes.find(({ power }) => power.source === "battery")!;
  base.mainsKw = mainsKw;
  operation.fleet.batteryStocks = [{ baseId: base.id, aircraftTypeId: type.id, sets }];
  type.power = { source: "battery", enduranceMin: 12, reserveFrac: 0.2, swapS: 60, chargeMin: 30, chargeKw: 8 };
  operation.fleet.chargers = [{ ...operation.fleet.chargers[0]!, baseId: base.id, kw: chargersKw }];
  operation.fleet.crews = [
    { ...operation.fleet.crews[0]!, baseId: base.id, restMinHours: 8, dutyMaxHoursPerDay: 14 },
    { ...operation.fleet.crews[0]!, id: "C-other" as never, baseId: base.id, restMinHours: 11, dutyMaxHoursPerDay: 14 },
  ];
  return { operation, baseId: base.id };
}

describe("sets that are full in the morning", () => {
  it("all, when the night has power enough: 20 sets x 8 kW x 0.5 h = 80 kWh of 10 h x 8 kW", () => {
    const { operation, baseId } = withStock(20, 8, 100);
    expect(morningSets(operation, baseId, 20)).toBe(20);
  });

  it("as many as mains or chargers give: 10 h x 2 kW = 20 of 80 kWh, a quarter of 20 sets", () => {
    expect(morningSets(withStock(20, 2, 100).operation, withStock(20, 2, 100).baseId, 20)).toBe(5);
    expect(morningSets(withStock(20, 100, 2).operation, withStock(20, 2, 100).baseId, 20)).toBe(5);
    // 10 h x 2.3 kW = 23 of 80 kWh: 5.75 sets.
    expect(morningSets(withStock(20, 2.3, 100).operation, withStock(20, 2, 100).baseId, 20)).toBe(5);
  });

  it("none without mains", () => {
    const { operation, baseId } = withStock(20, 0, 100);
    expect(morningSets(operation, baseId, 20)).toBe(0);
  });
});
