import { spawnSync } from "node:child_process";
import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import geodesic from "geographiclib-geodesic";
import { afterAll, beforeAll, describe, expect, it } from "vitest";

const path = (file: string) => fileURLToPath(new URL(`../../../${file}`, import.meta.url));
const main = path("services/cli/main.ts");
const [small, demo] = [path("scenarios/small"), path("scenarios/demo")];

function worktime(...words: string[]) {
  const loader = import.meta.resolve("tsx");
  const { status, stdout, stderr } = spawnSync(process.execPath, ["--import", loader, main, "worktime", ...words], {
    encoding: "utf8",
    timeout: 60_000,
  });
  return { status, stdout, stderr };
}

interface Part {
  readonly part: string;
  readonly areaHa: number;
  readonly minutes: number;
  readonly passes: number;
  readonly passKm: number;
  readonly loads: number;
  readonly loadSize: number;
  readonly amount: number;
  readonly headingDeg: number;
  readonly aircraftMin: Record<string, number>;
  readonly gains: readonly { readonly minutes: number; readonly gainFrac: number }[];
  readonly bottleneckWords: string;
}
interface OneOrder {
  readonly areaHa: number;
  readonly ratePerHa: number;
  readonly outfit: {
    readonly aircraft: number;
    readonly batterySets: number;
    readonly tenderId: string;
    readonly outcome: { readonly ok: boolean; readonly minutes: number; readonly parts: readonly Part[] };
  };
  readonly others: readonly { readonly outcome: { readonly ok: boolean; readonly minutes: number } }[];
}
interface Passes {
  readonly type: string;
  readonly features: readonly {
    readonly type: string;
    readonly properties: {
      readonly leg: number;
      readonly part: string;
      readonly kind: string;
      readonly number: number;
      readonly lengthM: number;
    };
    readonly geometry: { readonly type: string; readonly coordinates: readonly (readonly [number, number])[] };
  }[];
}

