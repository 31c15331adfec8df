import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { orderTold, small, smallWith, unwrapped, worktime } from "./runWorktime.ts";

interface Charged {
  readonly id: string;
  readonly power: { readonly chargeMin: number };
}

describe("what an order needs of an outfit", { timeout: 120_000 }, () => {
  let folder: string;
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), "calmhour-worktime-"));
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  const unsplit = (text: string) => text.replace(/^(O-001,.*),yes,/m, "$1,no,");
  /** Water of tender-1 and tender-2. */
  const waters =
    (...litres: readonly number[]) =>
    (text: string) => {
      const fleet = JSON.parse(text) as { tenders: { waterL: number }[] };
      return JSON.stringify({
        ...fleet,
        tenders: fleet.tenders.map((one, index) => ({ ...one, waterL: litres[index] })),
      });
    };

  it("counts the fills of a tender that an order which may be split takes, and that they are not in the minutes", () => {
    const { areaHa, ratePerHa } = orderTold(small, "--order", "O-001");
    const mixL = areaHa * ratePerHa;
    // Full at the start: three tenders of a third leave two fills, one that carries it all leaves none.
    const dir = smallWith(join(folder, "water"), { "fleet.json": waters(mixL / 3, mixL) });
    const { outfit, others } = orderTold(dir, "--order", "O-001");
    const fills = others.map((one) => [one.tenderId, one.outcome.water?.fills]);
    expect(new Set(fills.map(String))).toEqual(new Set(["tender-1,2", "tender-2,0"]));
    expect(outfit.outcome.water?.mixL).toBeCloseTo(mixL, 9);
    const { status, stdout } = worktime(dir, "--order", "O-001", "--outfit", "ac-1,tender-1,charger-1");
    expect(status).toBe(0);
    expect(unwrapped(stdout)).toContain(
      "2 fills of the tender meanwhile, the way to the water and filling not counted",
    );
    const granules = worktime(dir, "--order", "O-002");
    expect(granules.stdout).not.toContain("\n  water ");
  });

  it("refuses an outfit whose tender cannot carry the water of an order that may not be split", () => {
    const { areaHa, ratePerHa } = orderTold(small, "--order", "O-001");
    const mixL = areaHa * ratePerHa;
    const dir = smallWith(join(folder, "unsplit"), { "fleet.json": waters(mixL - 1, mixL), "orders.csv": unsplit });
    const { outfit, others } = orderTold(dir, "--order", "O-001");
    expect(outfit.tenderId).toBe("tender-2");
    for (const { tenderId, outcome } of others) expect(outcome.ok).toBe(tenderId === "tender-2");

    const dry = smallWith(join(folder, "dry"), { "fleet.json": waters(100, 200), "orders.csv": unsplit });
    const { status, stdout } = worktime(dry, "--order", "O-001");
    expect(status).toBe(1);
    const words = unwrapped(stdout);
    expect(words).toMatch(/cannot: the order may not be split and its mix takes \d+ L in one go, tender-1 carries 100/);
    expect(words).toContain("tender-2 carries 200");
    expect(words).not.toContain("ha/h");
  });

  it("says that nobody holds the licence, and still tells the minutes of an outfit that is named", () => {
    const dir = smallWith(join(folder, "licence"), {
      "products.json": (text) => text.replaceAll('"licenceClass": "general"', '"licenceClass": "high-hazard"'),
    });
    const { status, stdout, stderr } = worktime(dir, "--order", "O-001");
    expect(status).toBe(1);
    expect(unwrapped(stdout)).toMatch(
      /cannot be done: nobody who flies .+ from a base that has one holds licence high-hazard/,
    );
    expect(stderr).not.toContain("outfit");
    const named = worktime(dir, "--order", "O-001", "--outfit", "ac-1,tender-1,charger-1");
    expect(named.status).toBe(1);
    expect(named.stdout).toContain("holds");
    expect(named.stdout).toMatch(/\n {2}time +\d+ min/);
    const { nobody, outfit, others } = JSON.parse(worktime(dir, "--order", "O-001", "--json").stdout);
    expect([typeof nobody, outfit, others]).toEqual(["string", null, []]);
  });

  it("does not hide that the only aircraft able to do it has nobody licensed behind others that are not able", () => {
    // A slope of 35 % that only the heron is allowed to fly; its people lack the licence, the others' have it.
    const dir = smallWith(join(folder, "behind"), {
      "products.json": (text) => text.replaceAll('"licenceClass": "general"', '"licenceClass": "restricted"'),
      "fleet.json": (text) => {
        const fleet = JSON.parse(text);
        for (const type of fleet.aircraftTypes) type.slopeMaxPct = type.id === "heron-30" ? 90 : 20;
        for (const crew of fleet.crews) {
          crew.people = [
            { id: `${crew.id}-a`, name: "A", licenceClasses: ["restricted"], ratings: ["crane-50"], aircraftAtOnce: 2 },
            { id: `${crew.id}-b`, name: "B", licenceClasses: ["general"], ratings: ["heron-30"], aircraftAtOnce: 2 },
          ];
        }
        return JSON.stringify(fleet);
      },
      "fields.geojson": (text) => text.replaceAll(/"slopePct":\s*[\d.]+/g, '"slopePct":35'),
    });
    const { status, stdout } = worktime(dir, "--order", "O-001");
    expect(status).toBe(1);
    const words = unwrapped(stdout);
    expect(words).toContain("nobody who flies Heron 30 from a base that has one holds licence restricted");
    expect(words).toMatch(/crane-50 cannot: slope 35 %/);
  });

  it("takes longer with fewer full sets at the start, as long with all", () => {
    const minutesWith = (...words: string[]) => {
      return orderTold(small, "--order", "O-001", "--outfit", "ac-1,tender-1,charger-1", ...words).outfit;
    };
    const all = minutesWith();
    expect(minutesWith("--full", String(all.batterySets)).outcome.minutes).toBe(all.outcome.minutes);
    const none = minutesWith("--full", "0");
    expect([all.fullSets, none.fullSets]).toEqual([all.batterySets, 0]);
    // The first sortie waits for a whole charge.
    const { chargeMin } = (
      JSON.parse(readFileSync(join(small, "fleet.json"), "utf8")) as { aircraftTypes: Charged[] }
    ).aircraftTypes.find(({ id }) => id === "crane-50")!.power;
    expect(none.outcome.minutes).toBeGreaterThanOrEqual(all.outcome.minutes + Math.floor(chargeMin) - 1);
    const { stdout } = worktime(small, "--order", "O-001", "--full", "1");
    expect(stdout).toContain("1 of them full at the start");
  });
});
