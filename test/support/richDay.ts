import { type Calendar, createCalendar } from "../../shared/model/calendar.ts";
import type { AircraftType } from "../../shared/model/fleet.ts";
import type { Operation } from "../../shared/model/operation.ts";
import type { BlockId, PadId } from "../../shared/model/quantities.ts";
import { type Activity, type Block, type CrewDay, crewDaySchema, type WorkDetail } from "../../shared/plan/plan.ts";

/** Writes one crew-day down activity by activity, times added up on the way. */
export interface DayWriter {
  drive(to: string): DayWriter;
  refill(waterL: number): DayWriter;
  cleanOut(fromGroup: string, toGroup: string, minutes: number, waterL: number): DayWriter;
  methodChange(to: "liquid" | "granular"): DayWriter;
  setup(): DayWriter;
  waitUntil(localDateTime: string): DayWriter;
  /** Pauses by local times; each makes the work longer by itself and by starting up again. */
  work(block: Block, ground: WorkedGround, pauses?: readonly LocalSpan[]): DayWriter;
  packup(): DayWriter;
  crewDay(): CrewDay;
}

export interface LocalSpan {
  readonly from: string;
  readonly to: string;
}

/** The block as a rectangle flown along its longer side, and how far it is from the pad on average. */
export interface WorkedGround {
  readonly longM: number;
  readonly shortM: number;
  /** Direction of the longer side, degrees from north. */
  readonly headingDeg: number;
  readonly meanPadM: number;
}

export interface DayStart {
  readonly crewId: string;
  readonly date: string;
  /** Where the crew slept, if not at its base. */
  readonly from?: string;
  readonly leave: string;
  readonly aircraftIds: string[];
  readonly batterySets: number;
  readonly chargerIds: string[];
  readonly tenderId: string;
}

export function writeDay(operation: Operation, start: DayStart): DayWriter {
  const calendar = createCalendar(operation.settings);
  const outfit = outfitOf(operation, start);
  const { type } = outfit;
  const activities: Activity[] = [];
  let isCalibrated = false;
  let flownMin = 0;
  let place: string = start.from ?? operation.fleet.crews.find((crew) => crew.id === start.crewId)!.baseId;
  let atMin = calendar.minOfLocal(start.leave);
  const next = (minutes: number) => {
    const startMin = atMin;
    atMin += Math.ceil(minutes);
    return { startMin, endMin: atMin };
  };

  const writer: DayWriter = {
    drive: (to) => {
      const { distanceKm, durationMin } = roadBetween(operation, place, to);
      activities.push({ kind: "drive", ...next(durationMin), from: place, to, distanceKm });
      place = to;
      return writer;
    },
    refill: (waterL) => {
      const { bases, waterPoints } = operation.settings;
      const { fillLPerMin } = [...bases, ...waterPoints].find((point) => point.id === place)!;
      activities.push({ kind: "refill", ...next(waterL / fillLPerMin), place, waterL });
      return writer;
    },
    cleanOut: (fromGroup, toGroup, minutes, waterL) => {
      activities.push({ kind: "cleanOut", ...next(minutes), fromGroup, toGroup, waterL });
      return writer;
    },
    methodChange: (to) => {
      activities.push({ kind: "methodChange", ...next(type.methodChangeMin + type.calibrationMin), to });
      return writer;
    },
    setup: () => {
      activities.push({ kind: "setup", ...next(type.setupMin + (isCalibrated ? 0 : type.calibrationMin)), place });
      isCalibrated = true;
      return writer;
    },
    waitUntil: (localDateTime) => {
      activities.push({ kind: "wait", ...next(minutesUntil(calendar, localDateTime, atMin)) });
      return writer;
    },
    work: (block, ground, localPauses = []) => {
      const { minutes, detail } = timeOfWork(operation, outfit, block, ground, flownMin);
      flownMin += detail.sprayMin + detail.turnMin + detail.ferryMin;
      const padId = place.split("/")[1] as PadId;
      const pauses = localPauses.map(({ from, to }) => ({
        startMin: calendar.minOfLocal(from),
        endMin: calendar.minOfLocal(to),
      }));
      const { resumeMin } = operation.settings.planning;
      const pausedMin = pauses.reduce((sum, { startMin, endMin }) => sum + endMin - startMin + resumeMin, 0);
      const span = next(minutes + pausedMin);
      const given = pauses.length > 0 ? { pauses } : {};
      activities.push({ kind: "work", ...span, blockId: block.id as BlockId, padId, ...given, detail });
      return writer;
    },
    packup: () => {
      activities.push({ kind: "packup", ...next(type.packupMin), place });
      return writer;
    },
    crewDay: () =>
      crewDaySchema.parse({
        crewId: start.crewId,
        date: start.date,
        outfit: {
          aircraftIds: start.aircraftIds,
          batterySets: start.batterySets > 0 ? [{ aircraftTypeId: type.id, sets: start.batterySets }] : [],
          chargerIds: start.chargerIds,
          tenderId: start.tenderId,
        },
        activities,
      }),
  };
  return writer;
}

