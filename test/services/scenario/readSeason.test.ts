import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { writeTable } from "../../../services/scenario/csv.ts";
import { formatFault } from "../../../services/scenario/faults.ts";
import { historyFromTable, readSeason } from "../../../services/scenario/readSeason.ts";
import { weatherStepSchema } from "../../../shared/model/weather.ts";
import { plainStep } from "../../support/dailyWeather.ts";
import { smallOperation } from "../../support/operation.ts";

const operation = smallOperation({});
const dir = await mkdtemp(join(tmpdir(), "season-"));
afterAll(() => rm(dir, { recursive: true }));

/** A quarter of a year, day by day in Berlin's summer, at a station 1 km from the yard. */
const steps = Array.from({ length: 92 }, (_, day) => ({
  ...plainStep(
    new Date(Date.parse("2026-05-31T22:00:00Z") + day * 86_400_000).toISOString().replace(".000Z", "Z"),
    1440,
  ),
  rainMm: day % 5 === 0 ? 3 : 0,
}));
const table = writeTable(weatherStepSchema, steps);
const season = {
  formatVersion: 1,
  name: "Summer",
  demand: [{ from: "2027-06-15", to: "2027-08-15", ordersPerWeek: 1 }],
};

async function told(seasonText: string, historyText: string): Promise<string[]> {
  const paths = { season: join(dir, "season.json"), history: join(dir, "history.csv") };
  await writeFile(paths.season, seasonText);
  await writeFile(paths.history, historyText);
  const outcome = await readSeason(paths, operation);
  return outcome.ok ? [] : outcome.faults.map(formatFault);
}
const toldOf = (document: object) => told(JSON.stringify(document), table);

describe("a season that is read", () => {
  it("is taken when nothing is wrong, with its defaults", async () => {
    await toldOf(season);
    const outcome = await readSeason(
      { season: join(dir, "season.json"), history: join(dir, "history.csv") },
      operation,
    );
    if (!outcome.ok) throw new Error(outcome.faults.map(formatFault).join("\n"));
    expect(outcome.season.document).toMatchObject({
      mandatory: "drawn",
      weather: { meanRunDays: 3, windowDays: 15 },
    });
    expect(outcome.season.history.days).toHaveLength(92);
    const rainy = outcome.season.history.days.filter(({ steps: ofDay }) => ofDay[0]!.step.rainMm > 0);
    expect(rainy.map(({ date }) => date).slice(0, 3)).toEqual(["2026-06-01", "2026-06-06", "2026-06-11"]);
  });

  it("names file, place, value and what was expected of every fault of the season", async () => {
    expect(await toldOf({ ...season, name: "", demands: 1 })).toEqual([
      'season.json, name: ""; expected text of at least 1 letter',
      "season.json, demands: 1; expected one of formatVersion, name, demand, mandatory, weather (perhaps demand)",
    ]);
    expect(await toldOf({ ...season, demand: [{ from: "2027-06-31", to: "2027-08-15", ordersPerWeek: -1 }] })).toEqual([
      'season.json, demand[0].from: "2027-06-31"; expected a date that exists, as 2027-06-07',
      "season.json, demand[0].ordersPerWeek: -1; expected a number above 0, up to 5000",
    ]);
  });

  it("says what contradicts itself", async () => {
    const span = { from: "2027-07-01", to: "2027-07-31", ordersPerWeek: 1 };
    expect(
      await toldOf({
        ...season,
        demand: [
          { ...span, to: "2027-06-30" },
          { ...span, from: "2027-06-30" },
          { from: "2027-08-01", to: "2027-08-15", ordersPerWeek: 1, areaHaPerWeek: 20 },
          { from: "2027-08-16", to: "2027-08-20" },
        ],
      }),
    ).toEqual([
      'season.json, demand[0].from: "2027-07-01"; expected a day not after 2027-06-30',
      'season.json, demand[1].from: "2027-06-30"; expected a day after 2027-06-30, where the span before ends',
      'season.json, demand[2]: "both"; expected either ordersPerWeek or areaHaPerWeek',
      'season.json, demand[3]: {"from":"2027-08-16","to":"2027-08-20"}; expected either ordersPerWeek or areaHaPerWeek',
    ]);
  });

  it("says when more orders are expected than there are to draw from", async () => {
    // Three days of the week: three sevenths of 7 orders a week, and there are two.
    expect(await toldOf({ ...season, demand: [{ ...season.demand[0], ordersPerWeek: 7 }] })).toEqual([
      "season.json, demand[0]: 3; expected at most 2 orders in the week of 2027-06-21: no more can be drawn from the operation's 2",
    ]);
  });

  it("says when no week fits, or the history says nothing of its dates", async () => {
    expect(await toldOf({ ...season, demand: [{ from: "2027-06-15", to: "2027-06-17", ordersPerWeek: 1 }] })).toEqual([
      "season.json, demand: 1; expected spans that hold at least one run of 3 days from the weekday of 2027-06-07",
    ]);
    const autumn = await toldOf({ ...season, demand: [{ from: "2027-06-15", to: "2027-10-15", ordersPerWeek: 1 }] });
    expect(autumn).toHaveLength(1);
    // The last day is 31 August: from 16 September on nothing lies within 15 days.
    expect(autumn[0]).toMatch(
      /^season.json, weather.windowDays: 15; expected a history that has a whole day within 15 days of every date of the season; \d+ dates have none, the first is 2027-09-16$/,
    );
  });

  it("says where JSON breaks, and what cannot be read", async () => {
    expect(await told('{"formatVersion": 1,\n', table)).toMatchObject([
      expect.stringMatching(/^season.json, line 2, column 1: /),
    ]);
    const outcome = await readSeason({ season: join(dir, "none.json"), history: join(dir, "none.csv") }, operation);
    expect(outcome.ok ? [] : outcome.faults.map(formatFault)).toEqual([
      'none.json, the whole file: "ENOENT"; expected a file that can be read',
      'none.csv, the whole file: "ENOENT"; expected a file that can be read',
    ]);
  });
});

