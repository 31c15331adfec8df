import { lateCents } from "../../chains.ts";
import type { Problem } from "../../problem.ts";
import type { Outing } from "../outings.ts";
import { type Hours, hoursOf } from "./hours.ts";
import type { Visits } from "./visits.ts";

/** An outing of which only minutes count: blocks that it could do any share of, and what they take. Lists are by the block's place in `block`. */
export interface FluidDay {
  readonly outing: Outing;
  readonly block: Int32Array;
  readonly workMin: Float64Array;
  /** Work, and its share of setting up, packing up and road. */
  readonly busyMin: Float64Array;
  /** Running, lateness, wages for its minutes and its share of the road. */
  readonly blockCents: Float64Array;
  /** The set of minutes in which it must be worked. */
  readonly level: Int8Array;
  readonly roomMin: Float64Array;
  /** For going out at all. */
  readonly baseMin: number;
  readonly baseCents: number;
  /** Minutes that blocks share at most. */
  readonly longestMin: number;
  /** Of each set of minutes, and last of the duty: what of the cost of going out is shared out by it; in all 1. */
  readonly weight: Float64Array;
  /** By level, to work with. */
  readonly perWorkMin: Float64Array;
}

/** What the outings of a slot with aircraft of one type have in common. */
interface SlotOfType {
  readonly could: readonly number[];
  readonly hours: Hours;
  readonly outMin: number;
  readonly homeMin: number;
  readonly outKm: number;
  readonly homeKm: number;
}

/** Days of outings, one slot after the other; null where one could do nothing. */
export function createFluidDays(problem: Problem, visits: Visits): (outing: Outing) => FluidDay | null {
  const { routes, types, blocks } = problem;
  let slotAtHand = -1;
  let ofType = new Map<number, SlotOfType>();
  return (outing) => {
    const { slot, profile, option } = outing;
    if (slot !== slotAtHand) {
      slotAtHand = slot;
      ofType = new Map();
    }
    const same = ofType.get(option.type) ?? slotOfType(problem, visits, outing);
    ofType.set(option.type, same);
    const { could, hours, outMin, homeMin, outKm, homeKm } = same;
    const { minutes, centsPerKm, centsPerWorkMin } = routes.profiles[profile]!;
    const type = types[option.type]!;
    const [setupMin, packupMin] = [Math.ceil(type.setupMin), Math.ceil(type.packupMin)];
    const day = routes.dayOfSlot[slot]!;

    const able = could.filter((block) => hours.level[block]! >= 0 && routes.ask(profile, block) > 0);
    if (able.length === 0) return null;
    const ofField = new Map<number, number>();
    for (const block of able) {
      const { field } = blocks[block]!;
      ofField.set(field, (ofField.get(field) ?? 0) + 1);
    }
    const workMin = Float64Array.from(able, (block) => minutes[block]!);
    // A visit serves no more blocks than the field has.
    const visitShare = (field: number) => 1 / ofField.get(field)!;
    const busyMin = Float64Array.from(able, (block, at) => {
      const { field } = blocks[block]!;
      return workMin[at]! + (setupMin + packupMin + visits.min[field]!) * visitShare(field);
    });
    const wageCents = routes.wageCentsPerMin[slot]!;
    const blockCents = Float64Array.from(able, (block, at) => {
      const { field } = blocks[block]!;
      const roadCents = visits.km[field]! * centsPerKm * visitShare(field);
      return workMin[at]! * centsPerWorkMin + lateCents(routes, block, day) + busyMin[at]! * wageCents + roadCents;
    });
    const baseMin = (outMin + homeMin) / 2 + Math.ceil(type.setupMin + type.calibrationMin) - setupMin;
    const levels = hours.roomMin.length;
    return {
      outing,
      block: Int32Array.from(able),
      workMin,
      busyMin,
      blockCents,
      level: Int8Array.from(able, (block) => hours.level[block]!),
      roomMin: hours.roomMin,
      baseMin,
      baseCents: ((outKm + homeKm) / 2) * centsPerKm,
      longestMin: Math.min(routes.dutyMaxMin[slot]!, routes.toMin[slot]! - routes.fromMin[slot]!) - baseMin,
      weight: new Float64Array(levels + 1).fill(1 / (levels + 1)),
      perWorkMin: new Float64Array(levels),
    };
  };
}

function slotOfType(problem: Problem, visits: Visits, { slot, profile, option }: Outing): SlotOfType {
  const { routes, types, blocks, open, travelMin, travelKm, places } = problem;
  const type = types[option.type]!;
  const base = routes.startPlace[slot]!;
  const could = open.filter((block) => routes.could[block * routes.slotCount + slot] === 1);
  let [outMin, homeMin, outKm, homeKm] = [Infinity, Infinity, Infinity, Infinity];
  for (const field of new Set(could.map((block) => blocks[block]!.field))) {
    for (const pad of visits.padsOf(field)) {
      outMin = Math.min(outMin, travelMin[base * places.length + pad]!);
      homeMin = Math.min(homeMin, travelMin[pad * places.length + base]!);
      outKm = Math.min(outKm, travelKm[base * places.length + pad]!);
      homeKm = Math.min(homeKm, travelKm[pad * places.length + base]!);
    }
  }
  const firstMin = routes.fromMin[slot]! + outMin + Math.ceil(type.setupMin + type.calibrationMin);
  const lastMin = routes.toMin[slot]! - homeMin - Math.ceil(type.packupMin);
  const hours = hoursOf(problem, slot, routes.profiles[profile]!.variant, could, firstMin, lastMin);
  return { could, hours, outMin, homeMin, outKm, homeKm };
}
