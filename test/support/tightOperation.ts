import { generateOperation } from "../../services/scenario/generate/generateOperation.ts";
import { applyChanges } from "../../shared/cases/applyChanges.ts";
import type { Operation } from "../../shared/model/operation.ts";
import type { OrderMix } from "../../shared/model/order.ts";
import { rateUnitOf } from "../../shared/model/product.ts";

const shiftHours = 5;

/**
 * A generated operation of 12 to 25 orders with more work than its two or three crews have hours for; every second has another base, from which the last crew goes out. Things of every kind are for hire,
 * and orders list what else their crop may get. Orders with a grower's one-go wish are one in six.
 */
export function tightOperation(seed: number): Operation {
  const crews = 2 + (seed % 2);
  const operation = generateOperation({ orders: 12 + (seed % 14), crews, days: 4, seed });
  for (const crew of operation.fleet.crews) {
    for (const shift of crew.shifts) {
      const hour = (Number(shift.from.slice(0, 2)) + shiftHours) % 24;
      shift.to = `${String(hour).padStart(2, "0")}${shift.from.slice(2)}` as typeof shift.to;
    }
  }
  operation.orders.forEach((order, at) => {
    const alternatives = alternativesOf(operation, at);
    if (alternatives.length > 0) order.alternatives = alternatives;
    if (at % 6 === 5) order.maySplit = false;
  });
  if (seed % 4 >= 2) addBase(operation);
  const baseIds = operation.settings.bases.map(({ id }) => id);
  const { aircraftTypes, tenders } = operation.fleet;
  const typeId = aircraftTypes.find(({ id }) => id === "crane-50")!.id;
  operation.fleet.hire = [
    { kind: "tender", like: tenders[0]!.id, baseIds, most: 1, hireCents: 12000, per: "day" },
    { kind: "aircraft", typeId, batterySets: 3, baseIds, most: 1, hireCents: 40000, per: "week" },
    { kind: "batterySets", typeId, baseIds, most: 4, hireCents: 5000, per: "week" },
    { kind: "charger", bays: 2, kw: 18, baseIds, most: 2, hireCents: 2500, per: "day" },
  ];
  const judged = applyChanges(operation, []);
  if (!judged.ok) throw new Error(JSON.stringify(judged.faults));
  return judged.operation;
}

/** A yard 12 km away for the last crew, its aircraft type, a charger and a tender. */
function addBase(operation: Operation): void {
  const { fleet, settings } = operation;
  const first = settings.bases[0]!;
  const id = "base-far" as typeof first.id;
  settings.bases.push({ ...first, id, name: "Far yard", lonDeg: first.lonDeg + 0.15 });
  const crew = fleet.crews.at(-1)!;
  const aircraft = fleet.aircraft.at(-1)!;
  crew.baseId = id;
  for (const one of fleet.aircraft) if (one.typeId === aircraft.typeId) one.baseId = id;
  for (const stock of fleet.batteryStocks) if (stock.aircraftTypeId === aircraft.typeId) stock.baseId = id;
  fleet.chargers.at(-1)!.baseId = id;
  fleet.tenders.at(-1)!.baseId = id;
}

/** Another product of the same method with a use on the crop, at its least rate, in the order's volume. */
function alternativesOf({ orders, products, fields }: Operation, at: number): OrderMix[] {
  const { fieldId, products: mix, carrierLPerHa } = orders[at]!;
  const { crop } = fields.features.find(({ properties }) => properties.id === fieldId)!.properties;
  const { method } = products.find(({ id }) => id === mix[0]!.productId)!;
  const other = products.find(
    ({ id, uses, ...product }) =>
      product.method === method &&
      rateUnitOf(product) === (method === "liquid" ? "L" : "kg") &&
      mix.every(({ productId }) => productId !== id) &&
      uses.some((use) => use.crop === crop),
  );
  if (other === undefined) return [];
  const { rateMinPerHa } = other.uses.find((use) => use.crop === crop)!;
  const volume =
    carrierLPerHa === undefined ? {} : { carrierLPerHa: Math.max(carrierLPerHa, other.carrierMinLPerHa ?? 0) };
  return [{ products: [{ productId: other.id, ratePerHa: rateMinPerHa }], ...volume }];
}
