import { addDays, daysBetween } from "../../../shared/model/calendar.ts";
import type { Treatment } from "./crops.ts";
import type { FieldDraft, OrderDraft, ProductDraft } from "./draft.ts";
import type { FieldPlan } from "./fieldPlans.ts";
import { numbered } from "./fields.ts";
import type { Random } from "./random.ts";
import { withWaits } from "./waits.ts";

export interface OrdersRequest {
  readonly count: number;
  readonly firstDay: string;
  readonly days: number;
  readonly fields: readonly FieldDraft[];
  readonly plans: readonly FieldPlan[];
  readonly products: readonly ProductDraft[];
}

/** Growers mostly order what the harvest still allows and what the field has not had; mostly. */
const carelessFrac = 0.03;

/** One order for every field, then second ones with another treatment until the count is reached. */
export function makeOrders(random: Random, request: OrdersRequest): OrderDraft[] {
  const productsById = new Map(request.products.map((product) => [product.id, product]));
  const takenByField = request.fields.map(() => new Set<Treatment>());
  const sensibleFor = (fieldIndex: number) =>
    sensibleTreatments(request, fieldIndex, takenByField[fieldIndex]!, productsById);
  const orders = Array.from({ length: request.count }, (_, index) => {
    const fieldIndex = index < request.fields.length ? index : fieldForAnother(random, request, sensibleFor);
    const all = request.plans[fieldIndex]!.profile.treatments;
    const sensible = sensibleFor(fieldIndex);
    const choice = sensible.length > 0 && !random.chance(carelessFrac) ? sensible : all;
    const treatment = random.weighted(choice.map((candidate) => [candidate, candidate.weight] as const));
    takenByField[fieldIndex]!.add(treatment);
    return orderFor(random, index, request.fields[fieldIndex]!, treatment, productsById, request);
  });
  return withWaits(random.topic("waits"), orders, request.fields);
}

/** A field that can do with another treatment; any when none is found soon. */
function fieldForAnother(
  random: Random,
  { fields }: OrdersRequest,
  sensibleFor: (fieldIndex: number) => readonly Treatment[],
): number {
  const anyField = () => random.whole(0, fields.length - 1);
  let fieldIndex = anyField();
  for (let attempt = 0; attempt < 30 && sensibleFor(fieldIndex).length === 0; attempt++) fieldIndex = anyField();
  return fieldIndex;
}

function sensibleTreatments(
  request: OrdersRequest,
  fieldIndex: number,
  taken: ReadonlySet<Treatment>,
  productsById: ReadonlyMap<string, ProductDraft>,
): readonly Treatment[] {
  const { profile } = request.plans[fieldIndex]!;
  const { properties } = request.fields[fieldIndex]!;
  const daysLeft = properties.harvestDate ? daysBetween(request.firstDay, properties.harvestDate) : 365;
  const had = new Set([
    ...[...taken].flatMap(({ productIds }) => productIds),
    ...(properties.pastApplications ?? []).map(({ productId }) => productId),
  ]);
  return profile.treatments.filter(({ productIds }) =>
    productIds.every((id) => {
      const product = productsById.get(id)!;
      const use = product.uses.find(({ crop }) => crop === profile.crop)!;
      const bloomFree = !properties.bloom || product.bloomRule !== "forbidden";
      return use.phiDays + 3 <= daysLeft && !had.has(id) && bloomFree;
    }),
  );
}

function orderFor(
  random: Random,
  index: number,
  { properties: field }: FieldDraft,
  treatment: Treatment,
  productsById: ReadonlyMap<string, ProductDraft>,
  request: OrdersRequest,
): OrderDraft {
  const dates = orderDates(random, request);
  const order: OrderDraft = {
    id: `O-${numbered(index + 1)}`,
    fieldId: field.id,
    products: treatment.productIds.map((productId) => {
      const use = productsById.get(productId)!.uses.find(({ crop }) => crop === field.crop)!;
      return { productId, ratePerHa: roundRate(random.between(use.rateMinPerHa, use.rateMaxPerHa), use) };
    }),
    ...dates,
    priority: random.weighted([
      ["low", 2],
      ["normal", 6],
      ["high", 2],
      ["mandatory", 0.4],
    ] as const),
    priceCentsPerHa: Math.round(random.between(...treatment.priceCentsPerHa) / 50) * 50,
    maySplit: !random.chance(0.12),
  };
  if (treatment.carrierLPerHa) order.carrierLPerHa = Math.round(random.between(...treatment.carrierLPerHa) / 5) * 5;
  return order;
}

/** Three figures, kept inside the label's range. */
function roundRate(ratePerHa: number, use: { rateMinPerHa: number; rateMaxPerHa: number }): number {
  const rounded = Number(ratePerHa.toPrecision(2));
  return Math.max(use.rateMinPerHa, Math.min(use.rateMaxPerHa, rounded));
}

function orderDates(random: Random, { firstDay, days }: OrdersRequest) {
  const start = random.chance(0.55) ? 0 : random.whole(0, Math.max(0, days - 2));
  const length = random.chance(0.5) ? days : random.whole(2, 5);
  const end = Math.min(days, start + length);
  const preferred = Math.min(end - 1, start + random.whole(0, 2));
  return {
    earliest: `${addDays(firstDay, start)}T00:00`,
    latest: `${addDays(firstDay, end)}T00:00`,
    preferredDate: addDays(firstDay, preferred),
  };
}