function minutesUntil(calendar: Calendar, localDateTime: string, fromMin: number): number {
  const minutes = calendar.minOfLocal(localDateTime) - fromMin;
  if (minutes < 0) throw new RangeError(`${localDateTime} is ${-minutes} min too early`);
  return minutes;
}

interface WrittenOutfit {
  readonly type: AircraftType;
  readonly aircraft: number;
  readonly sets: number;
  readonly bays: number;
  readonly pumpLPerMin: number;
  readonly loadingPoints: number;
  readonly mixLPerMin: number;
}

function outfitOf({ fleet }: Operation, { aircraftIds, batterySets, chargerIds, tenderId }: DayStart): WrittenOutfit {
  const typeId = fleet.aircraft.find((one) => one.id === aircraftIds[0])!.typeId;
  const type = fleet.aircraftTypes.find((one) => one.id === typeId)!;
  const tender = fleet.tenders.find((one) => one.id === tenderId)!;
  const bays = fleet.chargers.filter((one) => chargerIds.includes(one.id)).reduce((sum, one) => sum + one.bays, 0);
  const poweredBays = type.power.source === "battery" ? Math.floor(tender.generatorKw / type.power.chargeKw) : 0;
  const { pumpLPerMin, loadingPoints, mixLPerMin } = tender;
  return {
    type,
    aircraft: aircraftIds.length,
    sets: batterySets,
    bays: Math.min(bays, poweredBays),
    pumpLPerMin,
    loadingPoints,
    mixLPerMin,
  };
}

function roadBetween(operation: Operation, from: string, to: string): { distanceKm: number; durationMin: number } {
  const listed = operation.roads.find((road) => road.from === from && road.to === to);
  if (listed !== undefined) return listed;
  const { circuityFactor, speedKph } = operation.settings.roads;
  const distanceKm = circuityFactor * straightKm(placeOf(operation, from), placeOf(operation, to));
  return { distanceKm, durationMin: (distanceKm / speedKph) * 60 };
}

interface LatLon {
  readonly latDeg: number;
  readonly lonDeg: number;
}

function placeOf(operation: Operation, id: string): LatLon {
  const { bases, waterPoints } = operation.settings;
  const [fieldId, padId] = id.split("/");
  const field = operation.fields.features.find(({ properties }) => properties.id === fieldId);
  const points: (LatLon & { id: string })[] = padId === undefined ? [...bases, ...waterPoints] : field!.properties.pads;
  return points.find((point) => point.id === (padId ?? id))!;
}

/** Great circle on a sphere of 6371.0088 km by the law of cosines, good enough for roads of kilometres. */
function straightKm(a: LatLon, b: LatLon): number {
  const rad = Math.PI / 180;
  const cosine =
    Math.sin(a.latDeg * rad) * Math.sin(b.latDeg * rad) +
    Math.cos(a.latDeg * rad) * Math.cos(b.latDeg * rad) * Math.cos((a.lonDeg - b.lonDeg) * rad);
  return 6371.0088 * Math.acos(Math.min(1, cosine));
}

