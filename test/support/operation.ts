import type { z } from "zod";
import { type Calendar, createCalendar } from "../../shared/model/calendar.ts";
import { type Operation, operationSchema } from "../../shared/model/operation.ts";

/** What a scenario may hold before defaults are filled in. */
export type OperationInput = z.input<typeof operationSchema>;
type SettingsInput = OperationInput["settings"];
type FieldInput = OperationInput["fields"]["features"][number];
type WeatherStepInput = OperationInput["weather"][number];

export interface OperationOverrides extends Partial<Omit<OperationInput, "settings">> {
  /** Laid over the small operation's settings, key by key; every other part replaces the small one whole. */
  readonly settings?: Partial<SettingsInput>;
}

const metresPerDegree = 111_195;

/** A rectangular field of an invented farm, its south-west corner so many metres east and north of the base. */
export function rectangleField(
  id: string,
  at: { eastM: number; northM: number; widthM: number; heightM: number },
  properties: Partial<FieldInput["properties"]>,
): FieldInput {
  const base = smallSettings.bases[0]!;
  const lonDeg = (eastM: number) => base.lonDeg + eastM / (metresPerDegree * Math.cos((base.latDeg * Math.PI) / 180));
  const latDeg = (northM: number) => base.latDeg + northM / metresPerDegree;
  const west = lonDeg(at.eastM);
  const east = lonDeg(at.eastM + at.widthM);
  const south = latDeg(at.northM);
  const north = latDeg(at.northM + at.heightM);
  const ring: [number, number][] = [
    [west, south],
    [east, south],
    [east, north],
    [west, north],
    [west, south],
  ];
  return {
    type: "Feature",
    geometry: { type: "Polygon", coordinates: [ring] },
    properties: {
      id,
      name: `Field ${id}`,
      grower: "Grower One",
      crop: "wheat",
      pads: [{ id: "P1", latDeg: south, lonDeg: west }],
      ...properties,
    },
  };
}

/** Weather in which everything may be done: steady, dry, light wind, Delta T about 4, half clouded. */
export const calmAir = {
  windKph: 8,
  gustKph: 12,
  windFromDeg: 270,
  temperatureC: 18,
  humidityPct: 60,
  rainMm: 0,
  rainProbabilityPct: 5,
  cloudPct: 50,
};

/** A step for every hour of the horizon and of one day after it, so that a rainfast period at the end is covered. */
export function hourlyWeather(
  settings: Pick<SettingsInput, "timeZone" | "firstDay" | "days">,
  station: { stationId: string; latDeg: number; lonDeg: number },
  airOfHour: (hour: number) => Partial<WeatherStepInput>,
): WeatherStepInput[] {
  const calendar = createCalendar(settings);
  const hours = Math.ceil(calendar.horizonMin / 60) + 24;
  return Array.from({ length: hours }, (_, hour) => ({
    ...station,
    start: calendar.isoOfMin(hour * 60),
    stepMin: 60,
    ...calmAir,
    ...airOfHour(hour),
  }));
}

const smallSettings = {
  formatVersion: 1,
  name: "Two fields",
  timeZone: "Europe/Berlin",
  firstDay: "2027-06-07",
  days: 3,
  altitudeM: 200,
  currency: "EUR",
  bases: [{ id: "B1", name: "Yard", latDeg: 51, lonDeg: 11, mainsKw: 22, fillLPerMin: 200 }],
  waterPoints: [{ id: "W1", name: "Hydrant", latDeg: 51.02, lonDeg: 11.02, fillLPerMin: 300 }],
  costs: { driveCentsPerKm: 90 },
} satisfies SettingsInput;

const smallFields: FieldInput[] = [
  rectangleField("F1", { eastM: 3000, northM: 1000, widthM: 600, heightM: 400 }, {}),
  rectangleField("F2", { eastM: -2000, northM: 2500, widthM: 500, heightM: 300 }, { crop: "maize" }),
];

const smallProducts: OperationInput["products"] = [
  {
    id: "LIQ",
    name: "Liquid Example",
    registrationNumber: "000001-00",
    active: "example active",
    method: "liquid",
    licenceClass: "agri",
    uses: [
      { crop: "wheat", rateMinPerHa: 0.5, rateMaxPerHa: 2, phiDays: 14 },
      { crop: "maize", rateMinPerHa: 0.5, rateMaxPerHa: 2, phiDays: 14 },
    ],
    reiHours: 12,
    rainfastHours: 2,
    windMaxKph: 15,
    deltaTMinC: 2,
    deltaTMaxC: 8,
    dropletFinest: "F",
    dropletCoarsest: "C",
    carrierMinLPerHa: 10,
    compatibilityGroup: "fungicide",
    cleanOutMin: 15,
    cleanOutL: 40,
  },
  {
    id: "GRA",
    name: "Granular Example",
    registrationNumber: "000002-00",
    active: "example granules",
    method: "granular",
    densityKgPerL: 0.9,
    licenceClass: "agri",
    uses: [
      { crop: "wheat", rateMinPerHa: 20, rateMaxPerHa: 150, phiDays: 0 },
      { crop: "maize", rateMinPerHa: 20, rateMaxPerHa: 150, phiDays: 0 },
    ],
    reiHours: 0,
    windMaxKph: 25,
  },
];

