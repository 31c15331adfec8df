import { minutesPerHour } from "../model/calendar.ts";
import type { Operation } from "../model/operation.ts";
import type { Order } from "../model/order.ts";
import type { LabelUse, Product } from "../model/product.ts";
import { type Buffers, buffersOf } from "./buffers.ts";

export interface MixProduct {
  readonly product: Product;
  readonly ratePerHa: number;
  /** What the label allows on the field's crop; a label may not know the crop. */
  readonly use: LabelUse | undefined;
}

/** All that goes out of one tank or hopper for one order, with the strictest of its labels where it is one figure. */
export interface Mix {
  readonly method: Product["method"];
  readonly products: readonly MixProduct[];
  readonly rainfastMin: number;
  readonly reiMin: number;
  readonly reiHours: number;
  readonly phiDays: number;
  readonly inversionRule: Product["inversionRule"];
  readonly bloomRule: Product["bloomRule"];
  readonly buffers: Buffers;
}

/** From the mildest to the strictest. */
const inversionRules = ["ignore", "notWhenLikely", "notWhenPossible"] satisfies Product["inversionRule"][];
const bloomRules = ["allowed", "outsideBeeHours", "forbidden"] satisfies Product["bloomRule"][];

export function createMix(operation: Operation, order: Order, crop: string): Mix {
  const products = order.products.map(({ productId, ratePerHa }) => {
    const product = operation.products.find(({ id }) => id === productId);
    if (!product) throw new Error(`order ${order.id} names product ${productId}, which does not exist`);
    return { product, ratePerHa, use: product.uses.find((use) => use.crop === crop) };
  });
  const labels = products.map(({ product }) => product);
  const reiHours = Math.max(...labels.map((label) => label.reiHours));
  return {
    method: labels[0]!.method,
    products,
    rainfastMin: wholeMinutes(Math.max(...labels.map((label) => label.rainfastHours))),
    reiMin: wholeMinutes(reiHours),
    reiHours,
    phiDays: Math.max(...products.map(({ use }) => use?.phiDays ?? 0)),
    inversionRule: strictest(
      inversionRules,
      labels.map((label) => label.inversionRule),
    ),
    bloomRule: strictest(
      bloomRules,
      labels.map((label) => label.bloomRule),
    ),
    buffers: buffersOf(order, labels),
  };
}

/** Whole minutes stop the same whole minutes as the exact figure does, without its rounding noise (4.1 h x 60). */
export function wholeMinutes(hours: number): number {
  return Math.ceil(hours * minutesPerHour - 1e-9);
}

function strictest<Rule>(fromMildToStrict: readonly Rule[], rules: readonly Rule[]): Rule {
  return rules.reduce((a, b) => (fromMildToStrict.indexOf(b) > fromMildToStrict.indexOf(a) ? b : a));
}
