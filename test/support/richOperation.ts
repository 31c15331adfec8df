import { type Operation, operationSchema } from "../../shared/model/operation.ts";
import { hourlyWeather, type OperationInput } from "./operation.ts";
import { centred, positionAt, type RectangleM, rectangleRing } from "./richGround.ts";

/** Centres of the fields; everything of a field is measured in metres from here. */
export const centres = {
  F1: [16.65, 48.21],
  F2: [16.68, 48.23],
  F3: [16.56, 48.23],
  F4: [16.7, 48.19],
  F5: [16.62, 48.25],
  F6: [16.78, 48.15],
  F7: [16.74, 48.1],
} as const satisfies Record<string, readonly [number, number]>;
export type FieldKey = keyof typeof centres;

const sizes: Record<FieldKey, RectangleM> = {
  F1: centred(800, 400),
  F2: centred(500, 300),
  F3: centred(600, 500),
  F4: centred(400, 300),
  F5: centred(200, 200),
  F6: centred(500, 400),
  F7: centred(300, 200),
};
/** An obstacle inside F2. */
export const obstacleOfF2: RectangleM = centred(40, 40);

type FieldInput = OperationInput["fields"]["features"][number];

function field(
  id: FieldKey,
  crop: string,
  properties: Partial<FieldInput["properties"]>,
  holes: RectangleM[],
): FieldInput {
  const { westM, eastM, southM } = sizes[id];
  const pad = (padId: string, xM: number) => {
    const [lonDeg, latDeg] = positionAt(centres[id], xM, southM - 15);
    return { id: padId, lonDeg, latDeg };
  };
  return {
    type: "Feature",
    geometry: {
      type: "Polygon",
      coordinates: [
        rectangleRing(centres[id], sizes[id]),
        ...holes.map((hole) => rectangleRing(centres[id], hole).toReversed()),
      ],
    },
    properties: {
      id,
      name: `Field ${id}`,
      grower: "Grower One",
      crop,
      pads: [pad("P1", westM), pad("P2", eastM)],
      ...properties,
    },
  };
}

const fields: FieldInput[] = [
  field(
    "F1",
    "wheat",
    {
      slopePct: 5,
      harvestDate: "2027-07-25",
      entries: [{ from: "2027-06-08T14:00", to: "2027-06-08T16:00", who: "Crop scouts" }],
      closures: [{ from: "2027-06-07T13:00", to: "2027-06-07T18:00", reason: "irrigation", people: false }],
      pastApplications: [{ productId: "FUN", endedAt: "2027-05-20T09:00", ratePerHa: 1 }],
    },
    [],
  ),
  // Rows from east to west, written the other way round.
  field(
    "F2",
    "maize",
    {
      slopePct: 12,
      headingDeg: 270,
      closures: [{ from: "2027-06-08T06:00", to: "2027-06-08T10:00", reason: "hand weeding" }],
    },
    [obstacleOfF2],
  ),
  field("F3", "rapeseed", { headingDeg: 0, bloom: { from: "2027-06-01", to: "2027-06-20" } }, []),
  field("F4", "maize", {}, []),
  field("F5", "wheat", {}, []),
  field("F6", "wheat", {}, []),
  field("F7", "wheat", {}, []),
];

/** A canal that runs 10 m north of F1 and beyond both its ends: a buffer of 30 m leaves F1 without its northern 20 m. */
const canal = [positionAt(centres.F1, -600, 210), positionAt(centres.F1, 600, 210)];
const sensitive: OperationInput["sensitive"] = {
  type: "FeatureCollection",
  features: [
    {
      type: "Feature",
      geometry: { type: "LineString", coordinates: canal },
      properties: { id: "S1", kind: "water", name: "Canal" },
    },
    {
      // 300 m south of F1, so that a west wind does not blow there.
      type: "Feature",
      geometry: { type: "Point", coordinates: positionAt(centres.F1, 0, -520) },
      properties: { id: "S2", kind: "dwelling", name: "Farmhouse", radiusM: 20 },
    },
    {
      type: "Feature",
      geometry: { type: "Point", coordinates: positionAt(centres.F5, 130, 0) },
      properties: { id: "S3", kind: "school", name: "School", radiusM: 50 },
    },
    {
      // 120 m south of F1's eastern half, 233 m from its western half; a west wind blows there from no point within 150 m.
      type: "Feature",
      geometry: { type: "Point", coordinates: positionAt(centres.F1, 200, -320) },
      properties: { id: "S4", kind: "organic", name: "Herb garden" },
    },
  ],
};

