import { greatCircleKm } from "../geo/distance.ts";
import type { Calendar } from "../model/calendar.ts";
import type { FieldFeature, FieldProperties } from "../model/field.ts";
import type { AircraftType } from "../model/fleet.ts";
import type { Operation } from "../model/operation.ts";
import type { Order } from "../model/order.ts";
import type { FieldId } from "../model/quantities.ts";
import { remember, rememberBy } from "../model/remember.ts";
import { type AirBounds, airBounds } from "./airBounds.ts";
import { airRules, createStationAir } from "./airRules.ts";
import { bloomRule } from "./bloom.ts";
import { type ProductBuffer, widestM } from "./buffers.ts";
import { type Clash, findClash } from "./clash.ts";
import { createConfidence } from "./confidence.ts";
import { daylightRule, flyingDays } from "./daylight.ts";
import { driftRule } from "./drift.ts";
import { datesRule, intervalRules, peopleRules } from "./fieldRules.ts";
import { dateOfDay, type SunOfDay } from "./fieldSun.ts";
import { judgeFlow } from "./flyableRate.ts";
import {
  findInversionRisks,
  type InversionRisk,
  inversionHours,
  inversionLevelIn,
  inversionRule,
  signsOf,
} from "./inversion.ts";
import { judgeOrder, judgeType } from "./labelLimits.ts";
import type { Judgement } from "./limits.ts";
import type { MinuteRule } from "./minuteRule.ts";
import { createMix, type Mix } from "./mix.ts";
import { type OrderPart, orderParts, type Parting } from "./orderParts.ts";
import { createGround, createPlacesNear, type FieldGround } from "./places.ts";
import { joinRecord, type OrderRecord, recordMarks, recordSteps } from "./record.ts";
import { type SunDay, sunDay } from "./sun.ts";
import { judgeGround, type TreatedArea, treatedArea } from "./treatedArea.ts";
import { createStations, type Station } from "./weather.ts";
import { wetRule } from "./wet.ts";
import { whySentence } from "./why.ts";
import {
  createRuleSet,
  type HourFacts,
  hoursOf,
  hoursOfHorizon,
  judgeMinute,
  type LimitStops,
  type OrderHour,
  type RuleSet,
  stopsByLimit,
  type Windows,
  windowsOf,
} from "./windows.ts";

/** For whom and for which ground the minutes are judged. */
export interface NightWork {
  /** Whether the crew may work at night; daylight then stops only aircraft that may not. */
  readonly night: boolean;
  /** For the part called `rest`, which `driftNear` does not stop; left out: for the part that waits longest. */
  readonly rest?: true;
}

/** When, where and under which limits the orders of one operation may be worked. Answers are kept once found. */
export interface Agronomy {
  treatedArea(order: Order): TreatedArea;
  /** The treated area by parts with windows of their own; none when nothing is left to treat. */
  parts(order: Order): readonly OrderPart[];
  /** What stops the order at every minute, whoever flies it. */
  orderLimits(order: Order): Judgement[];
  /** What stops this kind of aircraft at every minute. */
  typeLimits(order: Order, type: AircraftType): Judgement[];
  windows(order: Order, type: AircraftType, night: NightWork): Windows;
  /** Every limit that stops the minute, each once. None: the minute is in a window. */
  judge(order: Order, type: AircraftType, min: number, night: NightWork): Judgement[];
  /** When each limit stops the order, as `judge` tells it minute by minute; in the same order. */
  stops(order: Order, type: AircraftType, night: NightWork): LimitStops[];
  /** The horizon by hours. */
  hours(order: Order, type: AircraftType, night: NightWork): OrderHour[];
  /** One sentence: whether the minute is open, what stops it or will, and when else. */
  why(order: Order, type: AircraftType, min: number, night: NightWork): string;
  /** Bloom and inversion that only together leave no minute; undefined when they do not. */
  clash(order: Order, type: AircraftType, night: NightWork): Clash | undefined;
  /** What stopped the order in every step of the forecast, in arrays that are not to be written to. */
  record(order: Order, type: AircraftType, night: NightWork): OrderRecord;
  /** How far the forecast of a minute is trusted. */
  confidenceOf(min: number): number;
  /** The station whose forecast holds for the field; none when there is no forecast at all. */
  station(fieldId: FieldId): Station | undefined;
  /** The sun over the field's centroid on a day of the horizon, or a day before (negative) or after it. */
  sunOf(fieldId: FieldId, dayIndex: number): SunDay;
}

