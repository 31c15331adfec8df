import type { Order } from "../model/order.ts";
import { type Product, rateUnitOf } from "../model/product.ts";
import { productsLPerHa } from "../model/tankMix.ts";
import { methodOf } from "./siteLimits.ts";
import { sumOf } from "./totals.ts";
import { amountUnit } from "./words.ts";

export interface MixPart {
  readonly productId: string;
  readonly name: string;
  readonly registrationNumber: string;
  readonly amount: number;
  readonly unit: "L" | "kg";
}

/** One load as it goes into the aircraft. */
export interface Load {
  readonly loads: number;
  /** L of mix or kg of granules in each of them. */
  readonly size: number;
  readonly unit: "L" | "kg";
  readonly areaHa: number;
  /** Water that makes the products up to the size; 0 for granules. */
  readonly carrierL: number;
  readonly parts: readonly MixPart[];
}

export interface Mix {
  readonly full: Load;
  /** The load that is left when the full ones are used up; null when it comes out even. */
  readonly last: Load | null;
  readonly whole: Load;
}

export interface MixInput {
  readonly order: Order;
  readonly products: readonly Product[];
  readonly loads: number;
  readonly loadSize: number;
  readonly amount: number;
}

/** Less than this share of a full load is rounding, not a load of its own. */
const evenShare = 0.005;

export function mixOf({ order, products, loads, loadSize, amount }: MixInput): Mix {
  const rest = amount - (loads - 1) * loadSize;
  const comesOutEven = Math.abs(rest - loadSize) <= evenShare * loadSize;
  const load = (count: number, size: number) => loadOf(order, products, count, size);
  const full = comesOutEven ? load(loads, amount / loads) : load(loads - 1, loadSize);
  return {
    full: loads === 1 ? load(1, amount) : full,
    last: comesOutEven || loads === 1 ? null : load(1, rest),
    whole: load(1, amount),
  };
}

function loadOf(order: Order, products: readonly Product[], loads: number, size: number): Load {
  const unit = amountUnit[methodOf(products)];
  const kgPerHa = sumOf(order.products, (part) => part.ratePerHa);
  const areaHa = size / (order.carrierLPerHa ?? kgPerHa);
  const parts = order.products.map((part, index) => {
    const product = products[index]!;
    return {
      productId: product.id,
      name: product.name,
      registrationNumber: product.registrationNumber,
      amount: areaHa * part.ratePerHa,
      unit: rateUnitOf(product),
    };
  });
  return { loads, size, unit, areaHa, carrierL: areaHa * waterLPerHa(order, products), parts };
}

/** A powder takes up its volume of the tank. */
function waterLPerHa(order: Order, products: readonly Product[]): number {
  if (order.carrierLPerHa === undefined) return 0;
  const waterL = order.carrierLPerHa - productsLPerHa(order, products);
  if (waterL < 0) throw new RangeError(`order ${order.id} has more product than spray`);
  return waterL;
}