/** Time that nobody can hold against the crew: flights and loads one after the other, and a tenth more. */
function timeOfWork(
  operation: Operation,
  outfit: WrittenOutfit,
  block: Block,
  { longM, shortM, headingDeg, meanPadM }: WorkedGround,
  flownBeforeMin: number,
): { minutes: number; detail: WorkDetail } {
  const { type, aircraft } = outfit;
  const order = operation.orders.find((one) => one.id === block.orderId)!;
  const isLiquid = order.carrierLPerHa !== undefined;
  const ratePerHa = order.carrierLPerHa ?? order.products.reduce((sum, part) => sum + part.ratePerHa, 0);
  const gear = (isLiquid ? type.liquid : type.granular)!;
  const flowMax = isLiquid ? type.liquid!.flowMaxLPerMin : type.granular!.spreadMaxKgPerMin;
  const fullLoad = isLiquid
    ? Math.min(type.liquid!.tankL, type.payloadKg)
    : Math.min(type.granular!.hopperKg, type.granular!.hopperL * 0.8, type.payloadKg);

  const { slopePct } = operation.fields.features.find((one) => one.properties.id === order.fieldId)!.properties;
  // A swath lies along the slope, the map shows its base.
  const mapSwathM = gear.swathM / Math.hypot(1, slopePct / 100);
  const passes = Math.ceil(shortM / mapSwathM);
  const passKm = (passes * longM) / 1000;
  const speedMps = Math.min(gear.speedMaxMps, (flowMax * 600) / (ratePerHa * gear.swathM) / 3.6);
  const amount = block.areaHa * ratePerHa;
  const loads = Math.ceil(amount / fullLoad);
  const sprayMin = (passKm * 1000) / speedMps / 60;
  const turnMin = ((passes - 1) * type.turnS) / 60;
  const ferryMin = (loads * ((2 * meanPadM) / type.ferrySpeedMps + type.takeoffLandingS)) / 60;
  const batteryChanges = type.power.source === "battery" ? loads - aircraft : 0;
  const changeS = type.power.source === "battery" ? type.power.swapS : 0;
  const pumpMin = isLiquid ? amount / outfit.pumpLPerMin : 0;
  const flownAfterMin = flownBeforeMin + sprayMin + turnMin + ferryMin;
  const fillingsMin = fillingMinBy(outfit, flownAfterMin) - fillingMinBy(outfit, flownBeforeMin);
  const groundMin = (loads * type.loadS + batteryChanges * changeS) / 60 + pumpMin + fillingsMin;
  const mixMin = isLiquid ? amount / outfit.mixLPerMin : 0;
  const pointsMin = pumpMin / outfit.loadingPoints;
  const minutes = Math.ceil(
    Math.max((1.1 * (sprayMin + turnMin + ferryMin + groundMin)) / aircraft, mixMin, pointsMin),
  );
  return {
    minutes,
    detail: {
      passes,
      passKm,
      headingDeg,
      speedMps,
      loads,
      loadSize: amount / loads,
      amount,
      batteryChanges,
      sprayMin,
      turnMin,
      ferryMin,
      groundMin,
      rateHaPerHour: (block.areaHa * 60) / minutes,
      bottleneck: "aircraft",
    },
  };
}

/** Minutes at the pump for fuel that the outfit has spent by the time it has flown so long in a day. */
function fillingMinBy({ type: { power }, aircraft }: WrittenOutfit, flownMin: number): number {
  if (power.source === "battery") return 0;
  const tanks = Math.ceil(flownMin / (power.enduranceMin * (1 - power.reserveFrac)));
  return (Math.max(0, tanks - aircraft) * power.refuelS) / 60;
}