/** What is worked out once for each field. */
interface FieldFacts {
  readonly feature: FieldFeature;
  readonly ground: FieldGround;
  readonly station: Station | undefined;
  readonly sunOfDay: SunOfDay;
  readonly daylight: RuleSet;
  readonly inversionRisks: readonly InversionRisk[];
}

/** Bounds under a key that alike ones share. */
interface MixBounds {
  readonly bounds: AirBounds;
  readonly key: string;
}

export function createAgronomy(operation: Operation, plainCalendar: Calendar): Agronomy {
  const calendar = rememberingCalendar(plainCalendar);
  const { limits } = operation.settings;
  const stations = createStations(operation, calendar);
  const confidenceOf = createConfidence(operation.settings, calendar);
  const noStation = createRuleSet([noStationRule(calendar.horizonMin)]);
  const placesNear = createPlacesNear(operation.sensitive.features);
  const placesFor = (feature: FieldFeature, ground: FieldGround, buffers: readonly ProductBuffer[]) =>
    buffers.length === 0 ? [] : placesNear(feature, ground, widestM(buffers));
  const features = new Map(operation.fields.features.map((feature) => [feature.properties.id, feature]));

  const signsOfStation = remember(signsOf);

  const factsOf = remember((fieldId: FieldId): FieldFacts => {
    const feature = features.get(fieldId);
    if (!feature) throw new Error(`field ${fieldId} does not exist`);
    const ground = createGround(feature);
    const [lonDeg, latDeg] = ground.centroid;
    const sunOfDay = remember((day: number) => sunDay(calendar, dateOfDay(calendar, day), latDeg, lonDeg));
    const station = nearestStation(stations, ground);
    const nights = inversionHours(sunOfDay, limits.inversionHours, calendar);
    return {
      feature,
      ground,
      station,
      sunOfDay,
      daylight: createRuleSet([daylightRule(flyingDays(sunOfDay, limits.flyingDay, calendar), calendar)]),
      inversionRisks: station ? findInversionRisks(station, nights, signsOfStation(station)) : [],
    };
  });

  const mixOf = remember((order: Order) => createMix(operation, order, factsOf(order.fieldId).feature.properties.crop));

  const treatedByBuffers = rememberBy(
    (order: Order) => `${order.fieldId} ${JSON.stringify([mixOf(order).buffers.fixed, order.ground])}`,
    (order: Order) => {
      const { feature, ground } = factsOf(order.fieldId);
      const { fixed } = mixOf(order).buffers;
      return treatedArea(ground, placesFor(feature, ground, fixed), fixed, order.ground);
    },
  );
  const treatedOf = remember(treatedByBuffers);

  const partingByBuffers = rememberBy(
    (order: Order) => {
      const { fixed, sparing } = mixOf(order).buffers;
      return `${order.fieldId} ${JSON.stringify([fixed, sparing, order.ground])}`;
    },
    (order: Order): Parting => {
      const { feature, ground } = factsOf(order.fieldId);
      const { sparing } = mixOf(order).buffers;
      return orderParts(treatedOf(order), placesFor(feature, ground, sparing), sparing);
    },
  );

  const partingOf = remember(partingByBuffers);

  const partsOf = (order: Order) => partingOf(order).parts;

  // Many orders share a station and a mix's labels, and many mixes their bounds, so the steps are judged once for all of them.
  const boundsOf = rememberBy(
    (mix: Mix, type: AircraftType) => `${type.id} ${mix.products.map(({ product }) => product.id).join(" ")}`,
    (mix: Mix, type: AircraftType): MixBounds => {
      const bounds = airBounds(mix, type, limits);
      return { bounds, key: JSON.stringify(bounds) };
    },
  );
  const stationAir = remember((station: Station) => createStationAir(station, calendar.horizonMin));
  const airOf = rememberBy(
    (station: Station, { key }: MixBounds, rainfastMin: number) => `${station.id} ${rainfastMin} ${key}`,
    (station: Station, { bounds }: MixBounds, rainfastMin: number) =>
      createRuleSet(airRules(stationAir(station), bounds, rainfastMin, limits, calendar)),
  );

  // Orders on one field often ask for the same buffers.
  const driftRuleOf = rememberBy(
    (order: Order, limit: "drift" | "driftNear", buffers: readonly ProductBuffer[]) =>
      `${order.fieldId} ${limit} ${JSON.stringify(buffers)}`,
    (order: Order, limit: "drift" | "driftNear", buffers: readonly ProductBuffer[]) => {
      const { feature, ground, station } = factsOf(order.fieldId);
      if (!station || buffers.length === 0) return undefined;
      const places = placesFor(feature, ground, buffers);
      return driftRule(limit, ground, places, buffers, station, limits, calendar);
    },
  );

  const nearRulesOf = remember((order: Order): RuleSet => {
    const rule = driftRuleOf(order, "driftNear", mixOf(order).buffers.sparing);
    return createRuleSet(rule && partingOf(order).hasNear ? [rule] : []);
  });

  /** All but air and daylight, which depend on the aircraft, and what stops only the near part. */
  const groundRulesOf = remember((order: Order): RuleSet => {
    const { feature, station, sunOfDay, inversionRisks } = factsOf(order.fieldId);
    const mix = mixOf(order);
    const maybe = [
      bloomRule(feature.properties, mix, sunOfDay, limits.beeHours, calendar),
      inversionRule(mix, inversionRisks, calendar),
      station && wetRule(order, station, calendar),
      driftRuleOf(order, "drift", mix.buffers.stopping),
    ];
    return createRuleSet([
      datesRule(order, calendar),
      ...peopleRules(feature.properties, mix, calendar),
      ...intervalRules(withoutOwnPast(feature.properties, order), mix, calendar),
      ...maybe.filter((rule) => !!rule),
    ]);
  });

  const answersOf = remember((order: Order) =>
    remember((type: AircraftType) =>
      remember((mayFlyDark: boolean) =>
        remember((isSpared: boolean) => {
          const { station, daylight } = factsOf(order.fieldId);
          const mix = mixOf(order);
          const sets = [
            groundRulesOf(order),
            ...(isSpared ? [] : [nearRulesOf(order)]),
            ...(mayFlyDark ? [] : [daylight]),
            station ? airOf(station, boundsOf(mix, type), mix.rainfastMin) : noStation,
          ];
          return { sets, rules: sets.flatMap(({ rules }) => rules), windows: windowsOf(sets, calendar.horizonMin) };
        }),
      ),
    ),
  );
  const answer = (order: Order, type: AircraftType, { night, rest }: NightWork) => {
    // Only ground that is parted can be spared.
    const isSpared = rest === true && partsOf(order).length > 1;
    return answersOf(order)(type)(night && type.nightCapable)(isSpared);
  };

  const hours = hoursOfHorizon(calendar);
  const hourFactsOf = remember((fieldId: FieldId): HourFacts => {
    const { station, inversionRisks } = factsOf(fieldId);
    return {
      inversionLevels: hours.map(({ startMin, endMin }) =>
        station ? inversionLevelIn(station, inversionRisks, startMin, endMin) : "unknown",
      ),
      steps: hours.map((hour) =>
        (station?.steps ?? []).filter(({ startMin, endMin }) => startMin < hour.endMin && endMin > hour.startMin),
      ),
      confidenceOf,
    };
  });

  const orderLimitsOf = (order: Order) => [
    ...judgeGround(treatedOf(order)),
    ...judgeOrder(order, mixOf(order), withoutOwnPast(factsOf(order.fieldId).feature.properties, order)),
  ];
  const typeLimitsOf = (order: Order, type: AircraftType) => [
    ...judgeType(order, mixOf(order), factsOf(order.fieldId).feature.properties, type, limits.dropletTable),
    ...judgeFlow(order, mixOf(order), type),
  ];

  const recordOf = remember((station: Station | undefined) => {
    const steps = recordSteps(station, calendar.horizonMin);
    return { steps, marksOf: remember((set: RuleSet) => recordMarks(set, steps)) };
  });

  return {
    treatedArea: treatedOf,
    parts: partsOf,
    orderLimits: orderLimitsOf,
    typeLimits: typeLimitsOf,
    windows: (order, type, night) => answer(order, type, night).windows,
    judge: (order, type, min, night) => judgeMinute(answer(order, type, night).rules, min),
    stops: (order, type, night) => stopsByLimit(answer(order, type, night).rules),
    hours: (order, type, night) => {
      const { rules, windows } = answer(order, type, night);
      return hoursOf(hours, rules, windows, hourFactsOf(order.fieldId));
    },
    why: (order, type, min, night) => {
      const { rules, windows } = answer(order, type, night);
      const always = [...orderLimitsOf(order), ...typeLimitsOf(order, type)];
      const judge = (at: number) => judgeMinute(rules, at);
      const restWindows =
        partsOf(order).length > 1 ? answer(order, type, { ...night, rest: true }).windows.windows : [];
      return whySentence({ always, windows: windows.windows, restWindows, judge }, min, calendar);
    },
    clash: (order, type, night) => findClash(answer(order, type, night).rules, calendar),
    record: (order, type, night) => {
      const { sets, windows } = answer(order, type, night);
      const { steps, marksOf } = recordOf(factsOf(order.fieldId).station);
      return joinRecord(steps, sets.map(marksOf), windows);
    },
    confidenceOf,
    station: (fieldId) => factsOf(fieldId).station,
    sunOf: (fieldId, dayIndex) => factsOf(fieldId).sunOfDay(dayIndex),
  };
}

