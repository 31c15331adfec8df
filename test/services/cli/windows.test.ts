import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { writeScenario } from "../../../services/scenario/write.ts";
import { totalMin } from "../../../shared/agronomy/intervals.ts";
import { caution } from "../../../shared/plan/caution.ts";
import { type Situation, situationOf } from "../../shared/agronomy/oneOrder.ts";

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
    ["buffers", nothingLeft, "buffers leave nothing of the field's 24.08 ha"],
    ["rate", tooMuch, "at its slowest"],
  ] as const)(
    "says so of %s in the summary, the week, the hours lost and the answer for a minute",
    async (limit, situation, words) => {
      const dir = join(folder, limit);
      const operation = situationOf({ ...situation, days: 1 });
      expect(await writeScenario(dir, operation)).toEqual({ ok: true });

      expect(windowsOf(dir).stdout).toMatch(/^O-1 +F1 +\d+\.\d\d +- +-$/m);
      const summary = JSON.parse(windowsOf(dir, "--json").stdout);
      expect(summary[0].types).toMatchObject(
        ["SMALL", "HELI"].map((aircraftTypeId) => ({ aircraftTypeId, part: "whole", limits: [{ limit }], hours: 0 })),
      );
      expect(JSON.parse(windowsOf(dir, "--lost", "--json").stdout)).toMatchObject({
        pairs: 0,
        neverPairs: 2,
        openMin: 0,
      });
      // Of aircraft of which no hour is counted nothing is said.
      expect(windowsOf(dir, "--lost", "--night").stdout).not.toContain("may not fly at night");

      const week = windowsOf(dir, "--order", "O-1");
      expect(week.words).toContain("never: ");
      expect(week.words).toContain(words);
      expect(week.words).not.toContain("OPEN");
      const { types } = JSON.parse(windowsOf(dir, "--order", "O-1", "--json").stdout);
      for (const { windows: open, hours, limits } of types) {
        expect(limits).toEqual([expect.objectContaining({ limit, sentence: expect.stringContaining(words) })]);
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
    const { types } = JSON.parse(day.stdout) as { types: { aircraftTypeId: string; windows: { start: string }[] }[] };
    const { aircraftTypeId, windows: open } = types.find((type) => type.windows.length > 0)!;
    const at = open[0]!.start.slice(0, "2027-06-14T06:00".length);
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
    const orders = JSON.parse(windows("--json").stdout) as { types: { hours: number }[] }[];
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
