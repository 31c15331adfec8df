import type { Activity } from "../plan.ts";
import { type Day, distinctTypes, type Facts, type Stop } from "./facts.ts";
import { createGearMemory } from "./gearMemory.ts";
import { awayBaseOf, placeBefore, startBaseOf } from "./nights.ts";
import { type Ledger, rounding, shown } from "./report.ts";
import { createRoadBook, type RoadBook } from "./roads.ts";

/** Two ways of rounding a road's length for a plan may differ by this much, km. */
const roadRoundingKm = 0.05;
/** Litres may be written in a plan to a hundredth. */
const waterRoundingL = 0.01;

/** The rules of a day minute by minute: each crew-day is walked through from its first activity to its last. */
export function checkDayWalks(facts: Facts, ledger: Ledger): void {
  const roads = createRoadBook(facts);
  for (const day of facts.days) walk(facts, ledger, roads, day);
}

/** Where the crew is and what it has done there. */
interface Standing {
  placeId: string;
  /** Minutes of the set-up made here since arriving or since packing up; null when none was made. */
  setupMin: number | null;
  /** Something stands on the ground here that must be packed up before driving on. */
  isUnpacked: boolean;
  /** No work of the day has begun. */
  isBeforeFirstWork: boolean;
  waterL: number;
}

function walk(facts: Facts, ledger: Ledger, roads: RoadBook, day: Day): void {
  const { activities } = day.crewDay;
  const startId = startBaseOf(facts, day) ?? placeBefore(activities) ?? "";
  const homeId = day.crew?.baseId ?? startId;
  const standing: Standing = {
    placeId: startId,
    setupMin: null,
    isUnpacked: false,
    isBeforeFirstWork: true,
    waterL: day.tender?.waterL ?? 0,
  };
  const stopOfWork = new Map(facts.stops.filter((stop) => stop.day === day).map((stop) => [stop.work, stop]));
  const gear = createGearMemory(ledger);

  checkContiguous(ledger, day);
  ledger.expect("baseToBase", (placeBefore(activities) ?? startId) === startId, day.subject, () => ({
    sentence: `the day begins at ${placeBefore(activities)}, not at ${startId}, where the crew slept`,
    actual: placeBefore(activities) ?? "",
    allowed: startId,
  }));
  for (const activity of activities) {
    switch (activity.kind) {
      case "drive":
        checkDrive(facts, ledger, roads, day, activity, standing);
        break;
      case "setup":
        expectPlace(ledger, day, standing, activity.place, `sets up at ${activity.place}`);
        expectKind(facts, ledger, day, activity.place, "pad");
        standing.setupMin = activity.endMin - activity.startMin;
        standing.isUnpacked = true;
        break;
      case "packup":
        expectPlace(ledger, day, standing, activity.place, `packs up at ${activity.place}`);
        if (activity.endMin - activity.startMin >= packupMinOf(day)) standing.isUnpacked = false;
        standing.setupMin = null;
        break;
      case "refill":
        checkRefill(facts, ledger, day, activity, standing);
        break;
      case "cleanOut":
        gear.cleanOut(activity);
        takeWater(ledger, day, standing, activity.waterL, "the clean-out");
        break;
      case "methodChange":
        gear.methodChange(activity);
        break;
      case "work": {
        const stop = stopOfWork.get(activity);
        if (stop !== undefined) checkStanding(ledger, stop, standing);
        standing.isBeforeFirstWork = false;
        if (stop === undefined) break;
        gear.work(stop);
        if (stop.mix.method === "liquid") {
          takeWater(ledger, day, standing, stop.block.areaHa * stop.mix.ratePerHa, `block ${stop.block.id}`);
        }
        break;
      }
      case "wait":
        break;
    }
  }
  const endIds = [homeId, ...(day.crew?.overnightBaseIds ?? [])];
  ledger.expect(
    "baseToBase",
    endIds.some((id) => id === standing.placeId),
    day.subject,
    () => ({
      sentence: `the day ends at ${standing.placeId}, the crew may sleep at ${endIds.join(", ")}`,
      actual: standing.placeId,
      allowed: endIds.join(", "),
    }),
  );
}

function packupMinOf(day: Day): number {
  return Math.max(0, ...distinctTypes(day).map((type) => type.packupMin));
}

/** Every aircraft is calibrated in the set-up before the first work. */
function setupMinOf(day: Day, isBeforeFirstWork: boolean): number {
  return Math.max(
    0,
    ...distinctTypes(day).map((type) => type.setupMin + (isBeforeFirstWork ? type.calibrationMin : 0)),
  );
}

function checkContiguous(ledger: Ledger, day: Day): void {
  let lastEndMin = day.startMin;
  for (const { kind, startMin, endMin } of day.crewDay.activities) {
    ledger.expect("contiguous", startMin === lastEndMin && endMin >= startMin, day.subject, () => ({
      sentence: `${kind} lasts from minute ${startMin} to ${endMin}, the activity before it ends at ${lastEndMin}`,
      actual: startMin,
      allowed: lastEndMin,
    }));
    lastEndMin = endMin;
  }
}

