import type { PointXY } from "../../../../shared/geo/plane.ts";
import { createCalendar } from "../../../../shared/model/calendar.ts";
import { type Operation, operationSchema } from "../../../../shared/model/operation.ts";
import { type CropProfile, cropProfiles } from "../crops.ts";
import type { FieldDraft, OrderDraft, ProductDraft, SensitiveDraft } from "../draft.ts";
import { type FieldPlan, makeFields, planFields } from "../fields.ts";
import { type Land, makeLand } from "../land.ts";
import { makeOrders } from "../orders.ts";
import { products } from "../products.ts";
import { createRandom, type Random } from "../random.ts";
import { conflictCases, type DemoCase, pressedCases } from "./cases.ts";
import { demoFleet } from "./fleet.ts";
import { demoDays, demoFirstDay, demoSettings } from "./settings.ts";
import { demoWeather } from "./weather.ts";

const seed = 20270614;
const ordinaryFields = 60;
const ordinaryOrders = 74;
const ordinaryMeanHa = 24;
const cases: readonly DemoCase[] = [...conflictCases, ...pressedCases];

/** A product whose licence class nobody in the demo holds. Intervals on citrus after the UC IPM guidelines 2017. */
const methomyl: ProductDraft = {
  id: "methomyl",
  name: "Methomyl 200 solution",
  registrationNumber: "LN-1110",
  active: "methomyl 200 g/L",
  method: "liquid",
  licenceClass: "high-hazard",
  uses: [{ crop: "citrus", rateMinPerHa: 1, rateMaxPerHa: 2, phiDays: 1, seasonMaxCount: 1 }],
  reiHours: 72,
  rainfastHours: 4,
  windMinKph: 3,
  windMaxKph: 13,
  deltaTMaxC: 8,
  dropletFinest: "M",
  dropletCoarsest: "C",
  carrierMinLPerHa: 30,
  buffers: [{ kind: "dwelling", distanceM: 90 }],
  bloomRule: "forbidden",
  inversionRule: "notWhenPossible",
  compatibilityGroup: "insecticide",
  cleanOutMin: 25,
  cleanOutL: 60,
};

/** The demo week: ordinary fields and orders by chance, and a case for everything that presses or stops an order. */
export function demoOperation(): Operation {
  const random = createRandom(seed, "demo");
  const demoProducts = [...products, methomyl];
  const ordinary = planFields(random.topic("crops"), ordinaryFields, ordinaryMeanHa);
  const plans = [...ordinary, ...cases.map(planOfCase)];
  const land = makeLand(random, plans);
  const drafts = makeFields(random.topic("fields"), {
    firstDay: demoFirstDay,
    days: demoDays,
    plans,
    land,
    products: demoProducts,
  });
  const fields = drafts.map((field, index) => withCase(field, cases[index - ordinaryFields]));
  const settings = demoSettings(random.topic("settings"), land);
  return operationSchema.parse({
    settings,
    fields: { type: "FeatureCollection", features: fields },
    sensitive: { type: "FeatureCollection", features: [...land.places, ...placesOfCases(random.topic("cases"), land)] },
    products: demoProducts,
    orders: [
      ...makeOrders(random.topic("orders"), {
        count: ordinaryOrders,
        firstDay: demoFirstDay,
        days: demoDays,
        fields: fields.slice(0, ordinaryFields),
        plans: ordinary,
        products: demoProducts,
      }),
      ...ordersOfCases(fields),
    ],
    fleet: demoFleet(),
    weather: demoWeather(random.topic("weather"), createCalendar(settings), settings),
  });
}

/** A case's field takes part in the lay of the land like any other; what the season brings to it is written, not drawn. */
function planOfCase({ shape, field }: DemoCase): FieldPlan {
  const profile: CropProfile = cropProfiles.find(({ crop }) => crop === field.crop) ?? {
    crop: field.crop,
    weight: 0,
    meanAreaFactor: 1,
    slopePct: [0, 0],
    treatments: [],
  };
  return { profile, ...shape };
}

function withCase(field: FieldDraft, demoCase: DemoCase | undefined): FieldDraft {
  if (!demoCase) return field;
  const { id, pads } = field.properties;
  return { ...field, properties: { id, pads, ...demoCase.field } };
}

function ordersOfCases(fields: readonly FieldDraft[]): OrderDraft[] {
  const placed = cases.flatMap(({ orders }, index) =>
    orders.map((order) => ({ order, fieldId: fields[ordinaryFields + index]!.properties.id })),
  );
  return placed.map(({ order, fieldId }, index) => ({ id: `O-${101 + index}`, fieldId, ...order }));
}

function caseIndex(fieldName: string): number {
  const index = cases.findIndex(({ field }) => field.name === fieldName);
  if (index < 0) throw new Error(`no case is called ${fieldName}`);
  return ordinaryFields + index;
}

/** The neighbours that the cases speak of. */
function placesOfCases(random: Random, land: Land): SensitiveDraft[] {
  const point = (id: string, name: string, kind: "school" | "apiary" | "susceptible", radiusM: number, at: PointXY) =>
    ({
      type: "Feature",
      geometry: { type: "Point", coordinates: land.toPosition(at) },
      properties: { id, kind, name, radiusM },
    }) satisfies SensitiveDraft;
  const beside = (fieldName: string, directionRad: number, gapM: number) =>
    freeSpot(random, land, caseIndex(fieldName), directionRad, gapM);
  const northWest = (3 * Math.PI) / 4;
  return [
    point("school-lunera", "Escuela de Lunera de Abajo", "school", 45, beside("School Paddock", 0, 52)),
    point("hives-folgares", "Hives at the chapel of Santa Órvita", "apiary", 8, beside("Bee Meadow", northWest, 60)),
    point(
      "gardens-lunera",
      "Kitchen gardens of Lunera",
      "susceptible",
      60,
      beside("Gardener's Neighbour", northWest, 110),
    ),
  ];
}

/** A spot at the wanted distance outside the field's circle: in the wanted direction if free, else the nearest turn from it. */
function freeSpot(random: Random, land: Land, fieldIndex: number, directionRad: number, gapM: number): PointXY {
  const { centre, radiusM } = land.laid.shapes[fieldIndex]!;
  const clearM = 50;
  for (let turn = 0; turn < 24; turn++) {
    const angle = directionRad + (turn % 2 === 0 ? 1 : -1) * Math.ceil(turn / 2) * (Math.PI / 12);
    const offM = radiusM + gapM + random.between(0, 5);
    const spot: PointXY = [centre[0] + offM * Math.cos(angle), centre[1] + offM * Math.sin(angle)];
    if (!land.laid.grid.touches(spot, clearM)) return spot;
  }
  throw new Error(`no free ground beside field ${fieldIndex}`);
}
