import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { writeScenario } from "../../../services/scenario/write.ts";
import { totalMin } from "../../../shared/agronomy/intervals.ts";
import { judgementSchema, orderWindowsSchema } from "../../../shared/contracts/windows.ts";
import { answersOf, type Situation, situationOf } from "../../shared/agronomy/oneOrder.ts";

const main = fileURLToPath(new URL("../../../services/cli/main.ts", import.meta.url));

/** A house beside the field: the ground near to it waits for the second day's wind, the rest need not wait. */
const parted: Situation = {
  days: 2,
  labels: [{ buffers: [{ kind: "dwelling", distanceM: 100, downwindOnly: true, downwindRule: "sparesPart" }] }],
  limits: { windAt: "asMeasured", windVariableBelowKph: 3 },
  sensitive: [
    {
      type: "Feature",
      // 60 m east of the field's east edge.
      geometry: { type: "Point", coordinates: [11.0523, 51.011] },
      properties: { id: "H", kind: "dwelling", name: "House" },
    },
  ],
  // The wind from the west blows towards the house, that from the east away from it.
  airOfHour: (hour) => ({ windFromDeg: hour < 24 ? 270 : 90 }),
};

describe("the windows verb for an order in two parts", { timeout: 120_000 }, () => {
  const { agronomy, order, multirotor, helicopter, calendar } = answersOf(parted);
  let folder: string;
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), "calmhour-parts-"));
    const operation = situationOf(parted);
    expect(await writeScenario(folder, operation)).toEqual({ ok: true });
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  const windows = (...words: string[]) =>
    spawnSync(process.execPath, ["--import", import.meta.resolve("tsx"), main, "windows", folder, ...words], {
      encoding: "utf8",
      timeout: 60_000,
    }).stdout;
  const hoursOf = (rest: boolean, night = false) => {
    const judged = rest ? ({ night, rest: true } as const) : { night };
    return totalMin(agronomy.windows(order, helicopter, judged).windows) / 60;
  };
  const [near, rest] = agronomy.parts(order);

  it("has a line for each part in the summary, and a row in its JSON", () => {
    expect(hoursOf(false)).toBeGreaterThan(10);
    expect(hoursOf(true)).toBeGreaterThan(hoursOf(false) + 10);
    const text = windows("--type", "HELI");
    for (const [part, isRest] of [
      [near!, false],
      [rest!, true],
    ] as const) {
      expect(text).toMatch(
        new RegExp(`^O-1 ${part.part} +F1 +${part.areaHa.toFixed(2)} +${hoursOf(isRest).toFixed(1)}$`, "m"),
      );
    }
    expect(text).not.toMatch(/^O-1 +F1/m);
    const [row] = JSON.parse(windows("--type", "HELI", "--json"));
    expect(row.types).toEqual([
      { aircraftTypeId: "HELI", part: "near", areaHa: near!.areaHa, limits: [], hours: hoursOf(false) },
      { aircraftTypeId: "HELI", part: "rest", areaHa: rest!.areaHa, limits: [], hours: hoursOf(true) },
    ]);
  });

  it("counts the hours lost of each part", () => {
    const lost = JSON.parse(windows("--type", "HELI", "--lost", "--json"));
    expect(lost).toMatchObject({ pairs: 2, neverPairs: 0, allMin: 2 * 2880 });
    expect(lost.openMin).toBe(60 * (hoursOf(false) + hoursOf(true)));
    const minOf = (limit: string) => lost.byLimit.find((row: { limit: string }) => row.limit === limit)?.lostMin;
    expect(minOf("driftNear")).toBe(1440);
    expect(minOf("daylight")).toBe(2 * agronomy.windows(order, helicopter, { night: false }).lostMin.daylight!);
    expect(windows("--lost").replace(/\s+/g, " ")).toContain(
      "4 pairs of order and aircraft type, the parts of an order",
    );
  });

  it("tells in JSON what the API tells, by the same names", () => {
    const { types } = JSON.parse(windows("--order", "O-1", "--json"));
    for (const { limits, windows: open, hours, lostMin } of types) {
      expect(
        orderWindowsSchema
          .pick({ limits: true, windows: true, hours: true, lostMin: true })
          .parse({ limits, windows: open, hours, lostMin }),
      ).toEqual({
        limits,
        windows: open,
        hours,
        lostMin,
      });
      expect(open.length).toBeGreaterThan(0);
      expect(hours).toHaveLength(48);
    }
    const at = "2027-06-07T10:00";
    const min = calendar.minOfLocal(at);
    const minute = JSON.parse(windows("--order", "O-1", "--at", at, "--json"));
    const told = minute.types.map((one: { judgements: unknown[]; open: boolean; part: string }) => {
      expect(one.judgements.map((judgement) => judgementSchema.parse(judgement))).toEqual(one.judgements);
      expect(one.open).toBe(one.judgements.length === 0);
      return [one.part, one.judgements];
    });
    const judged = [multirotor, helicopter].flatMap((type) => [
      ["near", agronomy.judge(order, type, min, { night: false })],
      ["rest", []],
    ]);
    expect(told).toEqual(judged);
    expect(judged[0]![1]).toMatchObject([{ limit: "driftNear" }]);
  });

  it("says of a kind of aircraft that may not fly at night that asking for night work changes nothing", () => {
    const words = "SMALL may not fly at night and is judged by day";
    for (const asked of [[], ["--lost"], ["--order", "O-1"], ["--order", "O-1", "--at", "2027-06-07T10:00"]]) {
      expect(windows(...asked, "--night"), asked.join(" ")).toContain(words);
      expect(windows(...asked), asked.join(" ")).not.toContain("may not fly at night");
      expect(windows(...asked, "--night", "--type", "HELI"), asked.join(" ")).not.toContain("may not fly at night");
    }
  });
});
