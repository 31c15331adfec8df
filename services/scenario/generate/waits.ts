import type { FieldDraft, OrderDraft } from "./draft.ts";
import type { Random } from "./random.ts";

/** Our choice throughout: some growers keep off wet crops, and most keep two treatments of a field some days apart. */
const wetFrac = 0.12;
const apartFrac = 0.6;

/** The orders with what growers wish about waiting: after rain, and between two orders on one field. */
export function withWaits(random: Random, orders: readonly OrderDraft[], fields: readonly FieldDraft[]): OrderDraft[] {
  const cropOf = new Map(fields.map(({ properties }) => [properties.id, properties.crop]));
  const firstOnField = new Map<string, string>();
  return orders.map((order) => {
    const ofOrder = random.topic(order.id);
    const waiting: OrderDraft = { ...order };
    // Rice stands in water anyway.
    if (ofOrder.chance(wetFrac) && cropOf.get(order.fieldId) !== "rice") {
      waiting.waitAfterRainMm = ofOrder.whole(2, 8);
      waiting.waitAfterRainHours = ofOrder.pick([12, 18, 24]);
    }
    const first = firstOnField.get(order.fieldId);
    if (first === undefined) firstOnField.set(order.fieldId, order.id);
    else if (ofOrder.chance(apartFrac)) {
      waiting.apartFrom = [{ orderId: first, hours: ofOrder.pick([24, 36, 48]) }];
    }
    return waiting;
  });
}
