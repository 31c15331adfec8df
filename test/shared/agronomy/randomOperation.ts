import { type Calendar, createCalendar } from "../../../shared/model/calendar.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { type OperationInput, rectangleField, smallOperation, smallStation } from "../../support/operation.ts";

interface Week {
  readonly timeZone: string;
  readonly firstDay: string;
  readonly northDeg?: number;
  /** The hours of an inversion about each night reach those about the next. */
  readonly doNightsMeet?: boolean;
}

const weeks: readonly Week[] = [
  { timeZone: "Europe/Berlin", firstDay: "2027-06-07" },
  { timeZone: "Europe/Berlin", firstDay: "2027-03-27" },
  { timeZone: "Europe/Berlin", firstDay: "2027-10-30" },
  { timeZone: "Australia/Adelaide", firstDay: "2027-10-02" },
  { timeZone: "Australia/Adelaide", firstDay: "2027-04-03" },
  { timeZone: "America/Chicago", firstDay: "2028-02-28" },
  { timeZone: "Australia/Lord_Howe", firstDay: "2027-04-03" },
  // White nights at 64 degrees north, with clocks by which the sun sets after midnight.
  { timeZone: "Europe/Istanbul", firstDay: "2027-06-20", northDeg: 13 },
  // At 51 degrees the sun is up for 8 hours, at 66 for one or two, at 70 not at all.
  { timeZone: "Europe/Berlin", firstDay: "2027-12-20", doNightsMeet: true },
  { timeZone: "Europe/Berlin", firstDay: "2027-12-20", northDeg: 15, doNightsMeet: true },
  { timeZone: "Europe/Berlin", firstDay: "2027-11-24", northDeg: 19, doNightsMeet: true },
];

/** The first minute of the horizon that the clocks will show again, if they are put back. */
function firstTwiceMin(calendar: Calendar): number | undefined {
  const minutes = Array.from({ length: calendar.horizonMin }, (_, min) => min);
  return minutes.find((min) => {
    const local = `${calendar.dateOfMin(min)}T${calendar.clockOfMin(min)}`;
    return calendar.lastMinOfLocal(local) !== min;
  });
}