const uses = (rateMinPerHa: number, rateMaxPerHa: number, phiDays: number, retreatmentDays: number) =>
  ["wheat", "maize", "rapeseed"].map((crop) => ({ crop, rateMinPerHa, rateMaxPerHa, phiDays, retreatmentDays }));

const products: OperationInput["products"] = [
  {
    id: "FUN",
    name: "Fungicide Example",
    registrationNumber: "000011-00",
    active: "example fungicide",
    method: "liquid",
    licenceClass: "agri",
    uses: uses(0.5, 1.5, 35, 2).map((use) => ({ ...use, seasonMaxCount: 3, seasonMaxPerHa: 4 })),
    reiHours: 24,
    rainfastHours: 2,
    windMinKph: 3,
    windMaxKph: 15,
    gustMaxKph: 22,
    deltaTMinC: 2,
    deltaTMaxC: 8,
    temperatureMinC: 5,
    temperatureMaxC: 30,
    humidityMinPct: 35,
    humidityMaxPct: 90,
    releaseHeightMaxM: 6,
    dropletFinest: "F",
    dropletCoarsest: "C",
    carrierMinLPerHa: 10,
    buffers: [
      { kind: "water", distanceM: 30 },
      { kind: "school", distanceM: 400 },
      { kind: "dwelling", distanceM: 400, downwindOnly: true },
      { kind: "organic", distanceM: 150, downwindOnly: true, downwindRule: "sparesPart" },
      { kind: "organic", distanceM: 200, onlyFinerThan: "M" },
    ],
    inversionRule: "notWhenLikely",
    compatibilityGroup: "fungicide",
    cleanOutMin: 20,
    cleanOutL: 50,
  },
  {
    id: "HER",
    name: "Herbicide Example",
    registrationNumber: "000012-00",
    active: "example herbicide",
    method: "liquid",
    licenceClass: "agri",
    uses: uses(1, 3, 28, 0),
    reiHours: 12,
    rainfastHours: 1,
    windMaxKph: 15,
    dropletFinest: "M",
    dropletCoarsest: "VC",
    carrierMinLPerHa: 20,
    compatibilityGroup: "herbicide",
    cleanOutMin: 30,
    cleanOutL: 60,
  },
  {
    id: "INS",
    name: "Insecticide Example",
    registrationNumber: "000013-00",
    active: "example insecticide",
    method: "liquid",
    licenceClass: "agri",
    uses: uses(0.1, 0.3, 20, 7),
    reiHours: 12,
    windMaxKph: 15,
    bloomRule: "outsideBeeHours",
    compatibilityGroup: "insecticide",
    cleanOutMin: 15,
    cleanOutL: 40,
  },
  {
    id: "OIL",
    name: "Adjuvant Example",
    registrationNumber: "000014-00",
    active: "example oil",
    method: "liquid",
    licenceClass: "agri",
    uses: uses(0.2, 1, 0, 0),
    reiHours: 0,
    windMaxKph: 20,
  },
  {
    id: "PEL",
    name: "Pellets Example",
    registrationNumber: "000015-00",
    active: "example pellets",
    method: "granular",
    densityKgPerL: 0.8,
    licenceClass: "baits",
    uses: uses(5, 80, 0, 14),
    reiHours: 0,
    windMaxKph: 22,
  },
];

