import { areaM2 } from "../../../../shared/geo/area.ts";
import { type AreaLike, planeOf, toAreaXY } from "../../../../shared/geo/convert.ts";
import type { Operation } from "../../../../shared/model/operation.ts";
import type { Order } from "../../../../shared/model/order.ts";
import type { Method } from "../../../../shared/model/quantities.ts";
import type { OrderView } from "../../../../shared/plan/weekOrders.ts";
import type { WeekView } from "../../../../shared/plan/weekView.ts";
import { haFromM2 } from "../../../../shared/units/units.ts";

export type OrderStatus = WeekView["orders"][number]["status"] | "notInPlan" | "noPlan";

/** An order with all by which it is looked for. */
export interface OrderRow {
  readonly id: string;
  readonly fieldId: string;
  readonly fieldName: string;
  readonly grower: string;
  readonly crop: string;
  readonly products: readonly string[];
  readonly method: Method;
  /** Of the ground that it is for, by the outline: buffers may take some of it away. */
  readonly areaHa: number;
  readonly latest: string;
  readonly preferredDate: string | null;
  readonly priority: Order["priority"];
  readonly status: OrderStatus;
  /** Where it stands in the plan, part by part, earliest first. */
  readonly work: OrderView["work"];
  readonly text: string;
}

export const outlineHa = (geometry: AreaLike): number => haFromM2(areaM2(toAreaXY(planeOf(geometry), geometry)));

/** `week`: of the plan that is shown; null: there is none. */
export function orderRows(operation: Operation, week: Pick<WeekView, "orders"> | null): readonly OrderRow[] {
  const fields = new Map<string, Operation["fields"]["features"][number]>(
    operation.fields.features.map((feature) => [feature.properties.id, feature]),
  );
  const products = new Map<string, Operation["products"][number]>(operation.products.map((one) => [one.id, one]));
  const planned = new Map(week?.orders.map((order) => [order.id, order]));
  const fieldHa = new Map<string, number>();
  return operation.orders.map((order) => {
    const { geometry, properties } = fields.get(order.fieldId)!;
    const areaHa = order.ground ? outlineHa(order.ground) : (fieldHa.get(order.fieldId) ?? outlineHa(geometry));
    if (!order.ground) fieldHa.set(order.fieldId, areaHa);
    const mix = order.products.map(({ productId }) => products.get(productId)!);
    const names = mix.map(({ name }) => name);
    return {
      id: order.id,
      fieldId: order.fieldId,
      fieldName: properties.name,
      grower: properties.grower,
      crop: properties.crop,
      products: names,
      method: mix[0]!.method,
      areaHa,
      latest: order.latest,
      preferredDate: order.preferredDate ?? null,
      priority: order.priority,
      status: week === null ? "noPlan" : (planned.get(order.id)?.status ?? "notInPlan"),
      work: planned.get(order.id)?.work ?? [],
      text: [
        order.id,
        order.fieldId,
        properties.name,
        properties.grower,
        properties.crop,
        ...names,
        ...mix.map(({ active }) => active),
        order.notes,
      ].join(" "),
    };
  });
}

const ranks: Readonly<Record<Order["priority"], number>> = { mandatory: 0, high: 1, normal: 2, low: 3 };
export const priorityRank = ({ priority }: Pick<OrderRow, "priority">): number => ranks[priority];
