import { type Operation, operationSchema } from "../../../shared/model/operation.ts";
import { generateOperation } from "./generateOperation.ts";

/** Two days of five orders and two crews: plans in a second. */
export function smallOperation(): Operation {
  const operation = generateOperation({ orders: 5, crews: 2, days: 2, seed: 7 });
  return operationSchema.parse({ ...operation, settings: { ...operation.settings, name: "Two days for two crews" } });
}
