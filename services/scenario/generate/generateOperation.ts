import { createCalendar, minutesPerHour } from "../../../shared/model/calendar.ts";
import { type Operation, operationSchema } from "../../../shared/model/operation.ts";
import type { SettingsDraft } from "./draft.ts";
import { planFields } from "./fieldPlans.ts";
import { makeFields } from "./fields.ts";
import { makeFleet, roughCapacityHa } from "./fleet.ts";
import { withHazards } from "./hazards.ts";
import { home, type Land, makeLand, makeWaterPoints, yardPosition } from "./land.ts";
import { makeOrders } from "./orders.ts";
import { products } from "./products/products.ts";
import { createRandom, type Random } from "./random.ts";
import { makeFronts, makeMoods, makeWeather } from "./weather.ts";

export interface GenerateRequest {
  readonly orders: number;
  readonly crews: number;
  readonly days: number;
  readonly seed: number;
  /** An ISO date; a Monday in June when it does not matter. */
  readonly firstDay?: string;
}

const anyMonday = "2027-06-14";

/** Share of the rough capacity that is ordered, so that a good plan serves most of it but not all. */
const demandFrac = 0.95;
const fieldsPerOrder = 0.75;
/** Mean area of a field, whatever the crews could do. */
const leastMeanHa = 2;
const greatestMeanHa = 32;
/** Crews that share a base. */
const crewsPerBase = 4;

/** An operation of any size in the demo's style; the same request gives the same operation. */
export function generateOperation(request: GenerateRequest): Operation {
  const { days } = request;
  const random = createRandom(request.seed, "operation");
  const firstDay = request.firstDay ?? anyMonday;
  const meanHa = (demandFrac * roughCapacityHa(request.crews, days)) / request.orders;
  const plans = planFields(
    random.topic("crops"),
    Math.max(1, Math.round(request.orders * fieldsPerOrder)),
    Math.max(leastMeanHa, Math.min(greatestMeanHa, meanHa)),
  );
  const land = makeLand(random, plans);
  const made = makeFields(random.topic("fields"), { firstDay, days, plans, land, products });
  const fields = withHazards(random.topic("hazards"), made, firstDay, land);
  const settings = makeSettings(random.topic("settings"), request, firstDay, land);
  const calendar = createCalendar(settings);
  return operationSchema.parse({
    settings,
    fields: { type: "FeatureCollection", features: fields },
    sensitive: { type: "FeatureCollection", features: land.places },
    products,
    orders: makeOrders(random.topic("orders"), { count: request.orders, firstDay, days, fields, plans, products }),
    fleet: makeFleet(random.topic("fleet"), {
      crews: request.crews,
      bases: settings.bases.map(({ id }) => id),
      firstDay,
      days,
    }),
    weather: makeWeather(random.topic("weather"), {
      calendar,
      stations: settings.bases.map(({ latDeg, lonDeg }, index) => ({
        id: `station-${index + 1}`,
        latDeg,
        lonDeg,
        // Every second base has a mast with a second thermometer.
        ...(index % 2 === 1 ? { upperHeightM: 10 } : {}),
      })),
      moods: makeMoods(random.topic("moods"), days + 1),
      fronts: makeFronts(random.topic("fronts"), days),
      // A day more than is planned: rainfast periods reach beyond the last evening.
      untilMin: calendar.horizonMin + 24 * minutesPerHour,
    }),
  });
}

function makeSettings(
  random: Random,
  { crews, days, orders }: GenerateRequest,
  firstDay: string,
  land: Land,
): SettingsDraft {
  const baseCount = Math.max(1, Math.ceil(crews / crewsPerBase));
  return {
    formatVersion: 1,
    name: `Generated operation of ${orders} orders`,
    timeZone: home.timeZone,
    firstDay,
    days,
    altitudeM: home.altitudeM,
    currency: "EUR",
    bases: Array.from({ length: baseCount }, (_, index) => ({
      id: `base-${index + 1}`,
      name: `Base ${index + 1}`,
      ...yardPosition(land, random, (index + 0.5) / baseCount, index % 2 === 0 ? 1 : -1),
      mainsKw: 60,
      fillLPerMin: 300,
    })),
    waterPoints: makeWaterPoints(land, random),
    costs: { driveCentsPerKm: 85 },
  };
}
