import type { AreaXY, PointXY } from "../geo/plane.ts";
import type { AircraftType, Tender } from "../model/fleet.ts";
import type { Method } from "../model/quantities.ts";
import { secondsPerMinute } from "../units/units.ts";
import { type BatteryDemand, type Bottleneck, type CycleDemand, cycleBound } from "./cycle.ts";
import { type Gear, gearOf, workSpeed } from "./flow.ts";
import { type Ground, type PadFerry, prepareGround } from "./ground.ts";
import { bestShare } from "./share.ts";
import type { SwathPlan } from "./swathPlan.ts";

/** Our choice: a sortie is worth flying when it brings half a minute over the field. */
const overFieldMinS = 30;

export interface OutfitInput {
  readonly method: Method;
  /** L of mix or kg of granules per hectare. */
  readonly ratePerHa: number;
  /** Of the mix; of granules in bulk. */
  readonly densityKgPerL: number;
  readonly type: AircraftType;
  readonly aircraftCount: number;
  readonly batterySets: number;
  readonly chargers: readonly { readonly bays: number; readonly kw: number }[];
  readonly tender: Pick<Tender, "mixLPerMin" | "pumpLPerMin" | "generatorKw">;
}

export interface WorkInput extends OutfitInput {
  readonly area: AreaXY;
  readonly pads: readonly PointXY[];
}

/** Minutes and counts of a block; minutes by part are sums over all aircraft. The plan's work detail has this shape. */
export interface WorkDetail {
  passes: number;
  passKm: number;
  headingDeg: number;
  speedMps: number;
  loads: number;
  loadSize: number;
  amount: number;
  batteryChanges: number;
  sprayMin: number;
  turnMin: number;
  /** Between pad and passes, taking off and landing included. */
  ferryMin: number;
  groundMin: number;
  rateHaPerHour: number;
  bottleneck: Bottleneck;
}

export type WorkRefusal =
  | { readonly ok: false; readonly limit: "method"; readonly actual: Method; readonly allowed: readonly Method[] }
  | {
      readonly ok: false;
      readonly limit: "rate" | "chargers" | "batteries" | "range";
      /** What there is or would be needed, against the most (rate, range) or the least (sets, bays) that works. */
      readonly actual: number;
      readonly allowed: number;
      readonly unit: "L/min" | "kg/min" | "bays" | "sets" | "min";
    };

export type WorkOutcome =
  | {
      readonly ok: true;
      /** From the first fill to the last landing, rounded up. */
      readonly minutes: number;
      readonly padIndex: number;
      readonly swathPlan: SwathPlan;
      readonly detail: WorkDetail;
    }
  | WorkRefusal;

/** What a turn costs as length flown at full speed; the same for every rate, so that grounds can be shared. */
export function turnCostM(type: AircraftType, gear: Pick<Gear, "speedMaxMps">): number {
  return type.turnS * gear.speedMaxMps;
}

/** How long an outfit of aircraft of one type works on an area, from the best of its pads. */
export function workTime(input: WorkInput): WorkOutcome {
  const gear = gearOf(input.type, input.method, input.densityKgPerL);
  if (gear === undefined) return methodRefusal(input);
  const ground = prepareGround(input.area, input.pads, gear.swathM, turnCostM(input.type, gear));
  return workTimeOn(ground, input);
}

/** The same on ground that was prepared for the swath of the type. */
export function workTimeOn(ground: Ground, input: OutfitInput): WorkOutcome {
  const gear = gearOf(input.type, input.method, input.densityKgPerL);
  if (gear === undefined) return methodRefusal(input);
  if (gear.swathM !== ground.swathM) throw new RangeError("the ground was prepared for another swath");

  const speed = workSpeed(gear, input.ratePerHa);
  if (!speed.ok) {
    const unit = input.method === "liquid" ? "L/min" : "kg/min";
    return { ok: false, limit: "rate", actual: speed.actualPerMin, allowed: speed.allowedPerMin, unit };
  }
  const power = powerOf(input);
  if (!power.ok) return power;

  let best: WorkOutcome | undefined;
  ground.ferries.forEach((ferry, padIndex) => {
    const outcome = fromPad(ground, ferry, padIndex, input, gear, speed.speedMps, power.battery);
    if (best === undefined || isBetter(outcome, best)) best = outcome;
  });
  return best!;
}

function isBetter(outcome: WorkOutcome, best: WorkOutcome): boolean {
  if (!outcome.ok || !best.ok) return outcome.ok && !best.ok;
  return outcome.minutes < best.minutes;
}

