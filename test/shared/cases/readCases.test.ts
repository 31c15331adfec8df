import { describe, expect, it } from "vitest";
import { plannedCases } from "../../../shared/cases/plannedCases.ts";
import { readCases } from "../../../shared/cases/readCases.ts";
import { pathText } from "../../../shared/model/faults.ts";
import { richOperation } from "../../support/richOperation.ts";

const operation = richOperation();
const [type] = operation.fleet.aircraftTypes;
const [crew] = operation.fleet.crews;
const [base] = operation.settings.bases;
const one = {
  id: "without",
  name: "Without a crew",
  changes: [{ kind: "takeCrew", crewId: crew!.id }],
};
const good = { formatVersion: 1, cases: [one], weeksPerYear: 20, interestPct: 6 };

function faultsOf(raw: unknown): string[] {
  const outcome = readCases(raw, operation);
  return outcome.ok ? [] : outcome.faults.map(({ path, expected }) => `${pathText(path)}: ${expected}`);
}

describe("a cases file", () => {
  it("is told each fault once, and which members may be changed", () => {
    const set = { colour: "red" };
    const cases = [{ ...one, changes: [{ kind: "changeCrew", crewId: crew!.id, set }] }];
    const buys = [{ what: "Too dear", priceCents: 1e300, years: 5 }];
    const faults = faultsOf({ ...good, seeds: 1e20, cases: [...cases, { ...one, id: "dear", buys }] });
    expect(faults.filter((fault) => fault.startsWith("seeds: "))).toEqual(["seeds: a whole number from 1 to 100"]);
    expect(faults.find((fault) => fault.startsWith("cases[0].changes[0].set.colour: "))).toMatch(
      /one of name, .*dutyMax/,
    );
    expect(faults.find((fault) => fault.startsWith("cases[1].buys[0].priceCents: "))).toContain(
      "a number from 0 to 1000000000000",
    );
  });

  it("is read with its defaults", () => {
    const outcome = readCases(good, operation);
    expect(outcome.ok && [outcome.file.seeds, outcome.file.cases[0]!.changes.length]).toEqual([3, 1]);
    expect(outcome.ok && "iterations" in outcome.file.budget).toBe(true);
  });

  it("is refused with all that is wrong with it at once, whatever else is wrong", () => {
    const faults = faultsOf({
      formatVersion: 1,
      cases: [
        one,
        { ...one, changes: [{ kind: "takeCrew", crewId: "nobody" }] },
        { ...one, id: "base" },
        { ...one, id: "four", name: "", changes: [{ kind: "takeAircraft", aircraftId: "nothing" }] },
        { id: "five", name: "Five", changes: [{ kind: "flyHigher" }] },
      ],
      curve: { typeId: type!.id, baseId: "nowhere", upTo: 3, crewLike: "nobody" },
      seeds: 0,
      weeksPerYear: 60,
      intrestPct: 6,
    });
    for (const start of [
      "cases[1].id: an id that no other case has",
      "cases[1].changes[0].crewId: one of ",
      "cases[2].id: another id",
      "cases[3].name: ",
      "cases[3].changes[0].aircraftId: one of ",
      "cases[4].changes[0].kind: one of ",
      "curve.baseId: one of ",
      "curve.crewLike: one of ",
      "seeds: a whole number from 1 to 100",
      "weeksPerYear: a number above 0, up to 53",
      "interestPct: ",
      "intrestPct: one of ",
    ])
      expect(
        faults.filter((fault) => fault.startsWith(start)),
        start,
      ).toHaveLength(1);
    expect(faults).toHaveLength(12);
  });

  it("is refused where what comes of a case does not hold", () => {
    const changes = [{ kind: "changeCrew", crewId: crew!.id, set: { maxAircraft: 0 } }];
    expect(faultsOf({ ...good, cases: [{ ...one, changes }] }).join()).toMatch(
      /^cases\[0\]\.operation\.fleet\.crews\[0\]\.maxAircraft: /,
    );
  });

  it.each([
    ["nothing to plan", { cases: [] }, "cases: at least one case, or a curve"],
    ["two budgets", { budget: { iterations: 10, seconds: 2 } }, "budget: either iterations or seconds"],
    ["no budget", { budget: {} }, "budget: either iterations or seconds"],
    [
      "a price without years",
      { cases: [{ ...one, buys: [{ what: "x", priceCents: 5 }] }] },
      "cases[0].buys[0]: either priceCents with years, or perYearCents",
    ],
    [
      "both prices",
      { cases: [{ ...one, buys: [{ what: "x", priceCents: 5, years: 2, perYearCents: 1 }] }] },
      "cases[0].buys[0]: either priceCents with years, or perYearCents",
    ],
    [
      "more at the end than at first",
      { cases: [{ ...one, buys: [{ what: "x", priceCents: 5, years: 2, salvageCents: 6 }] }] },
      "cases[0].buys[0].salvageCents: no more than priceCents, and none beside perYearCents",
    ],
  ])("is refused with %s", (_, part, expected) => {
    expect(faultsOf({ ...good, ...part })).toEqual([expected]);
  });
});

describe("a curve", () => {
  it("goes from fewer aircraft to more, each with what comes with it", () => {
    const own = operation.fleet.aircraft.filter(({ typeId, baseId }) => typeId === type!.id && baseId === base!.id);
    const curve = { typeId: type!.id, baseId: base!.id, fewer: 1, upTo: 2, batterySets: 2, crewLike: crew!.id };
    const outcome = readCases({ ...good, cases: [], curve }, operation);
    if (!outcome.ok) throw new Error(JSON.stringify(outcome.faults));
    const cases = plannedCases(operation, outcome.file);
    const ids = [-1, 1, 2].map((more) => `curve-${own.length + more}`);
    expect(cases.map(({ id }) => id)).toEqual(["base", ...ids]);
    expect(cases[1]!.changes).toEqual([{ kind: "takeAircraft", aircraftId: own.at(-1)!.id }]);
    expect(cases[3]!.changes).toEqual([
      { kind: "addAircraft", typeId: type!.id, baseId: base!.id, count: 2, batterySets: 4 },
      { kind: "addCrew", like: crew!.id, baseId: base!.id, count: 2 },
    ]);
  });
});
