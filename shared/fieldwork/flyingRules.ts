import type { Operation } from "../model/operation.ts";
import type { Order } from "../model/order.ts";
import type { GroundRules } from "./ground.ts";

/** How the ground of an order is to be flown, whatever flies it: an order's own heading goes before its field's. */
export function flyingRules({ fields, settings }: Pick<Operation, "fields" | "settings">, order: Order): GroundRules {
  const field = fields.features.find(({ properties }) => properties.id === order.fieldId);
  if (!field) throw new Error(`field ${order.fieldId} does not exist`);
  const { slopePct, headingDeg } = field.properties;
  return { slopePct, headlandM: settings.fieldwork.headlandM, headingDeg: order.headingDeg ?? headingDeg };
}
