import { planeOf, toAreaXY } from "../../../../shared/geo/convert.ts";
import { leastWidth } from "../../../../shared/geo/width.ts";
import { createCalendar } from "../../../../shared/model/calendar.ts";
import { type Operation, operationSchema } from "../../../../shared/model/operation.ts";
import { degFromRad } from "../../../../shared/units/units.ts";
import { type CropProfile, cropProfiles } from "../crops.ts";
import type { FieldDraft, OrderDraft, ProductDraft } from "../draft.ts";
import { type FieldPlan, planFields } from "../fieldPlans.ts";
import { makeFields } from "../fields.ts";
import { withHazards } from "../hazards.ts";
import { makeLand } from "../land.ts";
import { makeOrders } from "../orders.ts";
import { products } from "../products/products.ts";
import { createRandom } from "../random.ts";
import { conflictCases } from "./conflictCases.ts";
import type { DemoCase } from "./demoCase.ts";
import { demoFleet } from "./fleet.ts";
import { neighbours } from "./neighbours.ts";
import { pressedCases } from "./pressedCases.ts";
import { demoDays, demoFirstDay, demoSettings } from "./settings.ts";
import { demoWeather } from "./weather.ts";

const seed = 20270614;
const ordinaryFields = 60;
const ordinaryOrders = 74;
const ordinaryMeanHa = 24;
/** Planted in rows along their longer side. */
const fieldsInRows: readonly string[] = ["Olive Meadow", "Pickers' Orchard"];
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
  const written = drafts.map((field, index) => withRows(withCase(field, cases[index - ordinaryFields])));
  const fields = withHazards(random.topic("hazards"), written, demoFirstDay, land);
  const settings = demoSettings(random.topic("settings"), land);
  return operationSchema.parse({
    settings,
    fields: { type: "FeatureCollection", features: fields },
    sensitive: { type: "FeatureCollection", features: [...land.places, ...neighbours(land, caseIndex)] },
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

function withRows(field: FieldDraft): FieldDraft {
  const { properties, geometry } = field;
  if (!fieldsInRows.includes(properties.name)) return field;
  const { headingRad } = leastWidth(toAreaXY(planeOf(geometry), geometry).flat(2));
  return { ...field, properties: { ...properties, headingDeg: Math.round(degFromRad(headingRad)) } };
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
