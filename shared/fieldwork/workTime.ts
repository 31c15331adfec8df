import type { AreaXY, PointXY } from "../geo/plane.ts";
import type { AircraftType, Tender } from "../model/fleet.ts";
import type { Method } from "../model/quantities.ts";
import { secondsPerMinute } from "../units/units.ts";
import { type Bottleneck, bottleneckOf, type CycleDemand, type Share } from "./cycle.ts";
import { type Gear, gearOf, workSpeed } from "./flow.ts";
import { type Ground, type GroundRules, type Motion, prepareGround } from "./ground.ts";
import { loadsFewest } from "./loads.ts";
import type { BatteryDemand } from "./padBatteries.ts";
import type { PadGround } from "./seenFromPad.ts";
import { bestShare, type TimedShare } from "./share.ts";
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
  /** Of these, charged when the work begins; left out: all. */
  readonly fullSets?: number;
  /** What each of the others needs of a whole charge; left out: all of it. */
  readonly neededFrac?: number;
  /** Whether aircraft on fuel fill up before the first load; left out: they come full. */
  readonly refuelsFirst?: boolean;
  readonly chargers: readonly { readonly bays: number; readonly kw: number }[];
  readonly tender: Pick<Tender, "mixLPerMin" | "pumpLPerMin" | "generatorKw" | "loadingPoints">;
}

export interface WorkInput extends OutfitInput {
  readonly area: AreaXY;
  readonly pads: readonly PointXY[];
  readonly rules: GroundRules;
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
  /** Turns, and the way between passes that are not side by side. */
  turnMin: number;
  /** Between pad and passes, taking off and landing included. */
  ferryMin: number;
  groundMin: number;
  rateHaPerHour: number;
  bottleneck: Bottleneck;
}

/** Shares of the block's time in which each thing is at work. */
export interface Use {
  readonly aircraftFrac: number;
  readonly loadingFrac: number;
  readonly mixingFrac: number;
  /** Of all working bays; none with fuel. */
  readonly baysFrac: number | undefined;
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
      readonly share: Share;
      readonly detail: WorkDetail;
      readonly use: Use;
      /** What the aircraft wait for, minutes over all of them. */
      readonly waitMin: TimedShare["time"]["waitS"];
      /** Battery sets changed or tanks of fuel filled, over all aircraft. */
      readonly changes: number;
      /** The longest time in the air of an aircraft since its last change or filling, minutes. */
      readonly flownMin: number;
      /** Charging that the work takes, and what of it and of sets that were not full is left to do at its end, in minutes of one bay. */
      readonly chargeMin: { readonly taken: number; readonly left: number };
      /** Battery sets that are not full at its end. */
      readonly waitingSets: number;
    }
  | WorkRefusal;

/** What a type's way of flying makes of a ground, with one of its gears. */
export function motionOf(type: AircraftType, { swathM, speedMaxMps }: Pick<Gear, "swathM" | "speedMaxMps">): Motion {
  const { turnS, ferrySpeedMps, takeoffLandingS } = type;
  return { swathM, speedMaxMps, turnS, ferrySpeedMps, takeoffLandingS };
}

/** How long an outfit of aircraft of one type works on an area, from the best of its pads. */
export function workTime(input: WorkInput): WorkOutcome {
  const gear = gearOf(input.type, input.method, input.densityKgPerL);
  if (gear === undefined) return methodRefusal(input);
  const ground = prepareGround(input.area, input.pads, motionOf(input.type, gear), input.rules);
  return workTimeOn(ground, input);
}

