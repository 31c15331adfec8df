import { beforeAll, describe, expect, it } from "vitest";
import { generateOperation } from "../../../services/scenario/generate/generateOperation.ts";
import { type CasesAsk, runCases } from "../../../services/whatif/runCases.ts";
import { caseOperation } from "../../../shared/cases/caseOperation.ts";
import { type CasesFile, casesFileSchema } from "../../../shared/cases/cases.ts";
import { compareRuns } from "../../../shared/cases/compareRuns.ts";
import { comparisonText } from "../../../shared/cases/comparisonText.ts";
import { seasonCaseFaults } from "../../../shared/cases/readCases.ts";
import type { RunOutcome } from "../../../shared/cases/runResult.ts";
import { widthChars } from "../../../shared/plan/textTable.ts";
import { createHistory } from "../../../shared/season/history.ts";
import { type Season, seasonFaults } from "../../../shared/season/season.ts";
import { seasonDocumentSchema } from "../../../shared/season/seasonDocument.ts";
import { seededRandom } from "../../support/seededRandom.ts";

const operation = generateOperation({ orders: 12, crews: 2, days: 7, seed: 4 });
const [crew] = operation.fleet.crews;
const { timeZone } = operation.settings;
/** Whatever the time of year, the days that the operation itself has. */
const season: Season = {
  document: seasonDocumentSchema.parse({
    formatVersion: 1,
    name: "A short season",
    demand: [{ from: "2027-06-01", to: "2027-07-31", ordersPerWeek: 8 }],
    weather: { meanRunDays: 2, windowDays: 182 },
  }),
  history: createHistory(operation.weather, timeZone),
};

function fileOf(changes: readonly unknown[]): CasesFile {
  return casesFileSchema.parse({
    formatVersion: 1,
    cases: [{ id: "other", name: "Otherwise", changes }],
    budget: { iterations: 10 },
    seeds: 1,
    weeksPerYear: 8,
    interestPct: 5,
  });
}

const day = operation.fleet.crews[0]!.shifts[0]!.date;
const file = fileOf([{ kind: "dayOff", crewId: crew!.id, date: day }]);
const weeks = 3;
const run = (threads: number, more: Partial<CasesAsk> = {}) =>
  runCases({ operation, file, sampled: { season, weeks }, threads, ...more }, () => {}).outcomes;
const byKey = (outcomes: readonly RunOutcome[]) =>
  [...outcomes].sort((a, b) => (JSON.stringify(a.key) < JSON.stringify(b.key) ? -1 : 1));

describe("cases over sampled weeks", { timeout: 240_000 }, () => {
  let alone: readonly RunOutcome[];
  beforeAll(async () => {
    expect(seasonFaults(season, operation)).toEqual([]);
    alone = await run(1);
  }, 240_000);

  it("come to the same with one thread and two", async () => {
    expect(alone.map(({ status }) => status)).toEqual(Array(2 * weeks).fill("planned"));
    expect(byKey(await run(2))).toEqual(byKey(alone));
  });

  it("meet the same weeks: days, orders and their hectares", () => {
    const weekOf = (caseId: string) =>
      byKey(alone).flatMap((one) =>
        one.status === "planned" && one.key.caseId === caseId
          ? [[one.key.week, one.result.firstDay, one.result.orders, one.result.openHoursPerOrder]]
          : [],
      );
    expect(weekOf("other")).toEqual(weekOf("base"));
    expect(new Set(weekOf("base").map(([, firstDay]) => firstDay)).size).toBe(weeks);
  });

  it("move the days that a change names with the week, and change its weather last", () => {
    const sampled = (changes: CasesFile["cases"][number]["changes"]) => {
      const outcome = caseOperation(operation, changes, { season, week: 2, random: seededRandom(9) });
      if (!outcome.ok) throw new Error(JSON.stringify(outcome.faults));
      return outcome.operation;
    };
    const plain = sampled([]);
    const off = sampled(file.cases[0]!.changes);
    expect(plain.settings.firstDay).not.toBe(operation.settings.firstDay);
    expect(off.fleet.crews[0]!.shifts).toEqual(plain.fleet.crews[0]!.shifts.slice(1));
    expect(off.weather).toEqual(plain.weather);
    const windy = sampled(fileOf([{ kind: "changeWeather", windFactor: 2 }]).cases[0]!.changes);
    expect(windy.weather.map(({ windKph }) => windKph)).toEqual(plain.weather.map(({ windKph }) => windKph * 2));
    expect(windy.orders).toEqual(plain.orders);
  });

  it("are told with their quantiles and spray hours by month", () => {
    const comparison = compareRuns(operation, file, alone);
    expect(comparison.weeks).toBe(weeks);
    expect(comparison.cases[0]!.differences!.servedHa.pairs).toBe(weeks);
    const text = comparisonText(comparison);
    expect(Math.max(...text.split("\n").map((line) => [...line].length))).toBeLessThanOrEqual(widthChars);
    expect(text).toMatch(/^1 case beside the operation as it is, over 3 sampled weeks, 1 seed each\./m);
    expect(text).toMatch(/^2027-0[67] +\d weeks? +\d+\.\d h/m);
  });

  it("cannot have their weather replaced", () => {
    const steps = [operation.weather[0]!];
    expect(seasonCaseFaults(fileOf([{ kind: "replaceWeather", steps }]))).toMatchObject([
      { path: ["cases", 0, "changes", 0, "kind"], value: "replaceWeather" },
    ]);
    expect(seasonCaseFaults(file)).toEqual([]);
  });
});
