import { describe, expect, it } from "vitest";
import { applicationFactsOf, type FactsInput } from "../../../shared/done/applicationFacts.ts";
import type { ApplicationFacts, ByHand } from "../../../shared/done/applicationRecord.ts";
import { missingIn, originsOf } from "../../../shared/done/completeness.ts";
import { clockFinding, findingsOf } from "../../../shared/done/findings.ts";
import { recordedOf } from "../../../shared/done/recorded.ts";
import { recordFields } from "../../../shared/done/recordFields.ts";
import { standing } from "../../../shared/done/standing.ts";
import type { KeptReport } from "../../../shared/done/workReport.ts";
import { type Operation, operationSchema } from "../../../shared/model/operation.ts";
import { viewOperation, viewPlan } from "../../support/viewPlan.ts";
import { keptReport, planId, uuid } from "../../support/workReports.ts";

const view = viewOperation();
const plan = viewPlan(view);
const friday = { crewId: "K1", date: "2027-03-26" };
const sunday = { crewId: "K1", date: "2027-03-28" };
const at = (min: number) => new Date(Date.UTC(2027, 2, 26, 6, 22 + min)).toISOString();
let lastId = 0;
const told = (min: number, report: object, day = friday) =>
  keptReport(plan, day, { id: uuid(++lastId), at: at(min), blockId: "O-1#1", ...report } as never);
const facts = (about: readonly KeptReport[], more: Partial<FactsInput> = {}): ApplicationFacts | null =>
  applicationFactsOf({
    operation: view,
    plan,
    planId,
    blockId: "O-1#1",
    ...friday,
    about: standing(about).reports,
    ...more,
  });
const wholeDay = (end: object = {}) => [
  told(0, { kind: "started" }),
  told(60, { kind: "finished", doneHa: 12, ...end }),
];

/** An operation as a document, changed. */
const changed = (change: (operation: Operation) => void): Operation => {
  const operation = structuredClone(view);
  change(operation);
  return operationSchema.parse(operation);
};

describe("hectares of a crew-day", () => {
  it("are what the block's grow by in its reports", () => {
    const about = [
      told(0, { kind: "started" }),
      told(30, { kind: "stopped", reason: "wind", doneHa: 5 }),
      told(50, { kind: "goesOn" }),
      told(60, { kind: "stopped", reason: "rain", doneHa: 7.5 }),
      // Two days later, the same ground by the crew of another crew-day of the plan.
      told(2880, { kind: "goesOn" }, sunday),
      told(2940, { kind: "finished", doneHa: 12 }, sunday),
    ];
    expect(facts(about)).toMatchObject({
      state: "stopped",
      treatedHa: 7.5,
      startedAt: at(0),
      endedAt: at(60),
      again: false,
    });
    const moved = { ...plan, crewDays: plan.crewDays.map((day, index) => (index === 0 ? { ...day, ...sunday } : day)) };
    const second = facts(about, { plan: moved as never, ...sunday });
    expect(second).toMatchObject({ state: "finished", treatedHa: 4.5, startedAt: at(2880), again: false });
  });

  it("are none where nothing was done, and all of them where another crew had finished before", () => {
    expect(facts([told(0, { kind: "started" })])).toBeNull();
    expect(facts([told(10, { kind: "stopped", reason: "wind", doneHa: 0 })])).toBeNull();
    const twice = facts([told(-60, { kind: "finished", doneHa: 12 }, sunday), ...wholeDay()]);
    expect(twice).toMatchObject({ treatedHa: 12, again: true });
    expect(findingsOf(recordedOf(twice!, {}))[0]).toBe(
      "Another crew had reported the same ground as finished: it may have been treated twice.",
    );
  });
});

