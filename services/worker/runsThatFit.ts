import type { Operation } from "../../shared/model/operation.ts";

/** What the runs of a worker should do with together, and what each takes: so much in any case, and more with every order. Measured on cases of 100 and 500 orders: 200 and 380 MB. */
const roomMb = 820;
const runMb = 150;
const orderMb = 0.46;

/** How many runs of studies of such operations fit into memory at once; one in any case. */
export function runsThatFit({ orders }: Pick<Operation, "orders">): number {
  return Math.max(1, Math.floor(roomMb / (runMb + orderMb * orders.length)));
}