/** An operation in which every limit of the table stops some minutes now and then. */
export function randomOperation(random: () => number): Operation {
  const pick = <Item>(items: readonly Item[]) => items[Math.floor(random() * items.length)]!;
  const between = (low: number, high: number) => low + Math.floor(random() * (high - low + 1));
  const maybe = <Value>(value: Value) => (random() < 0.5 ? value : undefined);
  const listOf = <Item>(most: number, make: () => Item) => Array.from({ length: between(0, most) }, make);

  const { northDeg = 0, doNightsMeet = false, ...week } = pick(weeks);
  const settings = { ...week, days: between(2, 3), altitudeM: between(0, 1500) };
  const calendar = createCalendar(settings);
  const localTime = (min: number) => `${calendar.dateOfMin(min)}T${calendar.clockOfMin(min)}`;
  const anyTime = (fromMin: number, toMin: number) => localTime(between(fromMin, toMin));
  const anyDate = () => calendar.dateOfMin(between(-2 * 1440, calendar.horizonMin + 4 * 1440));
  // Where the clocks are put back, some ends fall into the time that they show twice.
  const twiceMin = firstTwiceMin(calendar);
  const span = () => {
    const endMin = twiceMin !== undefined && random() < 0.4 ? twiceMin + between(0, 29) : undefined;
    const startMin = endMin === undefined ? between(-300, calendar.horizonMin) : endMin - between(60, 300);
    return { from: localTime(startMin), to: localTime(endMin ?? startMin + between(30, 600)) };
  };

  const products: OperationInput["products"] = ["P1", "P2"].map((id) => ({
    id,
    name: id,
    registrationNumber: "1",
    active: "none",
    method: "liquid",
    licenceClass: "agri",
    uses: [{ crop: "wheat", rateMinPerHa: 1, rateMaxPerHa: 2, phiDays: between(0, 3), retreatmentDays: between(0, 4) }],
    reiHours: pick([0, 4, 12, 4.1, 0.3]),
    rainfastHours: pick([0, 0, 1, 2.5]),
    windMinKph: pick([0, 3]),
    windMaxKph: between(10, 25),
    gustMaxKph: maybe(between(15, 40)),
    deltaTMinC: maybe(2),
    deltaTMaxC: maybe(between(7, 12)),
    temperatureMinC: maybe(8),
    temperatureMaxC: maybe(between(22, 30)),
    humidityMinPct: maybe(between(25, 45)),
    humidityMaxPct: maybe(between(80, 99)),
    buffers: [
      {
        kind: "apiary",
        distanceM: pick([250, 400]),
        downwindOnly: random() < 0.9,
        downwindRule: pick(["stopsField", "sparesPart"] as const),
        onlyFinerThan: maybe("C" as const),
      },
      {
        kind: "dwelling",
        distanceM: pick([60, 90]),
        ...pick([{}, { downwindOnly: true }, { downwindOnly: true, downwindRule: "sparesPart" as const }]),
      },
    ],
    dropletFinest: pick([undefined, "F", "C"] as const),
    bloomRule: pick(["allowed", "outsideBeeHours", "forbidden"] as const),
    inversionRule: pick(["ignore", "notWhenLikely", "notWhenPossible"] as const),
  }));

  // Where one product keeps free what another would spare, nothing near is left.
  const isKeptFree = random() < 0.15;
  if (isKeptFree) {
    products[0]!.buffers = [{ kind: "apiary", distanceM: 250, downwindOnly: true, downwindRule: "sparesPart" }];
    products[1]!.buffers = [{ kind: "apiary", distanceM: pick([240, 250, 300]) }];
  }

  const field = rectangleField(
    "F1",
    { eastM: 3000, northM: 1000, widthM: 600, heightM: 400 },
    {
      harvestDate: maybe(anyDate()),
      bloom: maybe({ from: calendar.dates[0]!, to: calendar.dates[between(0, calendar.dates.length - 1)]! }),
      closures: listOf(2, () => ({ ...span(), reason: "irrigation", people: random() < 0.3 })),
      entries: listOf(2, () => ({ ...span(), who: "scouts" })),
      pastApplications: listOf(2, () => ({
        productId: pick(["P1", "P2"]),
        endedAt: anyTime(-3 * 1440, 600),
        ratePerHa: 1,
      })),
    },
  );
  for (const position of (field.geometry.coordinates as number[][][])[0]!) position[1]! += northDeg;
  const corner = (field.geometry.coordinates as number[][][])[0]![2]!;
  const placeNear = (
    id: string,
    kind: "apiary" | "dwelling",
  ): NonNullable<OperationInput["sensitive"]>["features"][number] => ({
    type: "Feature",
    geometry: {
      type: "Point",
      coordinates: [corner[0]! + (random() - 0.3) * 0.01, corner[1]! + (random() - 0.3) * 0.005],
    },
    properties: { id, kind, name: id, radiusM: pick([0, 20]) },
  });

  const upperAir = (temperatureC: number) => ({
    upperTemperatureHeightM: pick([8, 10, 50]),
    upperTemperatureC: temperatureC + pick([-1, -0.5, -0.05, 0, 0.6]),
  });

  const stepsMin = pick([
    [10, 20, 30, 45],
    [10, 20, 30, 45, 60, 60, 60, 90, 180],
  ]);
  // Some weeks are windy enough for a night to be blown through.
  const leastWindKph = doNightsMeet ? 12 : pick([2, 2, 12]);
  const coveredFrac = doNightsMeet ? pick([0.96, 1]) : 0.96;
  const weather: OperationInput["weather"] = [];
  for (const station of [smallStation, { stationId: "S2", latDeg: 51.2, lonDeg: 11.2 }]) {
    // The night and the rain before the first day are known, or not, or in part.
    let startMin = doNightsMeet
      ? between(-4 * 1440, -3 * 1440)
      : pick([between(-120, 60), between(-1440, -120), between(-1440, -900)]);
    while (startMin < calendar.horizonMin + 300) {
      const stepMin = pick(stepsMin);
      if (random() < coveredFrac) {
        const windKph = leastWindKph < 3 && random() < 0.15 ? between(0, 30) / 10 : between(leastWindKph, 22);
        const temperatureC = between(5, 32);
        weather.push({
          ...station,
          start: calendar.isoOfMin(startMin),
          stepMin,
          windKph,
          gustKph: windKph + between(0, 15),
          windFromDeg: between(0, 360),
          windHeightM: pick([10, 10, 2, 0.3]),
          temperatureC,
          ...(random() < 0.2 ? upperAir(temperatureC) : {}),
          humidityPct: between(25, 100),
          rainMm: random() < 0.9 ? 0 : pick([0.02, 0.04, 0.08, random()]),
          rainProbabilityPct: random() < 0.9 ? between(0, 40) : between(40, 90),
          cloudPct: between(0, 100),
        });
      }
      startMin += stepMin;
    }
  }

  const from = between(-600, calendar.horizonMin / 3);
  return smallOperation({
    settings: {
      ...settings,
      limits: {
        flyingDay: {
          from: pick(["sunrise", "civilDawn"] as const),
          fromOffsetMin: between(-30, 30),
          to: pick(["sunset", "civilDusk"] as const),
          toOffsetMin: between(-30, 30),
        },
        beeHours: { startAfterSunriseMin: between(-60, 120), endBeforeSunsetMin: between(-60, 120) },
        inversionHours: doNightsMeet
          ? { startBeforeSunsetMin: 300, endAfterSunriseMin: 300 }
          : { startBeforeSunsetMin: between(0, 180), endAfterSunriseMin: between(0, 180) },
        windAt: pick(["releaseHeight", "releaseHeight", "asMeasured"] as const),
        windMaxKph: maybe(18),
        rainMm: pick([0.1, 0.1, 0.3]),
        driftAngleDeg: pick([30, 45, 180]),
        windVariableBelowKph: pick([0, 3, 3, 5]),
      },
    },
    fields: { type: "FeatureCollection", features: [field] },
    sensitive: {
      type: "FeatureCollection",
      features: [placeNear("hives", "apiary"), placeNear("house", "dwelling")],
    },
    products,
    orders: [
      {
        id: "O-1",
        fieldId: "F1",
        products: (isKeptFree ? ["P1", "P2"] : pick([["P1"], ["P1", "P2"]])).map((productId) => ({
          productId,
          ratePerHa: 1,
        })),
        carrierLPerHa: 15,
        ...(random() < 0.5
          ? { waitAfterRainMm: pick([0.2, 0.5, 1]), waitAfterRainHours: pick([0.5, 3, 4.1, 12]) }
          : {}),
        earliest: localTime(from),
        latest: anyTime(from + 600, calendar.horizonMin + 1440),
        priceCentsPerHa: 1000,
        dropletClass: pick([undefined, "M", "VC"] as const),
        maySplit: isKeptFree || random() < 0.8,
      },
    ],
    weather,
  });
}
