import type { Order } from "./order.ts";
import { type Product, rateUnitOf } from "./product.ts";

const waterKgPerL = 1;

/** What the products of a mix, in the order's own sequence, take up of each hectare's spray, and weigh. */
function perHa(order: Pick<Order, "products">, products: readonly Product[]) {
  let productsL = 0;
  let productsKg = 0;
  order.products.forEach(({ ratePerHa }, index) => {
    const product = products[index]!;
    const { densityKgPerL } = product;
    productsL += rateUnitOf(product) === "kg" ? ratePerHa / densityKgPerL : ratePerHa;
    productsKg += rateUnitOf(product) === "kg" ? ratePerHa : ratePerHa * densityKgPerL;
  });
  return { productsL, productsKg };
}

/** L/ha that the products take up; a powder by its density. */
export function productsLPerHa(order: Pick<Order, "products">, products: readonly Product[]): number {
  return perHa(order, products).productsL;
}

/** Water makes the products up to the carrier volume (the rules, How long). */
export function mixDensityKgPerL(
  order: Pick<Order, "products" | "carrierLPerHa">,
  products: readonly Product[],
): number {
  const { carrierLPerHa } = order;
  if (carrierLPerHa === undefined) throw new RangeError("an order without a carrier volume is no mix");
  const { productsL, productsKg } = perHa(order, products);
  return ((carrierLPerHa - productsL) * waterKgPerL + productsKg) / carrierLPerHa;
}

/** What goes out of the tank or hopper on each hectare, in L of mix or kg of granules, and how heavy a litre of it is. */
export function loadOf(
  order: Pick<Order, "products" | "carrierLPerHa">,
  products: readonly Product[],
): { readonly ratePerHa: number; readonly densityKgPerL: number } {
  return products[0]!.method === "liquid"
    ? { ratePerHa: order.carrierLPerHa ?? 0, densityKgPerL: mixDensityKgPerL(order, products) }
    : {
        ratePerHa: order.products.reduce((sum, { ratePerHa }) => sum + ratePerHa, 0),
        // The lightest granules fill the hopper first.
        densityKgPerL: Math.min(...products.map((product) => product.densityKgPerL)),
      };
}