describe("a record", () => {
  it("tells of an end what the plan, the order, the label and the fleet know", () => {
    expect(facts(wholeDay())).toMatchObject({
      fieldName: "Long Acre",
      crop: "wheat",
      method: "liquid",
      carrierLPerHa: 15,
      blockHa: 12,
      aircraft: [
        { id: "A1", type: "Small multirotor" },
        { id: "A2", type: "Small multirotor" },
      ],
      applicators: [{ name: "Pilot One", certificationNumber: null }],
      // 1 and 0.2 L/ha on 12 ha.
      products: [
        { productId: "LIQ", registrationNumber: "000001-00", amount: 12, unit: "L", ratePerHa: 1, amountFrom: "order" },
        { productId: "LIQ2", registrationNumber: "000003-00", unit: "L", amountFrom: "order", ordered: true },
      ],
    });
  });

  it("tells no applicator where it could have been one of several", () => {
    const operation = changed(({ fleet }) => {
      const { people } = fleet.crews[0]!;
      people.push({ ...people[0]!, id: "N2" as never, name: "Pilot Two" });
    });
    const record = facts(wholeDay(), { operation })!;
    expect(record).toMatchObject({ applicators: [], qualified: [{ name: "Pilot One" }, { name: "Pilot Two" }] });
    expect(missingIn(recordedOf(record, {})).map(({ field }) => field)).toContain("applicators");
  });

  it("takes what the crew says it used, also what was not ordered or is not known", () => {
    const used = [
      { productId: "LIQ", amount: 30 },
      { productId: "GRA", amount: 2 },
      { productId: "STRANGE", amount: 1 },
    ];
    const record = recordedOf(facts(wholeDay({ used }))!, {});
    expect(
      record.products.map(({ productId, amount, amountFrom, ordered }) => [productId, amount, amountFrom, ordered]),
    ).toEqual([
      ["LIQ", 30, "report", true],
      ["LIQ2", 2.4, "order", true],
      ["GRA", 2, "report", false],
      ["STRANGE", 1, "report", false],
    ]);
    expect(findingsOf(record)).toEqual([
      // 30 L on 12 ha; the label allows 0.5 to 2 L/ha.
      "2.5 L/ha of Liquid Example were used; the label allows 0.5 to 2 L/ha.",
      "Granular Example was used and not ordered.",
      "0.167 kg/ha of Granular Example were used; the label allows 20 to 150 kg/ha.",
      "STRANGE was used and not ordered.",
      "It is not known that the label of STRANGE allows it on wheat.",
      "No conditions were measured on site.",
    ]);
    expect(missingIn(record).map(({ field }) => field)).toContain("products.registrationNumber");
  });

  it("tells that the phone's clock was wrong", () => {
    const ahead = wholeDay().map((one) => ({ ...one, receivedAt: at(-10) }));
    expect(findingsOf(recordedOf(facts(ahead)!, {}))).toContain(clockFinding);
    expect(findingsOf(recordedOf(facts(wholeDay())!, {}))).not.toContain(clockFinding);
  });

  it("puts what was measured beside what is allowed, inside and outside", () => {
    const air = { windKph: 2, gustKph: 26, temperatureC: 30, humidityPct: 20 };
    const record = recordedOf(facts([...wholeDay(), told(5, { kind: "conditions", air })])!, {});
    const [measured] = record.measured;
    expect(measured!.limits.map(({ measure, bound, allowed, holds }) => [measure, bound, allowed, holds])).toEqual([
      ["wind", "least", 3, false],
      ["wind", "most", 12, true],
      ["gust", "most", 25, false],
      ["Delta T", "least", 2, true],
      // 30 °C at 20 % has a wet bulb near 15.5 °C (Stull 2011, equation 1: 15.6 °C), so about 14.5 K.
      ["Delta T", "most", 8, false],
    ]);
    expect(measured!.limits[4]!.measured).toBeGreaterThan(13.5);
    expect(measured!.limits[4]!.measured).toBeLessThan(15.5);
    expect(findingsOf(record)).toHaveLength(3);
    expect(findingsOf(record)[0]).toBe(
      "At 07:27 wind of 2 km/h was measured; at least 3 km/h is allowed by label of Second Liquid.",
    );
  });
});

