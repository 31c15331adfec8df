import { z } from "zod";
import { fieldsSchema, sensitiveSchema } from "./field.ts";
import { fleetSchema } from "./fleet.ts";
import { locksSchema } from "./locks.ts";
import { ordersSchema } from "./order.ts";
import { productsSchema } from "./product.ts";
import { roadSchema, settingsSchema } from "./settings.ts";
import { weatherSchema } from "./weather.ts";

/** A whole operation: what a scenario folder holds and what goes in and out through the API. */
export const operationSchema = z.strictObject({
  settings: settingsSchema,
  fields: fieldsSchema,
  sensitive: sensitiveSchema.default({ type: "FeatureCollection", features: [] }),
  products: productsSchema,
  orders: ordersSchema,
  fleet: fleetSchema,
  weather: weatherSchema,
  roads: z.array(roadSchema).default([]),
  locks: locksSchema.default([]),
});
export type Operation = z.infer<typeof operationSchema>;
