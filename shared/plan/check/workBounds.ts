import { areaM2 } from "../../geo/area.ts";
import { distanceToShapeM } from "../../geo/distance.ts";
import type { AreaXY } from "../../geo/plane.ts";
import { minutesPerHour } from "../../model/calendar.ts";
import type { AircraftType } from "../../model/fleet.ts";
import { secondsPerMinute } from "../../units/units.ts";
import type { WorkDetail } from "../plan.ts";
import type { Facts, Stop } from "./facts.ts";
import { type Gear, gearOf } from "./flow.ts";
import { checkHeading, type Headland, widthToCoverM } from "./passes.ts";
import { type Ledger, rounding, shown } from "./report.ts";
import type { Terrain } from "./terrain.ts";
import { airMin, loadingMin, usableMinOf } from "./workSums.ts";

/** Our choice: passes may leave this share of the ground to the fringe of the spray. */
const coveredShare = 0.98;
/** How far figures of a detail that follow from each other may differ by rounding. */
const agreeShare = 0.005;

/**
 * The work's minutes against what no honest plan can beat. Every bound takes the best of each figure that any aircraft at
 * work has, and leaves out what depends on how the work is organised.
 */
export function checkWorkBounds(facts: Facts, ledger: Ledger, terrain: Terrain): void {
  const { headlandM } = facts.operation.settings.fieldwork;
  for (const stop of facts.stops) {
    checkHeading(ledger, stop);
    const best = bestOf(stop);
    if (best === undefined) continue;
    const ground = groundOf(terrain, stop);
    checkAgreement(ledger, stop);
    checkPasses(ledger, stop, best, ground, { widthM: headlandM, field: terrain.field(stop.mix).area });
    checkLoads(ledger, stop, best);
    checkTimes(ledger, stop, best, ground);
    checkMinutes(ledger, stop, best, ground);
  }
}

/** The best figures of the aircraft at work. */
interface Best {
  /** What a swath covers of the map. */
  readonly mapSwathM: number;
  readonly speedMps: number;
  readonly speedMinMps: number;
  readonly flowMaxPerMin: number;
  readonly fullLoad: number;
  readonly ferrySpeedMps: number;
  readonly turnS: number;
  readonly takeoffLandingS: number;
  readonly loadS: number;
}

function bestOf({ types, mix }: Stop): Best | undefined {
  const gears = types.map((type) => gearOf(type, mix)).filter((gear) => gear !== undefined);
  if (gears.length === 0 || gears.length < types.length) return undefined;
  const most = (measure: (gear: Gear) => number) => Math.max(...gears.map(measure));
  const least = (measure: (type: AircraftType) => number) => Math.min(...types.map(measure));
  return {
    mapSwathM: most((gear) => gear.swathM) * levelShare(mix.field.properties.slopePct),
    speedMps: most((gear) => gear.speedMps),
    speedMinMps: Math.min(...gears.map((gear) => gear.speedMinMps)),
    flowMaxPerMin: most((gear) => gear.flowMaxPerMin),
    fullLoad: most((gear) => gear.fullLoad),
    ferrySpeedMps: Math.max(...types.map((type) => type.ferrySpeedMps)),
    turnS: least((type) => type.turnS),
    takeoffLandingS: least((type) => type.takeoffLandingS),
    loadS: least((type) => type.loadS),
  };
}

/** How long a line down the slope is on the map. */
function levelShare(slopePct: number): number {
  return Math.cos(Math.atan(slopePct / 100));
}

interface BlockGround {
  readonly area: AreaXY;
  readonly areaM2: number;
  /** From the pad to the nearest ground of the block. */
  readonly padM: number;
}

function groundOf(terrain: Terrain, { mix, block, work }: Stop): BlockGround {
  const { plane } = terrain.field(mix);
  const area = terrain.block(mix, block);
  const pad = mix.field.properties.pads.find((one) => one.id === work.padId);
  const isMeasurable = pad !== undefined && area.length > 0;
  const padM = isMeasurable
    ? distanceToShapeM(area, { kind: "point", point: plane.toXY([pad.lonDeg, pad.latDeg]) })
    : 0;
  return { area, areaM2: areaM2(area), padM };
}

function agree(a: number, b: number): boolean {
  return Math.abs(a - b) <= agreeShare * Math.max(Math.abs(a), Math.abs(b)) + rounding;
}

function expectDetail(
  ledger: Ledger,
  stop: Stop,
  holds: boolean,
  words: string,
  actual: number,
  allowed: number,
): void {
  ledger.expect("workDetail", holds, stop.subject, () => ({
    sentence: `block ${stop.block.id}: ${words} ${shown(actual)}, against ${shown(allowed)}`,
    actual,
    allowed,
  }));
}

/** Figures that follow from each other. */
function checkAgreement(ledger: Ledger, stop: Stop): void {
  const { block, mix, work, workMin: minutes } = stop;
  const { detail } = work;
  const amount = block.areaHa * mix.ratePerHa;
  expectDetail(ledger, stop, agree(detail.amount, amount), "amount", detail.amount, amount);
  // Minutes are rounded up, so the rate may stand for up to a minute less.
  const leastRate = (block.areaHa * minutesPerHour) / minutes;
  const mostRate = (block.areaHa * minutesPerHour) / Math.max(minutes - 1, rounding);
  const isRate =
    detail.rateHaPerHour >= leastRate * (1 - agreeShare) && detail.rateHaPerHour <= mostRate * (1 + agreeShare);
  expectDetail(ledger, stop, isRate, "work rate in ha/h", detail.rateHaPerHour, leastRate);
}

