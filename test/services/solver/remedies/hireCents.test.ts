import { describe, expect, it } from "vitest";
import { hireCentsOf } from "../../../../services/solver/remedies/hireCents.ts";
import { changedBy } from "../../../../services/solver/remedies/tryChanges.ts";
import { type RemedyChange, remedyChangeSchema } from "../../../../shared/cases/remedyChange.ts";
import type { CrewDay } from "../../../../shared/plan/plan.ts";
import { tightOperation } from "../../../support/tightOperation.ts";

const operation = tightOperation(5);
const [first, second] = operation.fleet.crews;
const baseId = first!.baseId;
const change = (facts: object): RemedyChange => remedyChangeSchema.parse(facts);

/** Who goes out on which day of June 2027 with which tender and aircraft. */
const days = (...out: readonly (readonly [day: number, tenderId: string, aircraftId: string])[]) => ({
  crewDays: out.map(
    ([day, tenderId, aircraftId]) =>
      ({
        crewId: first!.id,
        date: `2027-06-${day}`,
        outfit: { aircraftIds: [aircraftId], tenderId },
      }) as unknown as CrewDay,
  ),
});
const cents = (asked: RemedyChange, plan: { crewDays: CrewDay[] }) =>
  hireCentsOf(operation, changedBy(operation, [asked])!, plan, [asked]);

describe("what is paid for hire", () => {
  const tender = change({ kind: "addTender", like: operation.fleet.tenders[0]!.id, baseId, count: 1 });
  const newTender = `${operation.fleet.tenders[0]!.id}-new`;
  const crane = operation.fleet.aircraft.find(({ typeId }) => typeId === "crane-50")!.id;

  it("is by the day from the first to the last on which it goes out, at 120.00 a day", () => {
    expect(cents(tender, days([14, "tender-1", crane]))).toBe(0);
    expect(cents(tender, days([15, newTender, crane]))).toBe(12000);
    expect(cents(tender, days([14, "tender-1", crane], [15, newTender, crane], [17, newTender, crane]))).toBe(36000);
  });

  it("is by the week that is begun, at 400.00 a week; with sets, on any day that the type goes out", () => {
    const aircraft = change({ kind: "addAircraft", typeId: "crane-50", baseId, count: 1, batterySets: 3 });
    expect(cents(aircraft, days([14, "tender-1", crane], [17, "tender-1", crane]))).toBe(40000);
    expect(cents(aircraft, days())).toBe(0);
  });

  it("is for each: two sets at 50.00 a week, and a charger on any day that its base goes out at 25.00", () => {
    const sets = change({ kind: "batterySets", baseId, typeId: "crane-50", more: 2 });
    expect(cents(sets, days([14, "tender-1", crane]))).toBe(10000);
    const charger = change({ kind: "addCharger", baseId, bays: 2, kw: 18, count: 1 });
    expect(cents(charger, days([14, "tender-1", crane], [16, "tender-1", crane]))).toBe(7500);
  });

  it("is what is asked at the base in question, and the least where several offers fit", () => {
    const set = change({ kind: "batterySets", baseId, typeId: "crane-50", more: 1 });
    const [elsewhere] = [...operation.settings.bases, { id: "far" as typeof baseId }].filter(({ id }) => id !== baseId);
    const { typeId } = operation.fleet.aircraft.find(({ id }) => id === crane)!;
    const offer = { kind: "batterySets" as const, typeId, most: 2, per: "day" as const };
    const priced = (baseIds: (typeof baseId)[], hireCents: number) => ({ ...offer, baseIds, hireCents });
    const hire = [priced([elsewhere!.id], 100), priced([baseId], 4000), priced([baseId], 3000)];
    const of = { ...operation, fleet: { ...operation.fleet, hire } };
    expect(hireCentsOf(of, of, days([14, "tender-1", crane]), [set])).toBe(3000);
  });

  it("is nothing for hours and dates", () => {
    const { date } = second!.shifts[0]!;
    const hour = change({ kind: "longerShift", crewId: second!.id, dates: [date], earlierMin: 0, laterMin: 60 });
    expect(cents(hour, days([14, "tender-1", crane]))).toBe(0);
  });
});
