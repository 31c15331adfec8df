import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { byHandOf, formFields } from "../../../../services/web/app/records/recordForm.ts";
import { recordLines } from "../../../../services/web/app/records/recordLines.ts";
import { unitWords } from "../../../../services/web/app/units/unitWords.ts";
import {
  type ApplicationRecord,
  applicationRecordSchema,
  recordChangeSchema,
} from "../../../../shared/contracts/applicationRecords.ts";
import { applicationFactsSchema, type ByHand } from "../../../../shared/done/applicationRecord.ts";
import { missingIn, originsOf } from "../../../../shared/done/completeness.ts";
import { recordedOf } from "../../../../shared/done/recorded.ts";

const examples = JSON.parse(
  readFileSync(new URL("../../../../scenarios/api-examples.json", import.meta.url), "utf8"),
) as Record<string, { answer: { body: unknown } }>;
const plain = applicationRecordSchema.partial().parse(examples.applicationRecord!.answer.body) as ApplicationRecord;
const facts = applicationFactsSchema.parse(plain.record);

/** As the server tells it after this was put by hand. */
function told(byHand: ByHand): ApplicationRecord {
  const record = recordedOf(facts, byHand);
  const missing = missingIn(record);
  return { ...plain, record, byHand, missing, complete: missing.length === 0, origins: originsOf(record, byHand) };
}
const put = (before: ByHand, given: Record<string, string>, system: "metric" | "us" = "metric") => {
  const outcome = byHandOf(told(before), given, system);
  if (!outcome.ok) throw new Error(outcome.faults.join(" "));
  expect(recordChangeSchema.shape.byHand.safeParse(outcome.byHand).success).toBe(true);
  return outcome;
};

describe("a record put right by form", () => {
  it("is as it was where nothing is touched, in any unit", () => {
    const before: ByHand = { growerAddress: "Mill Lane 1", treatedHa: 10.123456789 };
    for (const system of ["metric", "us"] as const) {
      const shown = Object.fromEntries(formFields(told(before), system).map(({ key, text }) => [key, text]));
      expect(put(before, shown, system)).toEqual({ ok: true, byHand: before, isChanged: false });
    }
  });

  it("tells what the rules ask for", () => {
    expect(told({}).complete).toBe(false);
    const { byHand } = put(
      {},
      {
        growerAddress: "Mill Lane 1",
        landId: "R-17",
        eppoCode: "ZEAMX",
        "applicator 0": "Ada Berg",
        "certification 0": "C-5",
      },
    );
    expect(byHand.applicators).toEqual([{ name: "Ada Berg", certificationNumber: "C-5" }]);
    expect(missingIn(recordedOf(facts, byHand))).toEqual([]);
  });

  it("keeps hectares, litres and kilograms, whatever units are typed", () => {
    const [product] = facts.products;
    const { byHand } = put({}, { treatedHa: "20", [`amount ${product!.productId}`]: "2204.62" }, "us");
    // NIST Handbook 44, Appendix C: an acre is 4,046.873 m2, a pound 0.45359237 kg.
    expect(byHand.treatedHa).toBeCloseTo(20 * 0.4046873, 4);
    expect(byHand.products![0]!.amount).toBeCloseTo(1000, 2);
    expect(put({}, { treatedHa: "7,5" }).byHand.treatedHa).toBe(7.5);
  });

  it("reads times on the operation's clocks", () => {
    expect(facts.timeZone).toBe("Europe/Madrid");
    expect(put({}, { startedAt: "2027-06-14T05:30" }).byHand.startedAt).toBe("2027-06-14T03:30:00.000Z");
  });

  it("falls back to what was reported where a text is emptied", () => {
    const before: ByHand = {
      crop: "wheat",
      products: [{ productId: facts.products[0]!.productId, amount: 5 }],
      applicators: [{ name: "Ada Berg" }],
    };
    const { byHand } = put(before, { crop: "", [`amount ${facts.products[0]!.productId}`]: "", "applicator 0": "" });
    expect(byHand).toEqual({});
  });

  it.each([
    ["treatedHa", "many", "Area treated"],
    ["treatedHa", "-1", "Area treated"],
    ["eppoCode", "wheat", "EPPO code of the crop"],
    ["growthStage", "100", "Growth stage (BBCH)"],
    ["startedAt", "this morning", "Started"],
  ])("is not sent with a fault: %s %s", (key, text, label) => {
    const outcome = byHandOf(told({}), { [key]: text }, "metric");
    expect(outcome).toMatchObject({ ok: false, faults: [expect.stringContaining(`${label}: expected`)] });
  });
});

describe("a record on the screen", () => {
  it("names everything that is missing, and where the rest comes from", () => {
    const shown = told({ crop: "wheat" });
    const lines = recordLines(shown, unitWords("metric"));
    const missing = new Set(shown.missing.map(({ field }) => field));
    expect(new Set(lines.filter(({ isMissing }) => isMissing).map(({ key }) => key))).toEqual(missing);
    expect(missing.size).toBeGreaterThan(0);
    expect(lines.find(({ key }) => key === "crop")).toMatchObject({ value: "wheat", comesFrom: "a person, by hand" });
    // Everything that a rule asks for has a line.
    for (const { field } of shown.origins) expect(lines.map(({ key }) => key)).toContain(field);
  });
});
