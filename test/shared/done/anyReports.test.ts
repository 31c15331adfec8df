import fc from "fast-check";
import { expect, it } from "vitest";
import { applicationFactsOf } from "../../../shared/done/applicationFacts.ts";
import { applicationFactsSchema } from "../../../shared/done/applicationRecord.ts";
import { missingIn, originsOf } from "../../../shared/done/completeness.ts";
import { findingsOf } from "../../../shared/done/findings.ts";
import { progressOf, progressSchema } from "../../../shared/done/progress.ts";
import { recordedOf, recordedSchema } from "../../../shared/done/recorded.ts";
import { standing } from "../../../shared/done/standing.ts";
import { viewOperation, viewPlan } from "../../support/viewPlan.ts";
import { keptReport, planId, uuid } from "../../support/workReports.ts";

const operation = viewOperation();
operation.settings.limits.windAt = "releaseHeight";
const plan = viewPlan(operation);
const friday = { crewId: "K1", date: "2027-03-26" };

/** The ends of what a schema lets through are where things break. */
const number = (min: number, max: number) =>
  fc.oneof(fc.constant(min), fc.constant(max), fc.double({ min, max, noNaN: true }));
const perhaps = <T>(value: fc.Arbitrary<T>) => fc.option(value, { nil: undefined });
const at = fc.oneof(
  fc.constant("1970-01-01T00:00:00.000Z"),
  fc.constant("2199-12-31T23:59:59.999Z"),
  fc
    .date({ min: new Date("2027-03-25"), max: new Date("2027-03-30"), noInvalidDate: true })
    .map((date) => date.toISOString()),
);
const least = Number.MIN_VALUE;
const amounts = fc.record({ productId: fc.constantFrom("LIQ", "GRA", "X"), amount: number(least, 1e6) });
const used = perhaps(fc.array(amounts, { maxLength: 3 }));
const air = fc.record({
  windKph: number(0, 200),
  gustKph: perhaps(number(0, 300)),
  windFromDeg: perhaps(number(0, 360)),
  temperatureC: perhaps(number(-40, 60)),
  humidityPct: perhaps(number(0, 100)),
  heightM: perhaps(number(least, 100)),
});
const report = fc.oneof(
  fc.constantFrom("arrived", "started", "loadDone", "goesOn").map((kind) => ({ kind })),
  fc.record({ kind: fc.constant("stopped"), reason: fc.constant("wind"), doneHa: number(0, 1e5), used }),
  fc.record({ kind: fc.constant("finished"), doneHa: number(0, 1e5), used }),
  fc.record({ kind: fc.constant("conditions"), air }),
);
const stored = (value: unknown): unknown => JSON.parse(JSON.stringify(value));

it("whatever the schemas let through, progress and record are made, and are read as they were stored", () => {
  let made = 0;
  fc.assert(
    fc.property(fc.array(fc.tuple(report, at, fc.boolean()), { minLength: 3, maxLength: 9 }), (reports) => {
      const kept = reports.map(([one, when, isOwn], index) =>
        keptReport(plan, { ...friday, crewId: isOwn ? "K1" : "K2" }, {
          id: uuid(index + 1),
          at: when,
          blockId: "O-1#1",
          ...(stored(one) as object),
        } as never),
      );
      const progress = progressOf(plan, kept, "2027-03-01T00:00:00.000Z");
      expect(progressSchema.parse(stored(progress))).toEqual(progress);
      const about = standing(kept).reports;
      const facts = applicationFactsOf({ operation, plan, planId, blockId: "O-1#1", ...friday, about });
      if (!facts) return;
      made += 1;
      const read = applicationFactsSchema.parse(stored(facts));
      expect(read).toEqual(stored(facts));
      const record = recordedOf(read, {});
      expect(recordedSchema.parse(stored(record))).toEqual(stored(record));
      for (const told of [missingIn(record), originsOf(record, {}), findingsOf(record)]) expect(told).toBeDefined();
    }),
    { seed: 1, numRuns: 500 },
  );
  expect(made).toBeGreaterThan(100);
});
