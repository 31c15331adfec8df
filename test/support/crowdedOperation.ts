import type { Operation } from "../../shared/model/operation.ts";
import { type OperationInput, smallOperation } from "./operation.ts";

/** Six crews with a kit each, eight orders in many small blocks on two fields, one short shift each: crews wait for each other over a field all the time. */
export function crowdedOperation(seed: number): Operation {
  const { fleet, orders, products } = smallOperation({}) as OperationInput;
  const six = Array.from({ length: 6 }, (_, n) => n);
  return smallOperation({
    settings: { planning: { blockMaxMin: 15 + 5 * (seed % 3) } },
    products: products.map((product) => ({ ...product, rainfastHours: 0 })),
    orders: six
      .slice(0, 4)
      .flatMap((n) => orders.map((order) => ({ ...order, id: `${order.id}-${n}`, priceCentsPerHa: 2500 + 400 * n }))),
    fleet: {
      ...fleet,
      aircraft: six.map((n) => ({ id: `A${n}`, typeId: "SMALL", baseId: "B1" })),
      batteryStocks: [{ baseId: "B1", aircraftTypeId: "SMALL", sets: 18 }],
      chargers: six.map((n) => ({ ...fleet.chargers![0]!, id: `C${n}` })),
      tenders: six.map((n) => ({ ...fleet.tenders[0]!, id: `T${n}` })),
      crews: six.map((n) => ({
        ...fleet.crews[0]!,
        id: `K${n}`,
        people: fleet.crews[0]!.people.map((person) => ({ ...person, id: `N${n}` })),
        maxAircraft: 1,
        shifts: fleet.crews[0]!.shifts.map((shift) => ({
          ...shift,
          from: "06:00",
          to: `08:${10 + 10 * (seed % 3)}`,
        })),
      })),
    },
  });
}
