import type { Order } from "../model/order.ts";
import { poissonOf } from "./poisson.ts";
import type { SeasonDocument } from "./seasonDocument.ts";

export interface DrawnOrders {
  /** In the order of the templates. */
  readonly orders: Order[];
  /** How many there were to be. More than `orders` when the templates did not reach. */
  readonly wanted: number;
}

/**
 * A week's orders out of those that there might be: a Poisson number of them, without replacement, and of orders on one field
 * with a product in common only one. Each template has its own number of chance and those with the least are taken, so that of
 * the same chance a higher demand keeps what a lower one took, and an order more among the templates moves none of the others.
 */
export function drawOrders(
  templates: readonly Order[],
  expected: number,
  mandatory: SeasonDocument["mandatory"],
  random: () => number,
): DrawnOrders {
  const countChance = random();
  const ranked = templates.map((order) => ({ order, chance: random() }));
  const isFirst = ({ priority }: Order) => mandatory === "always" && priority === "mandatory";
  const sure = ranked.filter(({ order }) => isFirst(order));
  const others = ranked
    .filter(({ order }) => !isFirst(order) && !(mandatory === "never" && order.priority === "mandatory"))
    .sort((a, b) => a.chance - b.chance);
  const kept = new Set<Order>();
  const taken = new Set<string>();
  const take = (order: Order) => {
    const keys = order.products.map(({ productId }) => `${order.fieldId} ${productId}`);
    if (keys.some((key) => taken.has(key))) return;
    for (const key of keys) taken.add(key);
    kept.add(order);
  };
  for (const { order } of sure) take(order);
  const wanted = kept.size + poissonOf(expected - kept.size, countChance);
  for (const { order } of others) {
    if (kept.size >= wanted) break;
    take(order);
  }
  return { orders: withoutAbsent(templates.filter((order) => kept.has(order))), wanted };
}

/** How many orders a week can have at most, whatever is drawn first: at least so many. */
export function greatestDraw(templates: readonly Order[], mandatory: SeasonDocument["mandatory"]): number {
  // Every number is drawn: the order of the templates is as good as any.
  return drawOrders(templates, 2 * templates.length + 1, mandatory, () => 0.5).orders.length;
}

/** The orders, none of which names one that is not among them. */
export function withoutAbsent(orders: readonly Order[]): Order[] {
  const ids = new Set(orders.map(({ id }) => id));
  return orders.map((order) =>
    order.apartFrom.every(({ orderId }) => ids.has(orderId))
      ? order
      : { ...order, apartFrom: order.apartFrom.filter(({ orderId }) => ids.has(orderId)) },
  );
}
