import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { stretchesOf } from "../../../services/cli/windows/stretches.ts";
import { weekLines } from "../../../services/cli/windows/weekText.ts";
import { writeScenario } from "../../../services/scenario/write.ts";
import { createAgronomy } from "../../../shared/agronomy/agronomy.ts";
import { totalMin } from "../../../shared/agronomy/intervals.ts";
import type { Judgement } from "../../../shared/agronomy/limits.ts";
import { caution } from "../../../shared/plan/caution.ts";
import { answersOf, type Situation, situationOf } from "../../shared/agronomy/oneOrder.ts";
import { randomOperation } from "../../shared/agronomy/randomOperation.ts";
import { calendarOf } from "../../support/operation.ts";
import { seededRandom } from "../../support/seededRandom.ts";

const main = fileURLToPath(new URL("../../../services/cli/main.ts", import.meta.url));
const small = fileURLToPath(new URL("../../../scenarios/small", import.meta.url));

function windows(...words: string[]) {
  return windowsOf(small, ...words);
}

function windowsOf(folder: string, ...words: string[]) {
  const loader = import.meta.resolve("tsx");
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    ["--import", loader, main, "windows", folder, ...words],
    {
      encoding: "utf8",
      timeout: 60_000,
    },
  );
  return { status, stdout, stderr, words: stdout.replace(/\s+/g, " ") };
}

function excessOf({ actual, allowed }: Pick<Judgement, "actual" | "allowed">): number {
  return Math.abs(Number(actual) - Number(allowed));
}