/** The same on ground that was prepared for the type, from the best of its pads or from one of them only. */
export function workTimeOn(ground: Ground, input: OutfitInput, onlyPad?: number): WorkOutcome {
  const gear = gearOf(input.type, input.method, input.densityKgPerL);
  if (gear === undefined) return methodRefusal(input);
  if (gear.swathM !== ground.motion.swathM) throw new RangeError("the ground was prepared for another swath");

  const speed = workSpeed(gear, input.ratePerHa);
  if (!speed.ok) {
    const unit = input.method === "liquid" ? "L/min" : "kg/min";
    return { ok: false, limit: "rate", actual: speed.actualPerMin, allowed: speed.allowedPerMin, unit };
  }
  const power = powerOf(input);
  if (!power.ok) return power;

  const speedMps = speed.speedMps;
  let best: FromPad | undefined;
  let refusal: WorkRefusal | undefined;
  for (let padIndex = 0; padIndex < ground.pads.length; padIndex++) {
    if (onlyPad !== undefined && padIndex !== onlyPad) continue;
    const found = fromPad(ground, padIndex, input, gear, speedMps, power.battery, best?.timed.minutes);
    if ("timed" in found) best = found;
    else refusal ??= found;
  }
  return best === undefined ? refusal! : outcomeOf(ground, input, speedMps, best);
}

function methodRefusal({ type, method }: OutfitInput): WorkRefusal {
  const allowed = (["liquid", "granular"] as const).filter((gear) => type[gear] !== undefined);
  return { ok: false, limit: "method", actual: method, allowed };
}

type PowerAtField = { readonly ok: true; readonly battery: BatteryDemand | undefined } | WorkRefusal;

/** Every aircraft needs a set, and the chargers and the generator must keep at least one bay working. */
export function powerOf({
  type: { power },
  aircraftCount,
  batterySets,
  fullSets,
  neededFrac,
  chargers,
  tender,
}: OutfitInput): PowerAtField {
  if (power.source === "fuel") return { ok: true, battery: undefined };
  if (batterySets < aircraftCount) {
    return { ok: false, limit: "batteries", actual: batterySets, allowed: aircraftCount, unit: "sets" };
  }
  const bays = workingBays(chargers, tender.generatorKw, power.chargeKw);
  if (bays < 1) return { ok: false, limit: "chargers", actual: bays, allowed: 1, unit: "bays" };
  return {
    ok: true,
    battery: {
      sets: batterySets,
      full: fullSets ?? batterySets,
      neededFrac: neededFrac ?? 1,
      bays,
      chargeS: power.chargeMin * secondsPerMinute,
    },
  };
}

/** Bays that charge at once, limited by each charger's power and by the generator's. */
export function workingBays(chargers: OutfitInput["chargers"], generatorKw: number, chargeKw: number): number {
  const fed = chargers.reduce((sum, { bays, kw }) => sum + Math.min(bays, Math.floor(kw / chargeKw)), 0);
  return Math.min(fed, Math.floor(generatorKw / chargeKw));
}

/** What the work asks of the outfit, from one of the ground's pads. */
export function demandOf(
  { areaHa, swathPlan }: Pick<Ground, "areaHa" | "swathPlan">,
  pad: PadGround,
  { method, ratePerHa, refuelsFirst, type: { power, loadS }, tender }: OutfitInput,
  speedMps: number,
  battery: BatteryDemand | undefined,
): CycleDemand {
  // Our choice: granules come ready to spread and are poured in while the aircraft is checked, within `loadS`.
  const pumpedL = method === "liquid" ? areaHa * ratePerHa : 0;
  return {
    beside: pad.beside,
    sprayS: swathPlan.passM / speedMps,
    perLoadS: loadS,
    pumpS: (pumpedL / tender.pumpLPerMin) * secondsPerMinute,
    mixS: (pumpedL / tender.mixLPerMin) * secondsPerMinute,
    loadingPoints: tender.loadingPoints,
    airMaxS: power.enduranceMin * secondsPerMinute * (1 - power.reserveFrac),
    changeS: power.source === "battery" ? power.swapS : power.refuelS,
    refuelsFirst: power.source === "fuel" && refuelsFirst === true,
    battery,
  };
}

/** The best share of the work from one pad. */
interface FromPad {
  readonly padIndex: number;
  readonly demand: CycleDemand;
  readonly timed: TimedShare;
}

