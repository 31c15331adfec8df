import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { orderTold, small, sum, worktime } from "./runWorktime.ts";

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
  readonly byType: readonly {
    readonly aircraftTypeId: string;
    readonly orders: number;
    readonly leastRatio: number;
    readonly medianRatio: number;
    readonly mostRatio: number;
    readonly minutes: number;
  }[];
}

describe("worktime against the brochure", { timeout: 120_000 }, () => {
  const told = (...words: string[]) => JSON.parse(worktime(small, "--brochure", ...words, "--json").stdout) as Brochure;

  it("divides the area by swath, greatest speed and aircraft", () => {
    const { orders, notWorked } = told();
    const fleet = JSON.parse(readFileSync(join(small, "fleet.json"), "utf8")) as {
      aircraftTypes: { id: string; liquid: { swathM: number; speedMaxMps: number } }[];
    };
    // O-001 is spraying: the gear is read from the file.
    const rows = orders.filter(({ orderId }) => orderId === "O-001");
    expect(rows.map(({ outfit }) => outfit.aircraftTypeId).sort()).toEqual(["crane-50", "heron-30"]);
    for (const { areaHa, outfit, brochureMin } of rows) {
      const { swathM, speedMaxMps } = fleet.aircraftTypes.find(({ id }) => id === outfit.aircraftTypeId)!.liquid;
      expect(brochureMin).toBeCloseTo((areaHa * 10_000) / (swathM * speedMaxMps * outfit.aircraft) / 60, 9);
    }
    for (const { minutes, brochureMin, ratio } of orders) expect(ratio).toBeCloseTo(minutes / brochureMin, 9);
    expect(notWorked).toEqual(["O-005"]);
  });

  it("sums up each type by the orders with its own outfits, and has the same rows for the type alone", () => {
    const { orders, byType } = told();
    for (const { aircraftTypeId, orders: count, ...sums } of byType.filter((type) => type.orders > 0)) {
      const rows = orders.filter(({ outfit }) => outfit.aircraftTypeId === aircraftTypeId);
      expect(rows).toHaveLength(count);
      expect(sums.minutes).toBe(sum(rows.map(({ minutes }) => minutes)));
      const ratios = rows.map(({ ratio }) => ratio).sort((a, b) => a - b);
      expect([sums.leastRatio, sums.mostRatio]).toEqual([ratios[0], ratios.at(-1)]);
      const middle = (ratios[(count - 1) >> 1]! + ratios[count >> 1]!) / 2;
      expect(sums.medianRatio).toBeCloseTo(middle, 9);
    }
    const alone = told("--type", "heron-30");
    const byOrder = (a: { orderId: string }, b: { orderId: string }) => (a.orderId < b.orderId ? -1 : 1);
    expect(alone.orders.toSorted(byOrder)).toEqual(
      orders.filter(({ outfit }) => outfit.aircraftTypeId === "heron-30").toSorted(byOrder),
    );
    expect(alone.byType.map(({ aircraftTypeId }) => aircraftTypeId)).toEqual(["heron-30"]);
    const ratios = alone.orders.map(({ ratio }) => ratio);
    expect(ratios).toEqual(ratios.toSorted((a, b) => b - a));
  });

  it("takes for each order the minutes that the order alone is told to take", () => {
    const { orders } = told();
    const { orderId } = orders[0]!;
    const least = Math.min(...orders.filter((row) => row.orderId === orderId).map(({ minutes }) => minutes));
    const alone = orderTold(small, "--order", orderId);
    expect(least).toBe(alone.outfit.outcome.minutes);
  });

  it("shows every type beside the others, and explains the worst order of each", () => {
    const { status, stdout } = worktime(small, "--brochure");
    expect(status).toBe(0);
    // A type that nobody owns has no column.
    expect(stdout).toMatch(/\norder +ha +heron-30 min +ratio +crane-50 min +ratio\n/);
    expect(stdout.match(/\nO-00\d +\d+\.\d\d +\d+ +\d+\.\d\d +\d+ +\d+\.\d\d\n/g)!.length).toBeGreaterThan(0);
    expect(stdout).toContain("Left out, as no outfit may or can work them: O-005.");
    expect(stdout).toMatch(/\n {2}heron-30 +\d /);
    expect(stdout.match(/times as long\. It\s+takes/g)).toHaveLength(2);
    for (const line of stdout.split("\n")) expect(line.length).toBeLessThanOrEqual(100);
  });

  it("tells one type in detail: hectares per hour, reasons, the three worst", () => {
    const { status, stdout } = worktime(small, "--brochure", "--type", "crane-50");
    expect(status).toBe(0);
    expect(stdout).toMatch(/4 orders, ratio \d+\.\d\d to \d+\.\d\d, median \d+\.\d\d\. Together\s+they take \d+ min/);
    expect(stdout).not.toContain("heron-30");
    expect(stdout.match(/times\s+as\s+long\.\s+It\s+takes/g)).toHaveLength(3);
    for (const line of stdout.split("\n")) expect(line.length).toBeLessThanOrEqual(100);
    expect(worktime(small, "--brochure", "--type", "stork").stdout).toContain(
      "No order can be worked by an outfit of stork.",
    );
  });
});
