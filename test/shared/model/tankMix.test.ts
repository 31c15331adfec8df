import { describe, expect, test } from "vitest";
import { gearOf } from "../../../shared/fieldwork/flow.ts";
import type { Product } from "../../../shared/model/product.ts";
import { loadOf, mixDensityKgPerL, productsLPerHa } from "../../../shared/model/tankMix.ts";
import { smallOperation } from "../../support/operation.ts";
import { multirotor } from "../fieldwork/outfits.ts";

const operation = smallOperation({});
const [water] = operation.products;
const [anyOrder] = operation.orders;

function mixOf(carrierLPerHa: number, ...parts: readonly (Partial<Product> & { ratePerHa: number })[]) {
  const products = parts.map(({ ratePerHa: _, ...label }): Product => ({ ...water!, ...label }));
  const doses = parts.map(({ ratePerHa }, index) => ({ productId: products[index]!.id, ratePerHa }));
  return { order: { ...anyOrder!, carrierLPerHa, products: doses }, products };
}

describe("density of a mix", () => {
  test("is that of water when the product weighs as water", () => {
    const { order, products } = mixOf(15, { densityKgPerL: 1, ratePerHa: 2 });
    expect(mixDensityKgPerL(order, products)).toBe(1);
  });

  test("sulfur of 1.8 kg/L, 5 L in 30 L: (25 + 9) / 30 = 1.1333 kg/L, and 42 kg of payload are 37.06 L", () => {
    const { order, products } = mixOf(30, { densityKgPerL: 1.8, ratePerHa: 5 });
    const densityKgPerL = mixDensityKgPerL(order, products);
    expect(densityKgPerL).toBeCloseTo(1.1333, 4);
    expect(productsLPerHa(order, products)).toBe(5);
    expect(gearOf({ ...multirotor, payloadKg: 42 }, "liquid", densityKgPerL)!.fullLoad).toBeCloseTo(37.06, 2);
  });

  test("counts a powder by its own weight: 2 kg of 0.5 kg/L take up 4 L of 20: (16 + 2) / 20 = 0.9 kg/L", () => {
    const { order, products } = mixOf(20, { rateUnit: "kg", densityKgPerL: 0.5, ratePerHa: 2 });
    expect(productsLPerHa(order, products)).toBe(4);
    expect(mixDensityKgPerL(order, products)).toBeCloseTo(0.9, 12);
  });

  test("adds the products up: 1 L of 1.2 and 3 kg of 1.5 kg/L in 10 L: (10 - 1 - 2 + 1.2 + 3) / 10 = 1.12 kg/L", () => {
    const { order, products } = mixOf(
      10,
      { densityKgPerL: 1.2, ratePerHa: 1 },
      { rateUnit: "kg", densityKgPerL: 1.5, ratePerHa: 3 },
    );
    expect(mixDensityKgPerL(order, products)).toBeCloseTo(1.12, 12);
  });

  test("is none for granules", () => {
    const { order, products } = mixOf(10, { ratePerHa: 1 });
    const { carrierLPerHa: _, ...withoutCarrier } = order;
    expect(() => mixDensityKgPerL(withoutCarrier, products)).toThrow(RangeError);
  });
});

describe("what goes out on a hectare", () => {
  test("is the spray, as heavy as its mix", () => {
    const { order, products } = mixOf(30, { densityKgPerL: 1.8, ratePerHa: 5 });
    expect(loadOf(order, products)).toEqual({ ratePerHa: 30, densityKgPerL: mixDensityKgPerL(order, products) });
  });

  test("is the sum of granules, as heavy as the lightest of them", () => {
    const { order, products } = mixOf(
      0,
      { method: "granular", densityKgPerL: 1.1, ratePerHa: 40 },
      { method: "granular", densityKgPerL: 0.8, ratePerHa: 25 },
    );
    expect(loadOf(order, products)).toEqual({ ratePerHa: 65, densityKgPerL: 0.8 });
  });
});