/** The lines of a week by day, for the multirotor. */
function linesOf(situation: Situation): string[] {
  const { agronomy, calendar, order, multirotor } = answersOf({
    limits: { windAt: "asMeasured" },
    days: 1,
    ...situation,
  });
  const night = { night: false };
  return weekLines(calendar, agronomy.hours(order, multirotor, night), (min) =>
    agronomy.judge(order, multirotor, min, night),
  );
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
      const stretches = stretchesOf(judge, { startMin: 0, endMin: calendar.horizonMin });
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
        for (let min = startMin; min < endMin; min++) {
          const judged = judge(min);
          expect(judged.map(({ limit }) => limit)).toEqual(expect.arrayContaining(told));
          for (const worst of judgements) {
            const here = judged.find(({ limit }) => limit === worst.limit)!;
            if (typeof here.actual !== "number" || typeof worst.actual !== "number") continue;
            // Figures of one unit on one side of what is allowed, of which the worst is told.
            if (here.unit !== worst.unit) continue;
            expect(excessOf(here)).toBeLessThanOrEqual(excessOf(worst));
            expect(here.actual < Number(here.allowed)).toBe(worst.actual < Number(worst.allowed));
          }
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
    expect(lines.filter((line) => line.includes("km/h"))).toEqual([
      "      10:00-13:00  wind 21 km/h, label allows 15 km/h",
    ]);
    expect(lines.filter((line) => line.includes("OPEN"))).toEqual([
      expect.stringMatching(/^ {6}05:\d\d-10:00 {2}OPEN for 4 h \d\d min$/),
      expect.stringMatching(/^ {6}13:00-21:\d\d {2}OPEN for 8 h \d\d min$/),
    ]);
  });

  it("parts what different closures, entries and levels of inversion stop", () => {
    const closed = linesOf({
      field: {
        closures: [
          { from: "2027-06-07T10:00", to: "2027-06-07T11:00", reason: "irrigation" },
          { from: "2027-06-07T11:00", to: "2027-06-07T11:20", reason: "sheep" },
          { from: "2027-06-07T11:20", to: "2027-06-07T12:00", reason: "irrigation" },
        ],
        entries: [
          { from: "2027-06-07T14:00", to: "2027-06-07T15:00", who: "crop scout" },
          { from: "2027-06-07T15:00", to: "2027-06-07T16:00", who: "pickers" },
        ],
      },
    });
    expect(closed.filter((line) => /closed|people/.test(line))).toEqual([
      "      10:00-11:00  field closed until 2027-06-07 11:00: irrigation",
      "      11:00-11:20  field closed until 2027-06-07 11:20: sheep",
      "      11:20-12:00  field closed until 2027-06-07 12:00: irrigation",
      "      14:00-15:00  people in the field until 2027-06-07 15:00: crop scout",
      "      15:00-16:00  people in the field until 2027-06-07 16:00: pickers",
    ]);
    // A mast: warmer above is likely, as cold above as below possible; by noon it is neither.
    const warmerC = [2, 0, 0, 3, 1];
    const levels = linesOf({
      labels: [{ inversionRule: "notWhenPossible" }],
      airOfHour: (hour) => ({
        temperatureHeightM: 2,
        upperTemperatureHeightM: 10,
        temperatureC: 18,
        upperTemperatureC: 18 + (warmerC[hour - 8] ?? -2),
      }),
    });
    expect(
      levels.filter((line) => /inversion (likely|possible)/.test(line)).map((line) => line.trim().slice(0, 31)),
    ).toEqual([
      "08:00-09:00  inversion likely (",
      "09:00-11:00  inversion possible",
      "11:00-13:00  inversion likely (",
    ]);
  });

  it("tells the worst of steps shorter than an hour, in one line for a windy afternoon", () => {
    const lines = linesOf({
      labels: [{ windMaxKph: 15 }],
      weather: (steps) =>
        steps.flatMap((step, hour) =>
          [0, 15, 30, 45].map((minute) => ({
            ...step,
            start: step.start.replace(/T(\d\d):00/, `T$1:${String(minute).padStart(2, "0")}`),
            stepMin: 15,
            windKph: hour >= 12 && hour < 16 ? ({ 15: 16, 30: 24.5, 45: 18 }[minute] ?? 17) : 8,
          })),
        ),
    });
    expect(lines.filter((line) => line.includes("wind"))).toEqual([
      "      12:00-16:00  wind 24.5 km/h, label allows 15 km/h",
    ]);
  });

  it("tells rain that falls rather than rain that may, and a Delta T on each side of its band by itself", () => {
    const rain = linesOf({
      airOfHour: (hour) => (hour === 10 ? { rainProbabilityPct: 60 } : hour === 11 ? { rainMm: 2 } : {}),
    });
    expect(rain.filter((line) => line.includes("rain"))).toEqual([
      "      10:00-12:00  rain 2 mm, counts as rain from 0.1 mm",
    ]);
    const deltaT = linesOf({
      labels: [{ deltaTMinC: 2, deltaTMaxC: 8 }],
      airOfHour: (hour) =>
        hour === 10 ? { humidityPct: 99 } : hour === 11 ? { temperatureC: 35, humidityPct: 20 } : {},
    });
    expect(deltaT.filter((line) => line.includes("Delta T")).map((line) => line.trim().slice(0, 20))).toEqual([
      expect.stringMatching(/^10:00-11:00 {2}Delta T/),
      expect.stringMatching(/^11:00-12:00 {2}Delta T/),
    ]);
  });

  it("says which of two equal times it means", () => {
    const { agronomy, calendar, order, helicopter } = answersOf({
      firstDay: "2027-10-31",
      days: 1,
      airOfHour: (hour) => ({ rainMm: hour === 2 ? 1 : 0 }),
    });
    const lines = weekLines(calendar, agronomy.hours(order, helicopter, { night: true }), (min) =>
      agronomy.judge(order, helicopter, min, { night: true }),
    );
    expect(lines.slice(3)).toEqual([
      "      00:00-02:00 (first time)                OPEN for 2 h 00 min",
      "      02:00 (first time)-02:00 (second time)  rain 1 mm, counts as rain from 0.1 mm",
      "      02:00 (second time)-24:00               OPEN for 22 h 00 min",
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

describe("the windows verb at times that clocks show twice or never", { timeout: 120_000 }, () => {
  let folder: string;
  /** Clocks in Berlin go forward on 28 March 2027 from 02:00 to 03:00 and back on 31 October from 03:00 to 02:00 (IANA time zone database). */
  const at = async (firstDay: string, ...words: string[]) => {
    const dir = join(folder, firstDay);
    const rainy = (hour: number) => ({ rainMm: hour === 2 ? 1 : 0 });
    const operation = situationOf({ firstDay, days: 1, airOfHour: rainy });
    const crews = operation.fleet.crews.map((crew) => ({ ...crew, shifts: [] }));
    expect(await writeScenario(dir, { ...operation, fleet: { ...operation.fleet, crews } })).toEqual({ ok: true });
    return windowsOf(dir, "--order", "O-1", "--type", "HELI", "--night", ...words);
  };
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), "calmhour-windows-"));
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it("answers for both times, and yes only when both are open", async () => {
    const { stdout, status } = await at("2027-10-31", "--at", "2027-10-31T02:30");
    expect(stdout).toContain(
      [
        "O-1 on F1",
        "  the clocks show 2027-10-31 02:30 twice; both times are answered",
        "by HELI",
        "  Sunday 31 October 02:30 (first time): no, rain 1 mm, counts as rain from 0.1 mm; the next open",
        "    hour is 02:00 (second time) to 24:00",
        "  Sunday 31 October 02:30 (second time): yes, open from 02:00 (second time) to 24:00; then the plan",
        "    ends",
      ].join("\n"),
    );
    expect(status).toBe(1);
    const told = JSON.parse((await at("2027-10-31", "--at", "2027-10-31T02:30", "--json")).stdout);
    expect(told).toMatchObject({
      at: "2027-10-31T02:30:00+02:00",
      types: [{ open: false }],
      alsoAt: { at: "2027-10-31T02:30:00+01:00", types: [{ open: true }] },
    });
    const plain = await at("2027-10-31", "--at", "2027-10-31T05:30", "--json");
    expect(JSON.parse(plain.stdout)).toMatchObject({ at: "2027-10-31T05:30:00+01:00", alsoAt: null });
    expect(plain.status).toBe(0);
  });

  it("refuses a time that the clocks skip", async () => {
    const { stderr, status } = await at("2027-03-28", "--at", "2027-03-28T02:30");
    expect(stderr).toContain(
      "--at: 2027-03-28T02:30; expected a time that the clocks of Europe/Berlin show; they are put forward over 2027-03-28T02:30",
    );
    expect(status).toBe(2);
  });
});

describe("the windows verb where nothing may ever be worked", { timeout: 120_000 }, () => {
  let folder: string;
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), "calmhour-never-"));
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  /** A school 900 m from which nothing of the field is far, or an output beyond every pump. */
  const nothingLeft: Situation = {
    labels: [{ buffers: [{ kind: "school", distanceM: 900 }] }],
    sensitive: [
      {
        type: "Feature",
        geometry: { type: "Point", coordinates: [11.046, 51.011] },
        properties: { id: "S1", kind: "school", name: "School" },
      },
    ],
  };
  const tooMuch: Situation = { order: { carrierLPerHa: 2000 } };

  it.each([
    ["buffers", nothingLeft, "buffers leave nothing of its 24.08 ha"],
    ["rate", tooMuch, "at its slowest"],
  ] as const)(
    "says so of %s in the summary, the week, the hours lost and the answer for a minute",
    async (limit, situation, words) => {
      const dir = join(folder, limit);
      const operation = situationOf({ ...situation, days: 1 });
      expect(await writeScenario(dir, operation)).toEqual({ ok: true });

      expect(windowsOf(dir).stdout).toMatch(/^O-1 +F1 +- +-$/m);
      const summary = JSON.parse(windowsOf(dir, "--json").stdout);
      expect(summary[0].types).toEqual(
        ["SMALL", "HELI"].map((aircraftTypeId) => ({ aircraftTypeId, never: [limit], hours: 0 })),
      );
      expect(JSON.parse(windowsOf(dir, "--lost", "--json").stdout)).toMatchObject({
        pairs: 0,
        neverPairs: 2,
        openMin: 0,
      });

      const week = windowsOf(dir, "--order", "O-1");
      expect(week.words).toContain("never: ");
      expect(week.words).toContain(words);
      expect(week.words).not.toContain("OPEN");
      const { types } = JSON.parse(windowsOf(dir, "--order", "O-1", "--json").stdout);
      for (const { windows: open, hours, never } of types) {
        expect(never).toEqual([expect.stringContaining(words)]);
        expect(open).toEqual([]);
        for (const { openMin, judgements } of hours) expect([openMin, judgements[0].limit]).toEqual([0, limit]);
      }

      const minute = windowsOf(dir, "--order", "O-1", "--at", "2027-06-07T09:00");
      expect(minute.words).toContain("no, nor at any other time");
      expect(minute.words).toContain(words);
      expect(minute.status).toBe(1);
    },
  );
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