const sum = (values: readonly number[]) => values.reduce((a, b) => a + b, 0);

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
    for (const label of ["time", "bottleneck", "passes", "between", "loads", "minutes", "in use"]) {
      expect(stdout).toContain(`\n  ${label} `);
    }
    expect(stdout).toContain("battery changes");
    expect(stdout.replace(/\s+/g, " ")).toMatch(/a third aircraft with a battery set gains \d+ %/);
    for (const line of stdout.split("\n")) expect(line.length).toBeLessThanOrEqual(100);
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
    expect(uncharged.stdout).toContain("cannot: no bay works");
    expect(uncharged.stderr).toContain(`--passes ${file}: not written`);
  });

  it("writes the passes as RFC 7946 lines, as long on the ellipsoid as they are said to be", () => {
    const file = join(folder, "passes.geojson");
    const { stdout } = worktime(demo, "--order", "O-118", "--passes", file, "--json");
    const { parts } = (JSON.parse(stdout) as OneOrder).outfit.outcome;
    const { type, features } = JSON.parse(readFileSync(file, "utf8")) as Passes;
    expect(type).toBe("FeatureCollection");
    expect(features.map(({ properties }) => properties.leg)).toEqual(features.map((_, index) => index + 1));
    for (const { geometry, properties } of features) {
      expect(geometry.type).toBe("LineString");
      const [[lon1, lat1], [lon2, lat2]] = geometry.coordinates as [[number, number], [number, number]];
      const { s12, azi1 } = geodesic.Geodesic.WGS84.Inverse(lat1, lon1, lat2, lon2);
      // Two centimetres are the rounding of positions; a plane of some kilometres is true to 0.02 %.
      expect(Math.abs(s12! - properties.lengthM)).toBeLessThan(0.02 + 0.0002 * properties.lengthM);
      const { headingDeg } = parts.find(({ part }) => part === properties.part)!;
      const offDeg = (((azi1! - headingDeg) % 180) + 180) % 180;
      if (properties.lengthM > 50) expect(Math.min(offDeg, 180 - offDeg)).toBeLessThan(0.1);
    }
    for (const { part, passes, passKm } of parts) {
      const own = features.filter(({ properties }) => properties.part === part);
      expect(new Set(own.map(({ properties }) => properties.number)).size).toBe(passes);
      // What no centre line meets lengthens the passes by a little.
      const lineM = sum(own.map(({ properties }) => properties.lengthM));
      expect(lineM).toBeLessThanOrEqual(1000 * passKm + 1);
      expect(lineM).toBeGreaterThan(970 * passKm);
    }
  });

  it("tells laps of a headland, and marks them among the passes", () => {
    const dir = join(folder, "headland");
    cpSync(small, dir, { recursive: true });
    const settings = JSON.parse(readFileSync(join(dir, "operation.json"), "utf8")) as { fieldwork: object };
    // 15 m are two laps of swaths up to 10 m.
    writeFileSync(join(dir, "operation.json"), JSON.stringify({ ...settings, fieldwork: { headlandM: 15 } }));
    const file = join(folder, "laps.geojson");
    const { stdout } = worktime(dir, "--order", "O-001", "--passes", file);
    expect(stdout).toContain("2 laps of the headland among them");
    const { features } = JSON.parse(readFileSync(file, "utf8")) as Passes;
    const laps = features.filter(({ properties }) => properties.kind === "lap");
    expect([...new Set(laps.map(({ properties }) => properties.number))]).toEqual([1, 2]);
    expect(features.findIndex(({ properties }) => properties.kind === "pass")).toBe(laps.length);
  });

  it("has no minutes for an order of which buffers leave nothing", () => {
    const { status, stderr } = worktime(demo, "--order", "O-104");
    expect(status).toBe(2);
    expect(stderr).toMatch(/order O-104: buffers leave nothing of its \d+\.\d\d ha/);
  });

  it("refuses bad options by name", () => {
    const cases: [string[], string][] = [
      [[], "expected --order or --brochure"],
      [["--brochure", "--order", "O-001"], "--brochure and --order: expected one of them"],
      [["--brochure", "--outfit", "ac-1"], "--brochure and --outfit: expected one of them"],
      [["--brochure", "--passes", "x.geojson"], "--brochure and --passes: expected one of them"],
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

interface Brochure {
  readonly orders: readonly {
    readonly orderId: string;
    readonly areaHa: number;
    readonly outfit: { readonly aircraftTypeId: string; readonly aircraft: number };
    readonly brochureMin: number;
    readonly minutes: number;
    readonly ratio: number;
  }[];
  readonly notWorked: readonly string[];
  readonly all: { readonly orders: number; readonly medianRatio: number; readonly minutes: number };
  readonly byType: readonly { readonly aircraftTypeId: string; readonly orders: number }[];
}

describe("worktime against the brochure", { timeout: 120_000 }, () => {
  const told = () => JSON.parse(worktime(small, "--brochure", "--json").stdout) as Brochure;

  it("divides the area by swath, greatest speed and aircraft, and sorts by the ratio", () => {
    const { orders, notWorked, all } = told();
    const fleet = JSON.parse(readFileSync(join(small, "fleet.json"), "utf8")) as {
      aircraftTypes: { id: string; liquid: { swathM: number; speedMaxMps: number } }[];
    };
    // O-001 is spraying: the gear is read from the file.
    const { areaHa, outfit, brochureMin } = orders.find(({ orderId }) => orderId === "O-001")!;
    const { swathM, speedMaxMps } = fleet.aircraftTypes.find(({ id }) => id === outfit.aircraftTypeId)!.liquid;
    expect(brochureMin).toBeCloseTo((areaHa * 10_000) / (swathM * speedMaxMps * outfit.aircraft) / 60, 9);
    const ratios = orders.map(({ ratio }) => ratio);
    expect(ratios).toEqual(ratios.toSorted((a, b) => b - a));
    for (const { minutes, brochureMin: said, ratio } of orders) expect(ratio).toBeCloseTo(minutes / said, 9);
    expect(all.minutes).toBe(sum(orders.map(({ minutes }) => minutes)));
    // The middle of four.
    expect(ratios).toHaveLength(4);
    expect(all.medianRatio).toBeCloseTo((ratios[1]! + ratios[2]!) / 2, 9);
    expect(notWorked).toEqual(["O-005"]);
  });

  it("takes for each order the minutes that the order alone is told to take", () => {
    const { orders } = told();
    const { orderId, minutes } = orders[0]!;
    const alone = JSON.parse(worktime(small, "--order", orderId, "--json").stdout) as OneOrder;
    expect(minutes).toBe(alone.outfit.outcome.minutes);
  });

  it("explains the three largest, sums up, and tells each type by itself", () => {
    const { status, stdout } = worktime(small, "--brochure");
    expect(status).toBe(0);
    expect(stdout).toMatch(/4 orders, median ratio \d+\.\d\d\. Together they take \d+ min/);
    expect(stdout).toContain("Left out, as no outfit may or can work them: O-005.");
    expect(stdout.match(/times as long\. It\s+takes/g)).toHaveLength(3);
    expect(stdout).toMatch(/\n {2}heron-30 +4 /);
    for (const line of stdout.split("\n")) expect(line.length).toBeLessThanOrEqual(100);
  });
});
