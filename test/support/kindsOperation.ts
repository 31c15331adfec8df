import type { Operation } from "../../shared/model/operation.ts";
import { type OperationInput, rectangleField, smallOperation } from "./operation.ts";

/**
 * One crew for one day, a wide sprayer and a small one that also spreads: a flat field whose order asks for droplets that only WIDE makes, a steep one that only TIGHT
 * flies over, and granules, for which WIDE has no gear. Neither type alone serves the day.
 */
export function kindsOperation(mixedOutfit: boolean): Operation {
  const { fleet, orders, products } = smallOperation({}) as OperationInput;
  const small = fleet.aircraftTypes.find(({ id }) => id === "SMALL")!;
  const { granular: _, ...sprayer } = small;
  const crew = fleet.crews[0]!;
  const liquid = orders.find(({ id }) => id === "O-1")!;
  return smallOperation({
    fields: {
      type: "FeatureCollection",
      features: [
        rectangleField("FLAT", { eastM: 3000, northM: 1000, widthM: 800, heightM: 500 }, {}),
        rectangleField("STEEP", { eastM: 3000, northM: 2000, widthM: 200, heightM: 150 }, { slopePct: 35 }),
        rectangleField("MEADOW", { eastM: 2000, northM: 2500, widthM: 300, heightM: 200 }, {}),
      ],
    },
    products,
    orders: [
      { ...liquid, id: "O-FLAT", fieldId: "FLAT", dropletClass: "C" },
      { ...liquid, id: "O-STEEP", fieldId: "STEEP", dropletClass: "F" },
      { ...orders.find(({ id }) => id === "O-2")!, id: "O-GRAIN", fieldId: "MEADOW" },
    ],
    fleet: {
      ...fleet,
      aircraftTypes: [
        {
          ...sprayer,
          id: "WIDE",
          name: "Wide sprayer",
          liquid: { ...small.liquid!, swathM: 14, tankL: 70, flowMaxLPerMin: 30, dropletMinUm: 250, dropletMaxUm: 500 },
          payloadKg: 80,
          power: { source: "battery", enduranceMin: 10, reserveFrac: 0.2, swapS: 90, chargeMin: 15, chargeKw: 12 },
          slopeMaxPct: 10,
          setupMin: 18,
          calibrationMin: 7,
          packupMin: 5,
          transportSlots: 2,
          runningCentsPerHour: 3000,
        },
        {
          ...small,
          id: "TIGHT",
          name: "Small multirotor",
          liquid: { ...small.liquid!, dropletMinUm: 110, dropletMaxUm: 200 },
          slopeMaxPct: 60,
        },
      ],
      aircraft: [
        { id: "W1", typeId: "WIDE", baseId: "B1" },
        { id: "S1", typeId: "TIGHT", baseId: "B1" },
      ],
      batteryStocks: [
        { baseId: "B1", aircraftTypeId: "WIDE", sets: 3 },
        { baseId: "B1", aircraftTypeId: "TIGHT", sets: 2 },
      ],
      chargers: [{ id: "C1", baseId: "B1", bays: 3, kw: 40 }],
      // One bay of 12 kW or two of 9 kW; for both types one each.
      tenders: [{ ...fleet.tenders[0]!, generatorKw: 22, transportSlots: 3 }],
      crews: [
        {
          ...crew,
          people: [{ ...crew.people[0]!, ratings: ["WIDE", "TIGHT"], aircraftAtOnce: 1 }],
          shifts: crew.shifts.slice(0, 1),
          mixedOutfit,
        },
      ],
    },
  });
}
