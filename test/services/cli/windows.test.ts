import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { stretchesOf } from "../../../services/cli/windows/stretches.ts";
import { weekLines } from "../../../services/cli/windows/weekText.ts";
import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import { totalMin } from "../../../shared/agronomy/intervals.ts";
import { caution } from "../../../shared/plan/caution.ts";
import { answersOf } from "../../shared/agronomy/oneOrder.ts";
import { randomOperation } from "../../shared/agronomy/randomOperation.ts";
import { calendarOf } from "../../support/operation.ts";
import { seededRandom } from "../../support/seededRandom.ts";

const main = fileURLToPath(new URL("../../../services/cli/main.ts", import.meta.url));
const small = fileURLToPath(new URL("../../../scenarios/small", import.meta.url));

function windows(...words: string[]) {
  const loader = import.meta.resolve("tsx");
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    ["--import", loader, main, "windows", small, ...words],
    {
      encoding: "utf8",
      timeout: 60_000,
    },
  );
  return { status, stdout, stderr, words: stdout.replace(/\s+/g, " ") };
}

describe("the week of an order", () => {
  it("is told by stretches that fill every day, are open exactly in windows, and name what judge names", () => {
    const random = seededRandom(11);
    for (let i = 0; i < 20; i++) {
      const operation = randomOperation(random);
      const calendar = calendarOf(operation);
      const agronomy = createAgronomy(operation, calendar);
      const [order] = operation.orders;
      const [type] = operation.fleet.aircraftTypes;
      const night = { night: random() < 0.5 };
      const judge = (min: number) => agronomy.judge(order!, type!, min, night);
      const stretches = stretchesOf(agronomy.hours(order!, type!, night), judge, {
        startMin: 0,
        endMin: calendar.horizonMin,
      });
      expect(stretches[0]!.startMin).toBe(0);
      expect(stretches.at(-1)!.endMin).toBe(calendar.horizonMin);
      expect(stretches.slice(1).map(({ startMin }) => startMin)).toEqual(
        stretches.slice(0, -1).map(({ endMin }) => endMin),
      );
      const open = stretches.filter(({ judgements }) => judgements.length === 0);
      expect(open.map(({ startMin, endMin }) => ({ startMin, endMin }))).toEqual(
        agronomy.windows(order!, type!, night).windows,
      );
      for (const { startMin, endMin, judgements } of stretches) {
        const told = judgements.map(({ limit }) => limit);
        for (const min of [startMin, endMin - 1]) {
          expect(judge(min).map(({ limit }) => limit)).toEqual(expect.arrayContaining(told));
        }
      }
    }
  });

  it("tells the worst hour of a stretch, and of the night only that it is night", () => {
    const { agronomy, calendar, order, multirotor } = answersOf({
      days: 1,
      limits: { windAt: "asMeasured" },
      labels: [{ windMaxKph: 15 }],
      // 10 to 13 h: 17, 21, 19 km/h; the night is windy too.
      airOfHour: (hour) => ({ windKph: hour < 3 ? 30 : hour === 10 ? 17 : hour === 11 ? 21 : hour === 12 ? 19 : 8 }),
    });
    const lines = weekLines(calendar, agronomy.hours(order, multirotor, { night: false }), (min) =>
      agronomy.judge(order, multirotor, min, { night: false }),
    );
    expect(lines[0]).toMatch(/^ {2}Mon 2027-06-07 {2}00 01 02 .* 22 23$/);
    expect(lines[1]).toMatch(/^ {2}forecast 95 % {3}(\. {2}){5}\+ {2}(# {2}){4}(\. {2}){3}(# {2}){8}\+ {2}\. {2}\.$/);
    expect(lines.filter((line) => line.includes("km/h"))).toEqual(["      10:00-13:00  wind 21 km/h, label allows 15 km/h"]);
    expect(lines.filter((line) => line.includes("OPEN"))).toEqual([
      expect.stringMatching(/^ {6}05:\d\d-10:00 {2}OPEN for 4 h \d\d min$/),
      expect.stringMatching(/^ {6}13:00-21:\d\d {2}OPEN for 8 h \d\d min$/),
    ]);
  });

  it("puts days that are closed from end to end by the same into one line, and keeps the hours of a long day", () => {
    const { agronomy, calendar, order, helicopter } = answersOf({
      timeZone: "Europe/Berlin",
      firstDay: "2027-10-29",
      days: 4,
      order: { earliest: "2027-10-31T00:00" },
    });
    const lines = weekLines(calendar, agronomy.hours(order, helicopter, { night: true }), (min) =>
      agronomy.judge(order, helicopter, min, { night: true }),
    );
    expect(lines.slice(0, 2)).toEqual([
      "  Fri 2027-10-29 to Sat 2027-10-30, all day",
      "      order begins 2027-10-31 00:00",
    ]);
    expect(lines[2]).toContain("Sun 2027-10-31  00 01 02 02 03");
    expect(lines[2]).toContain("clocks go back");
    expect(lines).toContain("      00:00-24:00  OPEN for 25 h 00 min");
  });
});

describe("the windows verb", { timeout: 120_000 }, () => {
  it("ends with the caution, for people only", () => {
    for (const words of [[], ["--order", "O-001"], ["--lost"]]) {
      expect(
        windows(...words)
          .words.trimEnd()
          .endsWith(caution),
      ).toBe(true);
      expect(windows(...words, "--json").stdout).not.toContain("planning aid");
    }
  });

  it("prints a week in far fewer lines than hours", () => {
    const { stdout } = windows("--order", "O-001", "--type", "lark-10");
    expect(stdout.split("\n").length).toBeLessThan(48);
  });

  it("answers for one minute in a sentence; no by exit code", () => {
    const day = windows("--order", "O-001", "--json");
    const { types } = JSON.parse(day.stdout) as { types: { aircraftTypeId: string; windows: { from: string }[] }[] };
    const { aircraftTypeId, windows: open } = types.find((type) => type.windows.length > 0)!;
    const at = open[0]!.from.slice(0, "2027-06-14T06:00".length);
    const yes = windows("--order", "O-001", "--type", aircraftTypeId, "--at", at);
    expect(yes.status).toBe(0);
    expect(yes.stdout).toContain("yes, open");
    const no = windows("--order", "O-001", "--type", aircraftTypeId, "--at", `${at.slice(0, 10)}T00:30`);
    expect(no.status).toBe(1);
    expect(no.stdout).toContain("00:30: no, outside the flying day");
  });

  it("sums up the hours that each limit loses as windows tell them", () => {
    const lost = JSON.parse(windows("--lost", "--json").stdout) as {
      pairs: number;
      neverPairs: number;
      allMin: number;
      openMin: number;
      byLimit: { limit: string; lostMin: number }[];
    };
    const orders = JSON.parse(windows("--json").stdout) as { types: { never: string[]; hours: number }[] }[];
    const types = orders.flatMap((order) => order.types);
    expect(lost.pairs + lost.neverPairs).toBe(types.length);
    expect(lost.openMin).toBeCloseTo(60 * types.reduce((sum, { hours }) => sum + hours, 0), 6);
    expect(lost.allMin).toBe(lost.pairs * 2 * 1440);
    for (const { lostMin } of lost.byLimit) expect(lostMin).toBeLessThanOrEqual(lost.allMin - lost.openMin);
    expect(totalMin(lost.byLimit.map(({ lostMin }) => ({ startMin: 0, endMin: lostMin })))).toBeGreaterThanOrEqual(
      lost.allMin - lost.openMin,
    );
  });

  it("refuses what it cannot answer with 2", () => {
    for (const [words, expected] of [
      [["--at", "2027-06-15T09:00"], "expected --order too"],
      [["--order", "O-001", "--at", "noon"], "--at: noon; expected a local date and time"],
      [["--order", "O-001", "--at", "2030-01-01T09:00"], "expected a time on a day of the plan"],
      [["--lost", "--order", "O-001", "--at", "2027-06-15T09:00"], "expected one of them"],
    ] as const) {
      const { status, stderr } = windows(...words);
      expect(stderr).toContain(expected);
      expect(status).toBe(2);
    }
  });
});
