import { createPlane, type PointXY } from "../../../shared/geo/plane.ts";
import { createCalendar, minutesPerHour } from "../../../shared/model/calendar.ts";
import { type Operation, operationSchema } from "../../../shared/model/operation.ts";
import type { OperationDraft, SettingsDraft } from "./draft.ts";
import { makeFields, planFields } from "./fields.ts";
import { makeFleet, roughCapacityHa } from "./fleet.ts";
import type { ToPosition } from "./geojson.ts";
import type { Grid } from "./grid.ts";
import { layFields } from "./layFields.ts";
import { makeOrders } from "./orders.ts";
import { products } from "./products.ts";
import { createRandom, type Random } from "./random.ts";
import { makeSensitivePlaces } from "./sensitivePlaces.ts";
import { makeValley, type Valley } from "./valley.ts";
import { makeFronts, makeMoods, makeWeather } from "./weather.ts";

export interface GenerateRequest {
  readonly orders: number;
  readonly crews: number;
  readonly days: number;
  readonly seed: number;
  /** An ISO date; a Monday in June when it does not matter. */
  readonly firstDay?: string;
}

/** Where the invented valley lies: dry irrigated country in a zone without a change of clocks in summer. */
const home = { lonDeg: -0.42, latDeg: 41.74, timeZone: "Europe/Madrid", altitudeM: 210 };
const anyMonday = "2027-06-14";

/** Share of the rough capacity that is ordered, so that a good plan serves most of it but not all. */
const demandFrac = 0.95;
const fieldsPerOrder = 0.75;
/** Crews that share a base. */
const crewsPerBase = 4;
/** Free ground around a base or a water point, m. */
const yardM = 30;

/** An operation of any size in the demo's style; the same request gives the same operation. */
export function generateOperation(request: GenerateRequest): Operation {
  return operationSchema.parse(draftOperation(request));
}

export function draftOperation(request: GenerateRequest): OperationDraft {
  const random = createRandom(request.seed, "operation");
  const firstDay = request.firstDay ?? anyMonday;
  const fieldCount = Math.max(1, Math.round(request.orders * fieldsPerOrder));
  const meanHa = (demandFrac * roughCapacityHa(request.crews, request.days)) / request.orders;
  const plans = planFields(random.topic("crops"), fieldCount, Math.max(2, Math.min(32, meanHa)));
  const valley = makeValley(
    random.topic("valley"),
    plans.reduce((sum, { areaHa }) => sum + areaHa, 0),
  );
  const plane = createPlane(home.lonDeg, home.latDeg);
  const toPosition: ToPosition = (point) => {
    const [lonDeg, latDeg] = plane.toPosition(point);
    return [roundDeg(lonDeg), roundDeg(latDeg)];
  };
  const laid = layFields(
    random.topic("shapes"),
    valley,
    plans.map(({ areaHa }) => areaHa),
  );
  const fields = makeFields(random.topic("fields"), {
    firstDay,
    days: request.days,
    plans,
    shapes: laid.shapes,
    products,
    toPosition,
  });
  const settings = makeSettings(random.topic("settings"), request, firstDay, valley, laid.grid, toPosition);
  const calendar = createCalendar(settings);
  return {
    settings,
    fields: { type: "FeatureCollection", features: fields },
    sensitive: {
      type: "FeatureCollection",
      features: makeSensitivePlaces(random.topic("places"), valley, laid, toPosition),
    },
    products: [...products],
    orders: makeOrders(random.topic("orders"), {
      count: request.orders,
      firstDay,
      days: request.days,
      fields,
      plans,
      products,
    }),
    fleet: makeFleet(random.topic("fleet"), {
      crews: request.crews,
      bases: settings.bases.map(({ id }) => id),
      firstDay,
      days: request.days,
    }),
    weather: makeWeather(random.topic("weather"), {
      calendar,
      stations: settings.bases.map(({ latDeg, lonDeg }, index) => ({ id: `station-${index + 1}`, latDeg, lonDeg })),
      moods: makeMoods(random.topic("moods"), request.days + 1),
      fronts: makeFronts(random.topic("fronts"), request.days),
      // A day more than is planned: rainfast periods reach beyond the last evening.
      untilMin: calendar.horizonMin + 24 * minutesPerHour,
    }),
  };
}

/** Seven decimals of a degree are about a centimetre. */
function roundDeg(deg: number): number {
  return Math.round(deg * 1e7) / 1e7;
}

function makeSettings(
  random: Random,
  { crews, days, orders }: GenerateRequest,
  firstDay: string,
  valley: Valley,
  grid: Grid,
  toPosition: ToPosition,
): SettingsDraft {
  const baseCount = Math.max(1, Math.ceil(crews / crewsPerBase));
  /** The share of the valley's length at which the nth of several places lies, with a side of the river. */
  const placeAt = (index: number, count: number) => {
    const xM = ((index + 0.5) / count - 0.5) * valley.lengthM;
    const side = index % 2 === 0 ? 1 : -1;
    let point: PointXY;
    let offM = random.between(150, 400);
    do {
      point = [xM, valley.riverYAt(xM) + side * offM];
      offM += 60;
    } while (grid.touches(point, yardM));
    const [lonDeg, latDeg] = toPosition(point);
    return { lonDeg, latDeg };
  };
  const pointCount = Math.max(1, Math.round(valley.lengthM / 9000));
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
      ...placeAt(index, baseCount),
      mainsKw: 60,
      fillLPerMin: 300,
    })),
    waterPoints: Array.from({ length: pointCount }, (_, index) => ({
      id: `water-${index + 1}`,
      name: `Hydrant ${index + 1}`,
      ...placeAt(index, pointCount),
      fillLPerMin: random.pick([200, 300, 450]),
    })),
    costs: { driveCentsPerKm: 85 },
  };
}