/** What has been done of the order itself is no application before it. */
function withoutOwnPast(field: FieldProperties, { id }: Order): FieldProperties {
  const pastApplications = field.pastApplications.filter(({ orderId }) => orderId !== id);
  return pastApplications.length === field.pastApplications.length ? field : { ...field, pastApplications };
}

function nearestStation(stations: readonly Station[], { centroid }: FieldGround): Station | undefined {
  const distanceKm = ({ lonDeg, latDeg }: Station) => greatCircleKm(centroid, [lonDeg, latDeg]);
  return stations.reduce<Station | undefined>(
    (best, station) => (best && distanceKm(best) <= distanceKm(station) ? best : station),
    undefined,
  );
}

function noStationRule(horizonMin: number): MinuteRule {
  const sentence = "no forecast: no station at all";
  return {
    limit: "noForecast",
    stops: [{ startMin: 0, endMin: horizonMin }],
    judgeAt: () => ({ limit: "noForecast", actual: "none", allowed: "a station's forecast", unit: "", sentence }),
  };
}

/** Every field and order asks for the same few dates, and a time zone's rules are slow to work through. */
function rememberingCalendar(calendar: Calendar): Calendar {
  return {
    ...calendar,
    minOfLocal: remember(calendar.minOfLocal),
    minOfDate: remember(calendar.minOfDate),
    dateOfMin: remember(calendar.dateOfMin),
  };
}