function methodRefusal({ type, method }: OutfitInput): WorkRefusal {
  const allowed = (["liquid", "granular"] as const).filter((gear) => type[gear] !== undefined);
  return { ok: false, limit: "method", actual: method, allowed };
}

type PowerAtField = { readonly ok: true; readonly battery: BatteryDemand | undefined } | WorkRefusal;

/** Every aircraft needs a set, and the chargers and the generator must keep at least one bay working. */
function powerOf({ type: { power }, aircraftCount, batterySets, chargers, tender }: OutfitInput): PowerAtField {
  if (power.source === "fuel") return { ok: true, battery: undefined };
  if (batterySets < aircraftCount) {
    return { ok: false, limit: "batteries", actual: batterySets, allowed: aircraftCount, unit: "sets" };
  }
  const bays = workingBays(chargers, tender.generatorKw, power.chargeKw);
  if (bays < 1) return { ok: false, limit: "chargers", actual: bays, allowed: 1, unit: "bays" };
  return { ok: true, battery: { sets: batterySets, bays, chargeS: power.chargeMin * secondsPerMinute } };
}

/** Bays that charge at once, limited by each charger's power and by the generator's. */
export function workingBays(chargers: OutfitInput["chargers"], generatorKw: number, chargeKw: number): number {
  const fed = chargers.reduce((sum, { bays, kw }) => sum + Math.min(bays, Math.floor(kw / chargeKw)), 0);
  return Math.min(fed, Math.floor(generatorKw / chargeKw));
}

function fromPad(
  { areaHa, swathPlan }: Ground,
  ferry: PadFerry,
  padIndex: number,
  { method, ratePerHa, type, aircraftCount, tender }: OutfitInput,
  gear: Gear,
  speedMps: number,
  battery: BatteryDemand | undefined,
): WorkOutcome {
  const { power } = type;
  const amount = areaHa * ratePerHa;
  const sprayS = swathPlan.passM / speedMps;
  const turnS = swathPlan.turns * type.turnS;
  const overFieldS = sprayS + turnS;
  const thereAndBackS = (distanceM: number) => (2 * distanceM) / type.ferrySpeedMps + type.takeoffLandingS;

  const airMaxS = power.enduranceMin * secondsPerMinute * (1 - power.reserveFrac);
  const farthestS = thereAndBackS(ferry.farthestM) + Math.min(overFieldMinS, overFieldS);
  if (farthestS > airMaxS) {
    const [actual, allowed] = [farthestS / secondsPerMinute, airMaxS / secondsPerMinute];
    return { ok: false, limit: "range", actual, allowed, unit: "min" };
  }

  // Our choice: granules come ready to spread and are poured in while the aircraft is checked, within `loadS`.
  const pumpedL = method === "liquid" ? amount : 0;
  const demand: CycleDemand = {
    overFieldS,
    perSortieS: thereAndBackS(ferry.meanM),
    perLoadS: type.loadS,
    pumpS: (pumpedL / tender.pumpLPerMin) * secondsPerMinute,
    mixS: (pumpedL / tender.mixLPerMin) * secondsPerMinute,
    airMaxS,
    changeS: power.source === "battery" ? power.swapS : power.refuelS,
    battery,
  };
  // At full speed, so that a lower rate does not allow fewer sorties.
  const loadsWorth = Math.floor((swathPlan.passM / gear.speedMaxMps + turnS) / overFieldMinS);
  const loadsMin = loadsFewest(amount, gear.fullLoad);
  const { share, time, minutes } = bestShare(demand, aircraftCount, loadsMin, loadsWorth);
  const groundS = share.loads * demand.perLoadS + demand.pumpS + time.changes * demand.changeS;
  const detail: WorkDetail = {
    passes: swathPlan.passes,
    passKm: swathPlan.passM / 1000,
    headingDeg: swathPlan.headingDeg,
    speedMps,
    loads: share.loads,
    loadSize: amount / share.loads,
    amount,
    batteryChanges: battery === undefined ? 0 : time.changes,
    sprayMin: sprayS / secondsPerMinute,
    turnMin: turnS / secondsPerMinute,
    ferryMin: (share.loads * demand.perSortieS) / secondsPerMinute,
    groundMin: groundS / secondsPerMinute,
    rateHaPerHour: (areaHa * 60) / minutes,
    bottleneck: cycleBound(demand, share).bottleneck,
  };
  return { ok: true, minutes, padIndex, swathPlan, detail };
}

/** Our choice: a load may be over by a millionth, so that rounding of the area does not add one. */
const loadSlack = 1e-6;
function loadsFewest(amount: number, fullLoad: number): number {
  return Math.max(1, Math.ceil(amount / fullLoad - loadSlack));
}