const wholeHorizon = { earliest: "2027-06-07T00:00", latest: "2027-06-10T00:00" };
const orders: OperationInput["orders"] = [
  {
    ...wholeHorizon,
    id: "O-1",
    fieldId: "F1",
    products: [
      { productId: "FUN", ratePerHa: 1 },
      { productId: "OIL", ratePerHa: 0.5 },
    ],
    carrierLPerHa: 15,
    priority: "high",
    priceCentsPerHa: 3000,
    dropletClass: "M",
  },
  {
    ...wholeHorizon,
    id: "O-2",
    fieldId: "F1",
    products: [{ productId: "FUN", ratePerHa: 1.2 }],
    carrierLPerHa: 15,
    preferredDate: "2027-06-08",
    priceCentsPerHa: 2800,
    dropletClass: "M",
  },
  {
    ...wholeHorizon,
    id: "O-3",
    fieldId: "F2",
    products: [{ productId: "HER", ratePerHa: 2 }],
    carrierLPerHa: 30,
    priority: "mandatory",
    priceCentsPerHa: 3500,
    waitAfterRainMm: 5,
    waitAfterRainHours: 12,
    maySplit: false,
  },
  {
    ...wholeHorizon,
    id: "O-4",
    fieldId: "F3",
    products: [{ productId: "INS", ratePerHa: 0.2 }],
    carrierLPerHa: 40,
    priceCentsPerHa: 4000,
    headingDeg: 90.4,
  },
  {
    ...wholeHorizon,
    id: "O-5",
    fieldId: "F4",
    products: [{ productId: "PEL", ratePerHa: 40 }],
    priceCentsPerHa: 2500,
  },
  {
    ...wholeHorizon,
    id: "O-6",
    fieldId: "F5",
    products: [{ productId: "FUN", ratePerHa: 1 }],
    carrierLPerHa: 15,
    priceCentsPerHa: 2500,
  },
  {
    ...wholeHorizon,
    id: "O-7",
    fieldId: "F7",
    products: [{ productId: "HER", ratePerHa: 2 }],
    carrierLPerHa: 30,
    priority: "low",
    priceCentsPerHa: 1800,
  },
  {
    ...wholeHorizon,
    id: "O-8",
    fieldId: "F6",
    products: [{ productId: "OIL", ratePerHa: 0.5 }],
    carrierLPerHa: 20,
    priceCentsPerHa: 2600,
    apartFrom: [{ orderId: "O-9", hours: 24 }],
  },
  {
    ...wholeHorizon,
    id: "O-9",
    fieldId: "F6",
    products: [{ productId: "HER", ratePerHa: 1.5 }],
    carrierLPerHa: 25,
    preferredDate: "2027-06-07",
    priceCentsPerHa: 2700,
  },
];

const fleet: OperationInput["fleet"] = {
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
      granular: { hopperKg: 50, hopperL: 70, swathM: 7, speedMinMps: 2, speedMaxMps: 9, spreadMaxKgPerMin: 60 },
      payloadKg: 45,
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
      calibrationMin: 4,
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
      payloadKg: 350,
      ferrySpeedMps: 35,
      turnS: 25,
      takeoffLandingS: 60,
      loadS: 60,
      // Light on fuel so as to lift a load: crew K2 fills up once on the day of two works.
      power: { source: "fuel", enduranceMin: 50, reserveFrac: 0.2, refuelS: 300 },
      windMaxKph: 30,
      gustMaxKph: 40,
      slopeMaxPct: 60,
      releaseHeightM: 6,
      transportSlots: 0,
      methodChangeMin: 30,
      calibrationMin: 3,
      setupMin: 5,
      packupMin: 5,
      nightCapable: true,
      runningCentsPerHour: 45000,
    },
  ],
  aircraft: [
    { id: "A1", typeId: "SMALL", baseId: "B1" },
    { id: "A2", typeId: "SMALL", baseId: "B1", outOfService: [{ from: "2027-06-08", to: "2027-06-08" }] },
    { id: "A3", typeId: "SMALL", baseId: "B2" },
    { id: "H1", typeId: "HELI", baseId: "B1" },
  ],
  batteryStocks: [
    { baseId: "B1", aircraftTypeId: "SMALL", sets: 10 },
    { baseId: "B2", aircraftTypeId: "SMALL", sets: 4 },
  ],
  chargers: [
    { id: "C1", baseId: "B1", bays: 2, kw: 18 },
    { id: "C2", baseId: "B2", bays: 2, kw: 18 },
  ],
  tenders: [
    {
      id: "T1",
      name: "Tender 1",
      baseId: "B1",
      waterL: 600,
      mixLPerMin: 60,
      pumpLPerMin: 100,
      loadingPoints: 2,
      generatorKw: 20,
      transportSlots: 2,
    },
    {
      id: "T2",
      name: "Tender 2",
      baseId: "B1",
      waterL: 2500,
      mixLPerMin: 150,
      pumpLPerMin: 200,
      generatorKw: 5,
      transportSlots: 0,
    },
    {
      id: "T3",
      name: "Tender 3",
      baseId: "B2",
      waterL: 800,
      mixLPerMin: 60,
      pumpLPerMin: 100,
      generatorKw: 12,
      transportSlots: 2,
    },
  ],
  crews: [
    {
      id: "K1",
      name: "Crew 1",
      baseId: "B1",
      people: [
        { id: "N1", name: "Person One", licenceClasses: ["agri", "baits"], ratings: ["SMALL"], aircraftAtOnce: 1 },
        { id: "N2", name: "Person Two", licenceClasses: ["agri", "baits"], ratings: ["SMALL", "HELI"] },
      ],
      maxAircraft: 2,
      shifts: ["2027-06-07", "2027-06-08", "2027-06-09"].map((date) => ({ date, from: "04:30", to: "17:00" })),
      dutyMaxHoursPerDay: 12,
      dutyMaxHoursPerWeek: 48,
      restMinHours: 10,
      standardHoursPerDay: 6,
      costCentsPerHour: 6000,
    },
    {
      id: "K2",
      name: "Crew 2",
      baseId: "B1",
      people: [{ id: "N3", name: "Person Three", licenceClasses: ["agri"], ratings: ["HELI"] }],
      maxAircraft: 1,
      shifts: [
        { date: "2027-06-07", from: "04:00", to: "14:00" },
        { date: "2027-06-08", from: "20:00", to: "04:00" },
      ],
      dutyMaxHoursPerDay: 12,
      dutyMaxHoursPerWeek: 48,
      restMinHours: 10,
      costCentsPerHour: 7000,
      nightWork: true,
    },
    {
      id: "K3",
      name: "Crew 3",
      baseId: "B2",
      people: [{ id: "N4", name: "Person Four", licenceClasses: ["agri"], ratings: ["SMALL"] }],
      maxAircraft: 1,
      shifts: [
        { date: "2027-06-07", from: "05:00", to: "15:00" },
        { date: "2027-06-08", from: "05:00", to: "15:00" },
      ],
      dutyMaxHoursPerDay: 10,
      dutyMaxHoursPerWeek: 40,
      restMinHours: 11,
      costCentsPerHour: 4000,
      overnightBaseIds: ["B1"],
      nightAwayCents: 7500,
    },
  ],
};

