import { describe, expect, it } from "vitest";
import type { Order } from "../../../shared/model/order.ts";
import { ordersSchema } from "../../../shared/model/order.ts";
import { drawOrders, greatestDraw } from "../../../shared/season/drawOrders.ts";
import { seededRandom } from "../../support/seededRandom.ts";

const template = (id: string, over: object = {}) => ({
  id,
  fieldId: `F-${id}`,
  products: [{ productId: "LIQ", ratePerHa: 1 }],
  carrierLPerHa: 15,
  earliest: "2027-06-07T00:00",
  latest: "2027-06-10T00:00",
  priceCentsPerHa: 2500,
  ...over,
});
const orders = (templates: readonly object[]) => ordersSchema.parse(templates);
const plain = orders(Array.from({ length: 60 }, (_, at) => template(`O-${at}`)));
const ids = (drawn: readonly Order[]) => drawn.map(({ id }) => id as string);

describe("orders drawn for a week", () => {
  it("are a Poisson number of different templates, each as likely as any", () => {
    const draws = 4000;
    const counts: number[] = [];
    const timesDrawn = new Map<string, number>();
    const random = seededRandom(5);
    for (let draw = 0; draw < draws; draw++) {
      const { orders: drawn, wanted } = drawOrders(plain, 12, "drawn", random);
      expect(new Set(ids(drawn)).size).toBe(wanted);
      counts.push(wanted);
      for (const id of ids(drawn)) timesDrawn.set(id, (timesDrawn.get(id) ?? 0) + 1);
    }
    const mean = counts.reduce((sum, count) => sum + count, 0) / draws;
    const variance = counts.reduce((sum, count) => sum + (count - mean) ** 2, 0) / (draws - 1);
    // A Poisson number has its mean for variance (Knuth, The Art of Computer Programming 2, 3.4.1 F); four standard errors.
    expect(Math.abs(mean - 12)).toBeLessThan(4 * Math.sqrt(12 / draws));
    expect(Math.abs(variance - 12)).toBeLessThan(4 * Math.sqrt((12 + 2 * 144) / draws));
    // Of 4000 draws each of 60 is in a fifth: 800, standard deviation about 25.
    expect(timesDrawn.size).toBe(60);
    for (const times of timesDrawn.values()) expect(Math.abs(times - 800)).toBeLessThan(110);
  });

  it("stand as the templates do", () => {
    const { orders: drawn } = drawOrders(plain, 20, "drawn", seededRandom(3));
    expect(ids(drawn)).toEqual(ids(plain.filter((order) => drawn.includes(order))));
  });

  it("of a higher demand hold those of a lower one, by the same chance", () => {
    for (let seed = 0; seed < 30; seed++) {
      const few = ids(drawOrders(plain, 10, "drawn", seededRandom(seed)).orders);
      const many = ids(drawOrders(plain, 25, "drawn", seededRandom(seed)).orders);
      expect(many).toEqual(expect.arrayContaining(few));
    }
  });

  it("stay when a template is added that is not among them", () => {
    const more = orders([...plain, template("O-new")]);
    for (let seed = 0; seed < 30; seed++) {
      const before = ids(drawOrders(plain, 20, "drawn", seededRandom(seed)).orders);
      const after = ids(drawOrders(more, 20, "drawn", seededRandom(seed)).orders);
      const gone = before.filter((id) => !after.includes(id));
      expect(gone).toHaveLength(after.includes("O-new") ? Math.min(1, before.length) : 0);
    }
  });

  it("are of one field and product only once", () => {
    const crowded = orders([
      template("A1", { fieldId: "F", products: [{ productId: "LIQ", ratePerHa: 1 }] }),
      template("A2", {
        fieldId: "F",
        products: [
          { productId: "OTHER", ratePerHa: 1 },
          { productId: "LIQ", ratePerHa: 2 },
        ],
      }),
      template("A3", { fieldId: "F", products: [{ productId: "GRA", ratePerHa: 1 }], carrierLPerHa: undefined }),
      template("B1", { fieldId: "G" }),
    ]);
    for (let seed = 0; seed < 50; seed++) {
      const drawn = ids(drawOrders(crowded, 40, "drawn", seededRandom(seed)).orders);
      expect(drawn.includes("A1") && drawn.includes("A2")).toBe(false);
      expect(drawn).toHaveLength(3);
    }
    expect(greatestDraw(crowded, "drawn")).toBe(3);
  });

  it("say when the templates did not reach", () => {
    const { orders: drawn, wanted } = drawOrders(plain.slice(0, 5), 40, "drawn", seededRandom(1));
    expect(drawn).toHaveLength(5);
    expect(wanted).toBeGreaterThan(15);
  });

  it("have what must be done always, never, or by chance as the rest", () => {
    const some = orders(
      Array.from({ length: 40 }, (_, at) => template(`O-${at}`, at < 4 ? { priority: "mandatory" } : {})),
    );
    const mandatoryIn = (how: "drawn" | "always" | "never", seed: number) => {
      const { orders: drawn, wanted } = drawOrders(some, 10, how, seededRandom(seed));
      return { count: drawn.filter(({ priority }) => priority === "mandatory").length, wanted };
    };
    const seeds = Array.from({ length: 600 }, (_, seed) => seed);
    expect(seeds.every((seed) => mandatoryIn("always", seed).count === 4)).toBe(true);
    expect(seeds.every((seed) => mandatoryIn("never", seed).count === 0)).toBe(true);
    const by = (how: "drawn" | "always") => seeds.map((seed) => mandatoryIn(how, seed));
    const meanOf = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
    // A tenth of the templates: one of ten orders.
    expect(Math.abs(meanOf(by("drawn").map(({ count }) => count)) - 1)).toBeLessThan(0.2);
    // They count among those expected.
    expect(Math.abs(meanOf(by("always").map(({ wanted }) => wanted)) - 10)).toBeLessThan(0.5);
    expect(greatestDraw(some, "never")).toBe(36);
  });

  it("name no order that was not drawn", () => {
    const pair = orders([
      template("A", { fieldId: "F", apartFrom: [{ orderId: "B", hours: 24 }] }),
      template("B", { fieldId: "F", products: [{ productId: "GRA", ratePerHa: 1 }] }),
    ]);
    const seen = new Set<string>();
    for (let seed = 0; seed < 60; seed++) {
      const { orders: drawn } = drawOrders(pair, 1, "drawn", seededRandom(seed));
      seen.add(ids(drawn).join());
      for (const { apartFrom } of drawn) {
        expect(apartFrom.every(({ orderId }) => drawn.some(({ id }) => id === orderId))).toBe(true);
      }
      if (ids(drawn).join() === "A,B") expect(drawn[0]!.apartFrom).toHaveLength(1);
    }
    expect([...seen].sort()).toEqual(["", "A", "A,B", "B"]);
  });
});
