import type { Plane } from "../../shared/geo/plane.ts";
import type { Calendar } from "../../shared/model/calendar.ts";
import { daysBetween } from "../../shared/model/calendar.ts";
import type { Operation } from "../../shared/model/operation.ts";
import type { Order } from "../../shared/model/order.ts";
import type { Product } from "../../shared/model/product.ts";
import { loadOf } from "../../shared/model/tankMix.ts";
import type { Apart, ProblemOrder, SeasonLimit } from "./problem.ts";

export interface CompiledOrders {
  readonly orders: readonly ProblemOrder[];
  readonly seasonLimits: readonly SeasonLimit[];
  readonly groups: readonly string[];
  readonly licenceSets: readonly (readonly string[])[];
}

/** The group that goes with every other. */
const anyGroup = "any";

export function compileOrders(
  operation: Operation,
  calendar: Calendar,
  planeOfOrder: (order: Order) => Plane,
): CompiledOrders {
  const fieldIndex = new Map(operation.fields.features.map(({ properties }, index) => [properties.id, index]));
  const products = new Map<string, Product>(operation.products.map((product) => [product.id, product]));
  const groups = [anyGroup];
  const licenceKeys = new Map<string, number>();
  const licenceSets: string[][] = [];
  const intern = <T>(list: T[], item: T) => {
    const at = list.indexOf(item);
    return at >= 0 ? at : list.push(item) - 1;
  };
  const licenceOf = (mix: readonly Product[]) => {
    const classes = [...new Set(mix.map((product) => product.licenceClass))].sort();
    const key = classes.join("\n");
    const known = licenceKeys.get(key);
    if (known !== undefined) return known;
    licenceKeys.set(key, licenceSets.length);
    return licenceSets.push(classes) - 1;
  };
  const { planning } = operation.settings;
  const factors = { high: planning.highFactor, normal: 1, low: planning.lowFactor };
  // A mandatory order is worth more than any other, whatever it pays.
  const mandatoryCentsPerHa =
    planning.mandatoryFactor * Math.max(0, ...operation.orders.map(({ priceCentsPerHa }) => priceCentsPerHa));

  const ordersOfField = new Map<number, number[]>();
  operation.orders.forEach((order, index) => {
    const field = fieldIndex.get(order.fieldId)!;
    const list = ordersOfField.get(field);
    if (list === undefined) ordersOfField.set(field, [index]);
    else list.push(index);
  });
  const { seasonLimits, seasonsOfOrder } = compileSeasons(operation, ordersOfField, products);

  const orders = operation.orders.map((order, index): ProblemOrder => {
    const field = fieldIndex.get(order.fieldId)!;
    const { crop } = operation.fields.features[field]!.properties;
    const mix = order.products.map(({ productId }) => products.get(productId)!);
    const liquid = mix[0]!.method === "liquid";
    const named = mix.find((product) => product.compatibilityGroup !== anyGroup);
    return {
      order,
      field,
      plane: planeOfOrder(order),
      liquid,
      ...loadOf(order, mix),
      valueCentsPerHa:
        order.priority === "mandatory" ? mandatoryCentsPerHa : order.priceCentsPerHa * factors[order.priority],
      preferredDay:
        order.preferredDate === undefined
          ? calendar.dates.length
          : daysBetween(operation.settings.firstDay, order.preferredDate),
      group: named === undefined ? 0 : intern(groups, named.compatibilityGroup),
      cleanOutMin: Math.max(...mix.map((product) => product.cleanOutMin)),
      cleanOutL: Math.max(...mix.map((product) => product.cleanOutL)),
      licence: licenceOf(mix),
      apart: ordersOfField
        .get(field)!
        .filter((other) => other !== index)
        .flatMap((other) => apartOf(order, operation.orders[other]!, other, mix, crop)),
      seasons: seasonsOfOrder[index]!,
    };
  });
  return { orders, seasonLimits, groups, licenceSets };
}

/** How far two orders on one field must stay apart: days by a product in common, minutes by a waiting time that either names. */
function apartOf(order: Order, otherOrder: Order, other: number, mix: readonly Product[], crop: string): Apart[] {
  const shared = mix.filter(({ id }) => otherOrder.products.some(({ productId }) => productId === id));
  const waits = [
    ...order.apartFrom.filter(({ orderId }) => orderId === otherOrder.id),
    ...otherOrder.apartFrom.filter(({ orderId }) => orderId === order.id),
  ];
  if (shared.length === 0 && waits.length === 0) return [];
  const days = shared.map((product) => product.uses.find((use) => use.crop === crop)?.retreatmentDays ?? 0);
  return [{ order: other, days: Math.max(0, ...days), minutes: 60 * Math.max(0, ...waits.map(({ hours }) => hours)) }];
}

/** Seasonal limits that two or more orders of the plan share, less what has been applied already. */
function compileSeasons(
  operation: Operation,
  ordersOfField: ReadonlyMap<number, readonly number[]>,
  products: ReadonlyMap<string, Product>,
): { seasonLimits: SeasonLimit[]; seasonsOfOrder: number[][] } {
  const seasonLimits: SeasonLimit[] = [];
  const seasonsOfOrder: number[][] = operation.orders.map(() => []);
  for (const [field, orders] of ordersOfField) {
    const { crop, pastApplications } = operation.fields.features[field]!.properties;
    for (const product of products.values()) {
      const use = product.uses.find((candidate) => candidate.crop === crop);
      if (use === undefined || (use.seasonMaxCount === undefined && use.seasonMaxPerHa === undefined)) continue;
      const amounts = new Map<number, number>();
      for (const order of orders) {
        const { id } = operation.orders[order]!;
        // What has been done of it in part is counted with what is past.
        if (pastApplications.some((one) => one.productId === product.id && one.orderId === id)) continue;
        const dose = operation.orders[order]!.products.find(({ productId }) => productId === product.id);
        if (dose !== undefined) amounts.set(order, dose.ratePerHa);
      }
      if (amounts.size < 2) continue;
      const past = pastApplications.filter(({ productId }) => productId === product.id);
      const pastAmount = past.reduce((sum, { ratePerHa }) => sum + ratePerHa, 0);
      for (const order of amounts.keys()) seasonsOfOrder[order]!.push(seasonLimits.length);
      seasonLimits.push({
        orders: [...amounts.keys()],
        amounts: [...amounts.values()],
        maxCount: (use.seasonMaxCount ?? Number.POSITIVE_INFINITY) - past.length,
        maxAmount: (use.seasonMaxPerHa ?? Number.POSITIVE_INFINITY) - pastAmount,
      });
    }
  }
  return { seasonLimits, seasonsOfOrder };
}