describe("what is missing", () => {
  const complete: ByHand = {
    growerAddress: "1 Mill Lane",
    landId: "DE-1",
    eppoCode: "TRZAW",
    applicators: [{ name: "Pilot One", certificationNumber: "C-1" }],
  };
  const fieldsOf = (byHand: ByHand, operation = view) =>
    missingIn(recordedOf(facts(wholeDay(), { operation })!, byHand)).map(({ field, rule }) => `${rule} ${field}`);

  it("is nothing where all is there, and each thing that is taken away", () => {
    expect(fieldsOf(complete)).toEqual([]);
    const { growerAddress: _, ...noAddress } = complete;
    expect(fieldsOf(noAddress)).toEqual(["us growerAddress"]);
    const { landId: __, ...noLand } = complete;
    expect(fieldsOf(noLand)).toEqual(["eu landId"]);
    const { eppoCode: ___, ...noCode } = complete;
    expect(fieldsOf(noCode)).toEqual(["eu eppoCode"]);
    expect(fieldsOf({ ...complete, applicators: [{ name: "Pilot One" }] })).toEqual([
      "us applicators.certificationNumber",
    ]);
    const noStart = facts([told(60, { kind: "finished", doneHa: 12 })])!;
    expect(missingIn(recordedOf(noStart, complete)).map(({ field, rule }) => `${rule} ${field}`)).toEqual([
      "us startedAt",
      "eu startedAt",
    ]);
  });

  it("is asked by the rules of the operation, and of restricted products only in the United States", () => {
    const byRules = (rules: ("us" | "eu")[]) =>
      changed(({ settings }) => {
        settings.recordRules = rules;
      });
    expect(fieldsOf({}, byRules(["us"]))).toEqual(["us growerAddress", "us applicators.certificationNumber"]);
    expect(fieldsOf({}, byRules(["eu"]))).toEqual(["eu landId", "eu eppoCode"]);
    expect(fieldsOf({}, byRules([]))).toEqual([]);
    const unrestricted = changed(({ products }) => {
      for (const product of products) product.restrictedUse = false;
    });
    expect(fieldsOf({}, unrestricted)).toEqual(["eu landId", "eu eppoCode"]);
  });

  it("is the growth stage only where a label names stages", () => {
    const limited = changed(({ products }) => {
      products[0]!.growthStageLimited = true;
    });
    expect(fieldsOf(complete, limited)).toEqual(["eu growthStage"]);
    expect(fieldsOf({ ...complete, growthStage: 59 }, limited)).toEqual([]);
  });

  it("comes from the operation where it is given there", () => {
    const operation = changed(({ fields, fleet }) => {
      Object.assign(fields.features[0]!.properties, {
        growerAddress: "1 Mill Lane",
        landId: "DE-1",
        eppoCode: "TRZAW",
      });
      fleet.crews[0]!.people[0]!.certificationNumber = "C-1";
    });
    expect(fieldsOf({}, operation)).toEqual([]);
    const record = recordedOf(facts(wholeDay(), { operation })!, {});
    expect(originsOf(record, {}).find(({ field }) => field === "landId")?.from).toBe("field");
    expect(originsOf(record, { landId: "DE-2" }).find(({ field }) => field === "landId")?.from).toBe("person");
  });

  // Items as the EPA tells them in its certification plan for Indian country; 7 CFR 110.3(a)(1) to (5), text of 2006, asks for a part of them.
  it("covers what commercial applicators in the United States have to record", () => {
    const items = [
      "name and address",
      "location",
      "size",
      "crop",
      "time",
      "brand",
      "registration",
      "total amount",
      "certified applicator",
    ];
    const asked = recordFields.flatMap(({ asked }) => asked.us ?? []).join("; ");
    for (const item of items) expect(asked, item).toContain(item);
  });
});

describe("what a person puts over a record", () => {
  it("makes amounts that are reckoned follow the hectares, and keeps those that were told", () => {
    const record = recordedOf(facts(wholeDay({ used: [{ productId: "LIQ", amount: 13 }] }))!, {
      treatedHa: 10,
      products: [{ productId: "LIQ2" as never, registrationNumber: "9-9" }],
    });
    expect(record.treatedHa).toBe(10);
    expect(record.products).toMatchObject([
      { amount: 13, ratePerHa: 1.3, amountFrom: "report" },
      { amount: 2, ratePerHa: 0.2, amountFrom: "order", registrationNumber: "9-9" },
    ]);
    const given = recordedOf(facts(wholeDay())!, { products: [{ productId: "LIQ" as never, amount: 24 }] });
    expect(given.products[0]).toMatchObject({ amount: 24, ratePerHa: 2, amountFrom: "person" });
  });
});