function checkPasses(ledger: Ledger, stop: Stop, best: Best, ground: BlockGround, headland: Headland): void {
  const { detail } = stop.work;
  const passM = detail.passKm * 1000;
  const neededM = (coveredShare * ground.areaM2) / best.mapSwathM;
  expectDetail(ledger, stop, passM >= neededM - rounding, "metres of passes", passM, neededM);
  const acrossM = widthToCoverM(ground.area, detail.headingDeg, best.mapSwathM, headland);
  // The last strip may lie over the edge for the most part and be left out.
  const neededPasses = (coveredShare * acrossM) / best.mapSwathM - 1;
  expectDetail(ledger, stop, detail.passes >= neededPasses, "number of passes", detail.passes, neededPasses);
}

function checkLoads(ledger: Ledger, stop: Stop, best: Best): void {
  const { detail } = stop.work;
  const amount = stop.block.areaHa * stop.mix.ratePerHa;
  const leastLoads = Math.ceil((amount * (1 - agreeShare)) / best.fullLoad);
  expectDetail(ledger, stop, detail.loads >= leastLoads, "number of loads", detail.loads, leastLoads);
  const isLoad = detail.loadSize <= best.fullLoad * (1 + agreeShare);
  expectDetail(ledger, stop, isLoad, "size of a load", detail.loadSize, best.fullLoad);
  const carried = detail.loads * detail.loadSize;
  expectDetail(ledger, stop, carried >= amount * (1 - agreeShare), "all loads together", carried, amount);
}

function checkTimes(ledger: Ledger, stop: Stop, best: Best, ground: BlockGround): void {
  const { detail } = stop.work;
  const amount = stop.block.areaHa * stop.mix.ratePerHa;
  const least = (words: string, actual: number, bound: number) =>
    expectDetail(ledger, stop, actual >= bound - rounding, words, actual, bound);

  const isSpeed =
    detail.speedMps <= best.speedMps * (1 + rounding) && detail.speedMps >= best.speedMinMps * (1 - rounding);
  expectDetail(ledger, stop, isSpeed, "speed in m/s", detail.speedMps, best.speedMps);
  least(
    "minutes of spraying at that speed",
    detail.sprayMin,
    (detail.passKm * 1000) / detail.speedMps / secondsPerMinute,
  );
  least("minutes of spraying at that flow", detail.sprayMin, (coveredShare * amount) / best.flowMaxPerMin);
  least("minutes of turns", detail.turnMin, turnMinLeast(detail, best));
  least("minutes of ferrying", detail.ferryMin, ferryMinLeast(detail.loads, best, ground));
  least("minutes on the ground", detail.groundMin, loadingMin(stop, detail.loads, best.loadS));
  if (stop.types.some((type) => type.power.source === "fuel")) return;
  const usableMin = Math.max(...stop.types.map(usableMinOf));
  // Every aircraft starts on a set of its own; each further one is a change.
  const leastChanges = Math.ceil(airMin(detail) / usableMin - stop.types.length - agreeShare);
  least("battery changes", detail.batteryChanges, leastChanges);
}

/** Each sortie begins and ends with a ferry instead of a turn; a battery change may part two sorties of one load. */
function turnMinLeast({ passes, loads, batteryChanges }: WorkDetail, { turnS }: Best): number {
  return (Math.max(0, passes - loads - batteryChanges) * turnS) / secondsPerMinute;
}

function ferryMinLeast(loads: number, { ferrySpeedMps }: Best, { padM }: BlockGround): number {
  return (loads * 2 * padM) / ferrySpeedMps / secondsPerMinute;
}

/** Minutes of the work itself: against the detail's own sums, and against the ground, the pump and the mixer alone. */
function checkMinutes(ledger: Ledger, stop: Stop, best: Best, ground: BlockGround): void {
  const { day, work, mix, block, workMin: minutes } = stop;
  const { detail } = work;
  const aircraft = stop.types.length;
  const amount = block.areaHa * mix.ratePerHa;
  const least = (words: string, boundMin: number) =>
    ledger.expect("workMinutes", minutes >= boundMin - rounding, stop.subject, () => ({
      sentence: `block ${block.id} is worked in ${minutes} min, ${words} take at least ${shown(boundMin)} min`,
      actual: minutes,
      allowed: boundMin,
    }));

  least("the flights and loads that it lists", (airMin(detail) + detail.groundMin) / aircraft);
  const loads = Math.ceil((amount * (1 - agreeShare)) / best.fullLoad);
  const sprayMin = (coveredShare * ground.areaM2) / best.mapSwathM / best.speedMps / secondsPerMinute;
  const sortiesMin = ferryMinLeast(loads, best, ground) + (loads * best.takeoffLandingS) / secondsPerMinute;
  least("its ground and loads", (sprayMin + sortiesMin + loadingMin(stop, loads, best.loadS)) / aircraft);
  if (mix.method === "granular" || day.tender === undefined) return;
  // A loading point fills one load after the other.
  least("the loads at the pump", amount / (day.tender.pumpLPerMin * day.tender.loadingPoints));
  // A load in every aircraft and one more may be made up beforehand.
  const toMixL = Math.max(0, amount - (aircraft + 1) * best.fullLoad);
  least("the mixing", toMixL / day.tender.mixLPerMin);
}