describe("a history that is read", () => {
  const faultsOf = (text: string) => {
    const outcome = historyFromTable("history.csv", text, operation);
    return outcome.ok ? [] : outcome.faults.map(formatFault);
  };
  const rows = table.trim().split("\n");
  const withRow = (at: number, row: string) => `${rows.map((old, index) => (index === at ? row : old)).join("\n")}\n`;

  it("is taken whole", () => {
    const outcome = historyFromTable("history.csv", table, operation);
    expect(outcome).toEqual({ ok: true, steps });
  });

  it("names row, column, value and what was expected", () => {
    expect(faultsOf(withRow(2, rows[2]!.replace(",8,12,", ",8,3 kt,")))).toEqual([
      'history.csv, row 3, column gustKph: "3 kt"; expected a number from 0 to 350',
    ]);
    expect(faultsOf(withRow(4, rows[4]!.replace(",8,12,", ",8,3,")))).toMatchObject([
      expect.stringMatching(/^history.csv, row 5, column gustKph: 3; expected /),
    ]);
    expect(faultsOf(withRow(3, rows[2]!))).toMatchObject([
      expect.stringMatching(
        /^history.csv, row 4, column start: "2026-06-01T22:00:00Z"; expected a time at which the step of 1440 min/,
      ),
    ]);
    expect(faultsOf(withRow(5, rows[5]!.replace("S,51,11,", "S,51.2,11,")))).toMatchObject([
      expect.stringMatching(/^history.csv, row 6, column latDeg: 51.2; expected 51, where station S is/),
    ]);
    expect(faultsOf(table.replace("windKph", "windMph"))).toEqual([
      expect.stringMatching(
        /^history.csv, row 1, column windMph: "windMph"; expected one of stationId.* \(perhaps windKph\)$/,
      ),
      expect.stringMatching(/^history.csv, row 1: .*; expected a column windKph$/),
    ]);
    expect(faultsOf("")).toEqual([
      expect.stringMatching(/^history.csv, row 1: nothing; expected a header: stationId,/),
    ]);
    expect(faultsOf(`${rows[0]}\n`)).toEqual([
      "history.csv, the whole file: []; expected at least one step; without a forecast no hour can be used",
    ]);
  });

  it("refuses a station that could serve no field", () => {
    const far = faultsOf(table.replaceAll("S,51,11,", "S,41,1,"));
    expect(far).toHaveLength(1);
    expect(far[0]).toMatch(/^history.csv, row 2.*km/);
  });
});