const settings: OperationInput["settings"] = {
  formatVersion: 1,
  name: "Seven fields",
  timeZone: "Europe/Vienna",
  firstDay: "2027-06-07",
  days: 3,
  altitudeM: 160,
  currency: "EUR",
  bases: [
    // In nights of 12 h, 13.2 of the 15 kWh that ten sets of 9 kW x 10 min take: eight of them.
    { id: "B1", name: "North yard", lonDeg: 16.6, latDeg: 48.2, mainsKw: 1.1, fillLPerMin: 200 },
    { id: "B2", name: "South yard", lonDeg: 16.75, latDeg: 48.12, mainsKw: 15, fillLPerMin: 100 },
  ],
  waterPoints: [{ id: "W1", name: "Hydrant", lonDeg: 16.67, latDeg: 48.22, fillLPerMin: 150 }],
  roads: { circuityFactor: 1.3, speedKph: 45 },
  costs: { driveCentsPerKm: 90 },
  planning: { lateCentsPerHaDay: 150, outfitChangeCents: 1500 },
};

/** From the day before on: what is worked in the first morning asks for the evening, and for the rain of the hours before. */
const measured = { ...settings, firstDay: "2027-06-06", days: settings.days + 1 };
/**
 * Calm by the fields of the north and around noon of the first day, in the south but for an hour of its first morning; the
 * far station, which no field is near to, storms.
 */
const windyHour = 24 + 7;
const weather: OperationInput["weather"] = [
  ...hourlyWeather(measured, { stationId: "NORTH", lonDeg: 16.64, latDeg: 48.22 }, () => ({})),
  ...hourlyWeather(measured, { stationId: "SOUTH", lonDeg: 16.77, latDeg: 48.13 }, (hour) =>
    hour === windyHour ? { windKph: 24, gustKph: 30 } : { windKph: 9, gustKph: 15 },
  ),
  ...hourlyWeather(measured, { stationId: "FAR", lonDeg: 17.4, latDeg: 48.6 }, () => ({
    windKph: 60,
    gustKph: 90,
    rainMm: 8,
    rainProbabilityPct: 100,
  })),
];

/**
 * An invented operation that is small and still has a case of nearly every rule: two bases, three crews, battery and fuel
 * aircraft, liquids of three groups and granules, cut buffers and downwind ones, an entry, a closure, bloom, a harvest,
 * past applications, a night shift, a yard with weak mains, rows, a slope, a field whose buffer leaves nothing, and a
 * station that storms too far away to matter.
 */
export function richOperation(): Operation {
  return operationSchema.parse({
    settings,
    fields: { type: "FeatureCollection", features: fields },
    sensitive,
    products,
    orders,
    fleet,
    weather,
    roads: [{ from: "B1", to: "F1/P1", distanceKm: 5.2, durationMin: 8.5 }],
  } satisfies OperationInput);
}
