import { cutAfterPasses } from "../fieldwork/blocks.ts";
import { gearOf } from "../fieldwork/flow.ts";
import { flyingRules } from "../fieldwork/flyingRules.ts";
import { prepareGround, swathOnMapM } from "../fieldwork/ground.ts";
import { motionOf } from "../fieldwork/workTime.ts";
import { toAreaXY } from "../geo/convert.ts";
import type { AreaXY, Plane } from "../geo/plane.ts";
import { frameOf } from "../geo/swath.ts";
import { loadOf } from "../model/tankMix.ts";
import { radFromDeg } from "../units/units.ts";
import type { ToldStop } from "./happened.ts";

/**
 * The ground of a stop that is done when its crew has stopped after so many hectares: of its passes, in the order in which they are flown, as many whole ones as come nearest. Our choice:
 * laps along the outline are taken for parts of the passes that they cross.
 */
export function donePart(stop: ToldStop, plane: Plane): AreaXY {
  const { operation, block, work, crewDay, doneHa } = stop;
  const area = toAreaXY(plane, block.geometry);
  const order = operation.orders.find(({ id }) => id === block.orderId);
  const field = operation.fields.features.find(({ properties }) => properties.id === order?.fieldId);
  const aircraftId = (work.aircraftIds ?? crewDay.outfit.aircraftIds)[0];
  const typeId = operation.fleet.aircraft.find(({ id }) => id === aircraftId)?.typeId;
  const type = operation.fleet.aircraftTypes.find(({ id }) => id === typeId);
  if (order === undefined || field === undefined || type === undefined) {
    throw new Error(`the operation that block ${block.id} was planned from does not have what it names`);
  }
  const mix = order.products.map(({ productId }) => operation.products.find(({ id }) => id === productId)!);
  const gear = gearOf(type, mix[0]!.method, loadOf(order, mix).densityKgPerL)!;
  const { properties } = field;
  const headingDeg = work.detail.headingDeg;
  const rules = { ...flyingRules(operation.settings, properties, order), headingDeg };
  const pads = properties.pads.map(({ lonDeg, latDeg }) => plane.toXY([lonDeg, latDeg]));
  const { legs } = prepareGround(area, pads, motionOf(type, gear), rules).swathPlan;
  const headingRad = radFromDeg(headingDeg);
  const passes = legs.filter(({ pass }) => pass >= 0);
  const acrossOf = ({ from, to }: (typeof legs)[number]) => {
    const frame = frameOf(headingRad);
    return (frame.across(from) + frame.across(to)) / 2;
  };
  const [first, last] = [passes[0], passes.at(-1)];
  const fromLeft = first === undefined || acrossOf(first) <= acrossOf(last!);
  const swathM = swathOnMapM(gear.swathM, properties.slopePct);
  return cutAfterPasses(area, { swathM, headingRad, doneHa, fromLeft });
}
