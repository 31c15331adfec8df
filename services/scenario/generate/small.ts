import { type Operation, operationSchema } from "../../../shared/model/operation.ts";
import { generateOperation } from "./generateOperation.ts";

/** Two days of five orders and two crews, planned in a second; the last order asks for more than its label allows. */
export function smallOperation(): Operation {
  const operation = generateOperation({ orders: 5, crews: 2, days: 2, seed: 10 });
  const orders = operation.orders.map((order, index) =>
    index === operation.orders.length - 1
      ? {
          ...order,
          products: order.products.map((product) => ({ ...product, ratePerHa: 2 * product.ratePerHa })),
          notes: "rate as the grower wrote it",
        }
      : order,
  );
  const used = new Set([
    ...orders.flatMap(({ products }) => products.map(({ productId }) => productId)),
    ...operation.fields.features.flatMap(({ properties }) =>
      properties.pastApplications.map(({ productId }) => productId),
    ),
  ]);
  return operationSchema.parse({
    ...operation,
    settings: { ...operation.settings, name: "Two days for two crews" },
    products: operation.products.filter(({ id }) => used.has(id)),
    orders,
  });
}
