import type { FieldProperties } from "../model/field.ts";
import type { Order } from "../model/order.ts";
import type { Settings } from "../model/settings.ts";
import type { GroundRules } from "./ground.ts";

/** How the ground of an order is to be flown, whatever flies it: an order's own heading goes before its field's. */
export function flyingRules(
  { fieldwork }: Pick<Settings, "fieldwork">,
  field: Pick<FieldProperties, "slopePct" | "headingDeg">,
  order: Pick<Order, "headingDeg">,
): GroundRules {
  return {
    slopePct: field.slopePct,
    headlandM: fieldwork.headlandM,
    headingDeg: order.headingDeg ?? field.headingDeg,
  };
}