function expectPlace(ledger: Ledger, day: Day, standing: Standing, placeId: string, what: string): void {
  ledger.expect("place", placeId === standing.placeId, day.subject, () => ({
    sentence: `crew ${day.crewDay.crewId} ${what} while it is at ${standing.placeId}`,
    actual: placeId,
    allowed: standing.placeId,
  }));
}

function expectKind(facts: Facts, ledger: Ledger, day: Day, placeId: string, kind: "pad"): void {
  const place = facts.places.get(placeId);
  if (place === undefined) return;
  ledger.expect("place", place.kind === kind, day.subject, () => ({
    sentence: `${placeId} is no ${kind}`,
    actual: place.kind,
    allowed: kind,
  }));
}

function checkDrive(
  facts: Facts,
  ledger: Ledger,
  roads: RoadBook,
  day: Day,
  drive: Extract<Activity, { kind: "drive" }>,
  standing: Standing,
): void {
  expectPlace(ledger, day, standing, drive.from, `drives from ${drive.from}`);
  if (facts.places.get(standing.placeId)?.kind === "pad") {
    const neededMin = packupMinOf(day);
    ledger.expect("packup", !standing.isUnpacked || neededMin === 0, day.subject, () => ({
      sentence: `crew ${day.crewDay.crewId} leaves ${standing.placeId} without ${neededMin} min of packing up`,
      allowed: neededMin,
    }));
  }
  Object.assign(standing, { placeId: drive.to, setupMin: null, isUnpacked: false });

  const from = facts.places.get(drive.from);
  const to = facts.places.get(drive.to);
  if (from === undefined || to === undefined) return;
  const road = roads(from, to);
  const driveMin = drive.endMin - drive.startMin;
  ledger.expect("driveTime", driveMin >= road.minutes, day.subject, () => ({
    sentence: `${driveMin} min from ${drive.from} to ${drive.to}, the road takes ${road.minutes} min`,
    actual: driveMin,
    allowed: road.minutes,
  }));
  const isSameLength = Math.abs(drive.distanceKm - road.distanceKm) <= roadRoundingKm;
  ledger.expect("driveDistance", isSameLength, day.subject, () => ({
    sentence: `${shown(drive.distanceKm)} km from ${drive.from} to ${drive.to}, the road is ${shown(road.distanceKm)} km`,
    actual: drive.distanceKm,
    allowed: road.distanceKm,
  }));
}

function checkStanding(ledger: Ledger, stop: Stop, standing: Standing): void {
  const { day, work, mix, block, subject } = stop;
  const padPlace = `${mix.field.properties.id}/${work.padId}`;
  ledger.expect("place", standing.placeId === padPlace, subject, () => ({
    sentence: `block ${block.id} is worked from ${padPlace} while crew ${day.crewDay.crewId} is at ${standing.placeId}`,
    actual: standing.placeId,
    allowed: padPlace,
  }));
  const neededMin = setupMinOf(day, standing.isBeforeFirstWork);
  ledger.expect("setup", (standing.setupMin ?? 0) >= neededMin - rounding, subject, () => ({
    sentence: `block ${block.id} is worked after ${standing.setupMin ?? 0} min of setting up, ${neededMin} min are needed`,
    actual: standing.setupMin ?? 0,
    allowed: neededMin,
  }));
  standing.isUnpacked = true;
}

function checkRefill(
  facts: Facts,
  ledger: Ledger,
  day: Day,
  refill: Extract<Activity, { kind: "refill" }>,
  standing: Standing,
): void {
  expectPlace(ledger, day, standing, refill.place, `refills at ${refill.place}`);
  const place = facts.places.get(refill.place);
  if (place !== undefined) {
    const bases = [day.crew?.baseId, startBaseOf(facts, day), awayBaseOf(day)];
    const hasWater = place.kind === "waterPoint" || bases.some((id) => id === place.id);
    ledger.expect("place", hasWater, day.subject, () => ({
      sentence: `${refill.place} is neither a water point nor the home base nor where the crew sleeps`,
      actual: refill.place,
    }));
    if (place.fillLPerMin !== undefined) {
      const neededMin = refill.waterL / place.fillLPerMin;
      const refillMin = refill.endMin - refill.startMin;
      ledger.expect("refill", refillMin >= neededMin - rounding, day.subject, () => ({
        sentence: `${shown(refill.waterL)} L in ${refillMin} min at ${refill.place}, it takes ${shown(neededMin)} min`,
        actual: refillMin,
        allowed: neededMin,
      }));
    }
  }
  standing.waterL += refill.waterL;
  const { tender } = day;
  if (tender === undefined) return;
  ledger.expect("water", standing.waterL <= tender.waterL + waterRoundingL, day.subject, () => ({
    sentence: `tender ${tender.id} is filled to ${shown(standing.waterL)} L, it holds ${tender.waterL} L`,
    actual: standing.waterL,
    allowed: tender.waterL,
  }));
}

function takeWater(ledger: Ledger, day: Day, standing: Standing, litres: number, what: string): void {
  standing.waterL -= litres;
  if (day.tender === undefined) return;
  ledger.expect("water", standing.waterL >= -waterRoundingL, { ...day.subject, tenderId: day.tender.id }, () => ({
    sentence: `${what} takes ${shown(litres)} L, ${shown(standing.waterL + litres)} L are left in tender ${day.tender!.id}`,
    actual: standing.waterL,
    allowed: 0,
  }));
}
