import { gearOf } from "../fieldwork/flow.ts";
import { flyingRules } from "../fieldwork/flyingRules.ts";
import { type Ground, prepareGround } from "../fieldwork/ground.ts";
import { motionOf } from "../fieldwork/workTime.ts";
import { planeOf, toAreaXY, toLineString } from "../geo/convert.ts";
import type { LonLat } from "../geo/plane.ts";
import { loadOf } from "../model/tankMix.ts";
import type { PlanIndex } from "./planIndex.ts";
import { methodOf } from "./siteLimits.ts";
import type { Stop } from "./totals.ts";

export interface FlownPasses {
  /** Laps and passes, as the work's detail counts them. */
  readonly passes: number;
  readonly passKm: number;
  /** Pieces with the gear on, in the order and direction flown; an obstacle or a bay parts a pass into several. */
  readonly lines: readonly (readonly LonLat[])[];
}

/**
 * A plan rounds positions to 11 mm, so a block that was cut at a whole number of swaths may come back a hair wider or narrower: by this
 * much the strips together may give or take.
 */
const roundedM = 0.04;

/** The passes of a stop, laid again from what the plan says of its work: ground, heading, aircraft, pad, loads. */
export function flownPasses(index: PlanIndex, stop: Stop): FlownPasses {
  const { detail } = stop.work;
  const ways = [0, roundedM, -roundedM].map((slackM) => () => groundOf(index, stop, slackM / detail.passes));
  const first = ways[0]!();
  const ground = [() => first, ...ways.slice(1)]
    .map((way) => way())
    .find(({ swathPlan }) => swathPlan.passes === detail.passes);
  return laidOf(index, stop, ground ?? first);
}

function groundOf(index: PlanIndex, { block, work, crewDay }: Stop, slackM: number): Ground {
  const order = index.order(block.orderId);
  const field = index.field(order.fieldId);
  const products = index.productsOf(order);
  const [type] = index.typesOf({ crewDay, work });
  const gear = type && gearOf(type, methodOf(products), loadOf(order, products).densityKgPerL);
  if (gear === undefined) throw new Error(`the plan works ${block.id} with aircraft that lack the gear`);
  const plane = planeOf(field.geometry);
  const pads = field.properties.pads.map(({ lonDeg, latDeg }) => plane.toXY([lonDeg, latDeg]));
  const rules = {
    ...flyingRules(index.operation.settings, field.properties, order),
    headingDeg: work.detail.headingDeg,
  };
  const motion = motionOf(type!, { ...gear, swathM: gear.swathM + slackM });
  return prepareGround(toAreaXY(plane, block.geometry), pads, motion, rules);
}

function laidOf(index: PlanIndex, { block, work }: Stop, ground: Ground): FlownPasses {
  const { geometry, properties } = index.field(index.order(block.orderId).fieldId);
  const plane = planeOf(geometry);
  const pad = properties.pads.findIndex(({ id }) => id === work.padId);
  return {
    passes: ground.swathPlan.passes,
    passKm: ground.swathPlan.passM / 1000,
    lines: ground.pads[pad]!.legs(work.detail.loads).map(({ from, to }) => toLineString(plane, [from, to]).coordinates),
  };
}