const smallOrders: OperationInput["orders"] = [
  {
    id: "O-1",
    fieldId: "F1",
    products: [{ productId: "LIQ", ratePerHa: 1 }],
    carrierLPerHa: 15,
    earliest: "2027-06-07T00:00",
    latest: "2027-06-10T00:00",
    priceCentsPerHa: 2500,
  },
  {
    id: "O-2",
    fieldId: "F2",
    products: [{ productId: "GRA", ratePerHa: 60 }],
    earliest: "2027-06-07T00:00",
    latest: "2027-06-10T00:00",
    priceCentsPerHa: 2000,
  },
];

const smallFleet: OperationInput["fleet"] = {
  aircraftTypes: [
    {
      id: "SMALL",
      name: "Small multirotor",
      kind: "multirotor",
      liquid: {
        tankL: 40,
        swathM: 9,
        speedMinMps: 2,
        speedMaxMps: 9,
        flowMaxLPerMin: 12,
        dropletMinUm: 110,
        dropletMaxUm: 400,
      },
      granular: {
        hopperKg: 50,
        hopperL: 70,
        swathM: 7,
        speedMinMps: 2,
        speedMaxMps: 9,
        spreadMaxKgPerMin: 60,
      },
      payloadKg: 50,
      ferrySpeedMps: 12,
      turnS: 6,
      takeoffLandingS: 40,
      loadS: 30,
      power: { source: "battery", enduranceMin: 12, reserveFrac: 0.2, swapS: 60, chargeMin: 10, chargeKw: 9 },
      windMaxKph: 22,
      gustMaxKph: 30,
      slopeMaxPct: 25,
      releaseHeightM: 3,
      transportSlots: 1,
      methodChangeMin: 15,
      setupMin: 10,
      packupMin: 8,
      runningCentsPerHour: 900,
    },
    {
      id: "HELI",
      name: "Light helicopter",
      kind: "helicopter",
      liquid: {
        tankL: 400,
        swathM: 16,
        speedMinMps: 8,
        speedMaxMps: 25,
        flowMaxLPerMin: 150,
        dropletMinUm: 150,
        dropletMaxUm: 600,
      },
      granular: {
        hopperKg: 350,
        hopperL: 400,
        swathM: 14,
        speedMinMps: 8,
        speedMaxMps: 25,
        spreadMaxKgPerMin: 400,
      },
      payloadKg: 400,
      ferrySpeedMps: 35,
      turnS: 25,
      takeoffLandingS: 60,
      loadS: 60,
      power: { source: "fuel", enduranceMin: 120, reserveFrac: 0.2, refuelS: 300 },
      windMaxKph: 30,
      gustMaxKph: 40,
      slopeMaxPct: 60,
      releaseHeightM: 6,
      transportSlots: 0,
      methodChangeMin: 30,
      setupMin: 5,
      packupMin: 5,
      nightCapable: true,
      runningCentsPerHour: 45000,
    },
  ],
  aircraft: [
    { id: "A1", typeId: "SMALL", baseId: "B1" },
    { id: "A2", typeId: "SMALL", baseId: "B1" },
    { id: "H1", typeId: "HELI", baseId: "B1" },
  ],
  batteryStocks: [{ baseId: "B1", aircraftTypeId: "SMALL", sets: 6 }],
  chargers: [{ id: "C1", baseId: "B1", bays: 2, kw: 18 }],
  tenders: [
    {
      id: "T1",
      name: "Tender 1",
      baseId: "B1",
      waterL: 2000,
      mixLPerMin: 60,
      pumpLPerMin: 100,
      generatorKw: 20,
      transportSlots: 2,
    },
  ],
  crews: [
    {
      id: "K1",
      name: "Crew 1",
      baseId: "B1",
      people: [
        {
          id: "N1",
          name: "Pilot One",
          licenceClasses: ["agri"],
          ratings: ["SMALL", "HELI"],
          aircraftAtOnce: 2,
        },
      ],
      maxAircraft: 2,
      shifts: [
        { date: "2027-06-07", from: "04:30", to: "18:00" },
        { date: "2027-06-08", from: "04:30", to: "18:00" },
        { date: "2027-06-09", from: "04:30", to: "18:00" },
      ],
      dutyMaxHoursPerDay: 12,
      dutyMaxHoursPerWeek: 48,
      restMinHours: 10,
      costCentsPerHour: 6000,
    },
  ],
};

export const smallStation = { stationId: "S1", latDeg: 51.01, lonDeg: 11.01 };

/**
 * The least whole operation that tests share: one base, one crew, one tender, one charger, two kinds of aircraft,
 * a liquid order on wheat and a granular one on maize, three calm days. Overridden settings move the weather along.
 */
export function smallOperation(overrides: OperationOverrides): Operation {
  const settings = { ...smallSettings, ...overrides.settings };
  return operationSchema.parse({
    fields: { type: "FeatureCollection", features: smallFields },
    products: smallProducts,
    orders: smallOrders,
    fleet: smallFleet,
    weather: hourlyWeather(settings, smallStation, () => ({})),
    ...overrides,
    settings,
  } satisfies OperationInput);
}

export function calendarOf(operation: Operation): Calendar {
  return createCalendar(operation.settings);
}
