import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { demo, type OneOrder, small, sum, unwrapped, worktime } from "./runWorktime.ts";

describe("worktime of an order", { timeout: 120_000 }, () => {
  let folder: string;
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), "calmhour-worktime-"));
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  /** What the numbers owe each other, whatever the model says. */
  function expectCoherent({ areaHa, ratePerHa, outfit, others }: OneOrder): void {
    const { minutes, parts } = outfit.outcome;
    expect(sum(parts.map((part) => part.areaHa))).toBeCloseTo(areaHa, 4);
    expect(sum(parts.map((part) => part.minutes))).toBe(minutes);
    for (const part of parts) {
      expect(part.loads * part.loadSize).toBeCloseTo(part.areaHa * ratePerHa, 6);
      expect(sum(Object.values(part.aircraftMin))).toBeCloseTo(part.minutes * outfit.aircraft, 6);
      for (const gain of part.gains) expect(gain.minutes).toBeLessThanOrEqual(part.minutes);
    }
    const possible = others.flatMap(({ outcome }) => (outcome.ok ? [outcome.minutes] : []));
    expect(possible).toEqual(possible.toSorted((a, b) => a - b));
    expect(possible.length).toBeGreaterThan(1);
  }

  it("tells numbers that fit together, of the quickest outfit", () => {
    const { status, stdout } = worktime(small, "--order", "O-001", "--json");
    expect(status).toBe(0);
    const told = JSON.parse(stdout) as OneOrder;
    expectCoherent(told);
    expect(told.outfit.outcome.parts.map(({ part }) => part)).toEqual(["whole"]);
    expect(told.outfit.outcome.minutes).toBe(told.others[0]!.outcome.minutes);
  });

  it("tells each part of an order that a downwind place parts", () => {
    const { stdout } = worktime(demo, "--order", "O-118", "--json");
    const told = JSON.parse(stdout) as OneOrder;
    expectCoherent(told);
    expect(told.outfit.outcome.parts.map(({ part }) => part)).toEqual(["near", "rest"]);
    const text = worktime(demo, "--order", "O-118").stdout;
    expect(text).toContain("the part near to a place downwind");
    expect(text).toContain("the rest of the field");
    // Who may never work it is told with the reason, once.
    expect(text.match(/1 x stork cannot: Stork releases from 4 m/g)).toHaveLength(1);
  });

  it("prints what a dispatcher asks for, in lines that fit a page", () => {
    const { stdout } = worktime(small, "--order", "O-001");
    for (const label of [
      "time",
      "gains most",
      "bottleneck",
      "water",
      "passes",
      "between",
      "loads",
      "minutes",
      "in use",
    ]) {
      expect(stdout).toContain(`\n  ${label} `);
    }
    expect(stdout).toContain("battery changes");
    const words = unwrapped(stdout);
    // Two crane-50 take the six places of either tender.
    expect(words).toMatch(/a third aircraft with a battery set and a tender that has a place for it \(\d+ /);
    expect(words).toContain("driving, setting up, packing up and refilling the tender come on top");
    for (const line of stdout.split("\n")) expect(line.length).toBeLessThanOrEqual(100);
  });

  it("speaks of one load as one, and counts refuellings where there are no battery sets", () => {
    // 1.9 ha at 45 L/ha are far from a tank of 400 L.
    const { stdout } = worktime(demo, "--order", "O-017", "--outfit", "stork-1,tender-3");
    expect(stdout).toMatch(/\n {2}loads +1 of \d+\.\d L, one sortie from pad \S+, 0 refuellings\n/);
    expect(stdout).toMatch(/\n {2}1 x stork +- +- +\d+ +\d+\.\d +1 +0 /);
  });

  it("works with the outfit that is named, and says no with the reason when it cannot", () => {
    const named = worktime(small, "--order", "O-001", "--outfit", "ac-1,tender-1,charger-1", "--json");
    expect(named.status).toBe(0);
    const { outfit, others } = JSON.parse(named.stdout) as OneOrder;
    expect(outfit).toMatchObject({ aircraft: 1, tenderId: "tender-1" });
    expect(outfit.outcome.minutes).toBeGreaterThan(others[0]!.outcome.minutes);

    const file = join(folder, "unwritten.geojson");
    const uncharged = worktime(small, "--order", "O-001", "--outfit", "ac-1,tender-1", "--passes", file);
    expect(uncharged.status).toBe(1);
    expect(uncharged.stdout).toContain("cannot: no charger is named");
    expect(uncharged.stdout).not.toMatch(/\n {2}time /);
    expect(uncharged.stderr).toContain(`--passes ${file}: not written`);
  });

  it("answers no for an order of which buffers leave nothing, whatever outfit is named", () => {
    for (const words of [[], ["--outfit", "crane-1,tender-1,charger-w1"]]) {
      const { status, stdout } = worktime(demo, "--order", "O-104", ...words);
      expect(status).toBe(1);
      expect(stdout).toMatch(/\nnot allowed: buffers leave nothing of the field's \d+\.\d\d ha\n/);
    }
  });

  it("refuses bad options by name", () => {
    const cases: [string[], string][] = [
      [[], "expected --order or --brochure"],
      [["--brochure", "--order", "O-001"], "--brochure and --order: expected one of them"],
      [["--brochure", "--outfit", "ac-1"], "--brochure and --outfit: expected one of them"],
      [["--brochure", "--passes", "x.geojson"], "--brochure and --passes: expected one of them"],
      [["--brochure", "--full", "1"], "--brochure and --full: expected one of them"],
      [["--order", "O-001", "--type", "crane-50"], "--type: expected with --brochure"],
      [["--brochure", "--type", "wren-5"], "aircraft type wren-5 is unknown"],
      [["--order", "O-001", "--full", "-1"], "--full: -1; expected a whole number of at least 0"],
      [
        ["--order", "O-001", "--outfit", "ac-1,tender-1,charger-1", "--full", "99"],
        "--full 99: the outfit has 3 battery sets",
      ],
      [["--order", "O-999"], "order O-999 is unknown"],
      [
        ["--order", "O-001", "--passes", join(folder, "nowhere", "x")],
        "expected a file in a folder that can be written",
      ],
      [["--order", "O-001", "--outfit", "ac-1,ac-1,tender-1"], "ac-1 is named twice"],
      [["--order", "O-001", "--outfit", "tender-1"], "--outfit tender-1: no aircraft"],
      [["--order", "O-001", "--outfit", "ac-1"], "no tender; expected aircraft of one type"],
      [["--order", "O-001", "--outfit", "ac-1,ac-3,tender-1"], "aircraft of 2 types, crane-50 and heron-30"],
    ];
    for (const [words, expected] of cases) {
      const { status, stdout, stderr } = worktime(small, ...words);
      expect(stderr).toContain(expected);
      expect(stdout).toBe("");
      expect(status).toBe(2);
    }
  });
});