/** From one of the pads, if that takes fewer minutes than the pads before it; else what stands in the way. */
function fromPad(
  ground: Ground,
  padIndex: number,
  input: OutfitInput,
  gear: Gear,
  speedMps: number,
  battery: BatteryDemand | undefined,
  fewerThanMin: number | undefined,
): FromPad | WorkRefusal {
  const { areaHa, swathPlan } = ground;
  const pad = ground.pads[padIndex]!;
  const { turnS, ferrySpeedMps, takeoffLandingS } = input.type;
  const demand = demandOf(ground, pad, input, speedMps, battery);
  const { sprayS, airMaxS } = demand;
  const overFieldS = sprayS + swathPlan.turns * turnS + swathPlan.hopM / ferrySpeedMps;
  const farthestS = (2 * pad.farthestM) / ferrySpeedMps + takeoffLandingS + Math.min(overFieldMinS, overFieldS);
  if (farthestS <= airMaxS) {
    const loadsMin = loadsFewest(areaHa * input.ratePerHa, gear.fullLoad);
    const loadsWorth = Math.ceil(overFieldS / overFieldMinS);
    const timed = bestShare(demand, input.aircraftCount, loadsMin, loadsWorth, fewerThanMin);
    if (timed !== undefined) return { padIndex, demand, timed };
  }
  return {
    ok: false,
    limit: "range",
    actual: farthestS / secondsPerMinute,
    allowed: airMaxS / secondsPerMinute,
    unit: "min",
  };
}

function outcomeOf(
  { areaHa, swathPlan, pads }: Ground,
  { ratePerHa, aircraftCount, tender, type }: OutfitInput,
  speedMps: number,
  { padIndex, demand, timed: { share, time, minutes } }: FromPad,
): WorkOutcome {
  const { turnS, ferrySpeedMps, takeoffLandingS } = type;
  const { sprayS, airMaxS, battery } = demand;
  const amount = areaHa * ratePerHa;
  const { loads } = share;
  const sums = pads[padIndex]!.sums(loads);
  const loadingS = loads * demand.perLoadS + demand.pumpS;
  const changes = time.changes + (demand.refuelsFirst ? share.aircraft : 0);
  const groundS = loadingS + changes * demand.changeS;
  const turnMin = (sums.turns * turnS + sums.hopM / ferrySpeedMps) / secondsPerMinute;
  const ferryMin = (loads * takeoffLandingS + sums.ferryM / ferrySpeedMps) / secondsPerMinute;
  const sprayMin = sprayS / secondsPerMinute;
  const groundMin = groundS / secondsPerMinute;
  const detail: WorkDetail = {
    passes: swathPlan.passes,
    passKm: swathPlan.passM / 1000,
    headingDeg: swathPlan.headingDeg,
    speedMps,
    loads,
    loadSize: amount / loads,
    amount,
    batteryChanges: battery === undefined ? 0 : time.changes,
    sprayMin,
    turnMin,
    ferryMin,
    groundMin,
    rateHaPerHour: (areaHa * 60) / minutes,
    bottleneck: bottleneckOf(time, share),
  };
  const totalMin = time.totalS / secondsPerMinute;
  const use: Use = {
    aircraftFrac: (sprayMin + turnMin + ferryMin + groundMin) / (aircraftCount * totalMin),
    loadingFrac: loadingS / (tender.loadingPoints * time.totalS),
    mixingFrac: demand.mixS / time.totalS,
    baysFrac: battery === undefined ? undefined : time.chargingS / (battery.bays * time.totalS),
  };
  const { loading, mixing, batteries, chargers } = time.waitS;
  const waitMin = {
    loading: loading / secondsPerMinute,
    mixing: mixing / secondsPerMinute,
    batteries: batteries / secondsPerMinute,
    chargers: chargers / secondsPerMinute,
  };
  const airS = sprayS + (turnMin + ferryMin) * secondsPerMinute;
  const chargeMin =
    battery === undefined
      ? { taken: 0, left: 0 }
      : {
          taken: ((airS / airMaxS) * battery.chargeS) / secondsPerMinute,
          left: time.leftChargeS / secondsPerMinute,
        };
  const flownMin = time.flownS / secondsPerMinute;
  return {
    ok: true,
    minutes,
    padIndex,
    swathPlan,
    share,
    detail,
    use,
    waitMin,
    changes,
    flownMin,
    chargeMin,
    waitingSets: time.waitingSets,
  };
}
