import { gearOf, workSpeed } from "../fieldwork/flow.ts";
import type { AircraftType } from "../model/fleet.ts";
import type { Order } from "../model/order.ts";
import { loadOf } from "../model/tankMix.ts";
import { figures, type Judgement } from "./limits.ts";
import type { Mix } from "./mix.ts";

/** An output that the gear of this kind of aircraft does not reach, even at the least speed; what lacks the gear is not judged. */
export function judgeFlow(order: Order, { method, products }: Mix, type: AircraftType): Judgement[] {
  const load = loadOf(
    order,
    products.map(({ product }) => product),
  );
  const gear = gearOf(type, method, load.densityKgPerL);
  if (!gear) return [];
  const speed = workSpeed(gear, load.ratePerHa);
  if (speed.ok) return [];
  const unit = method === "liquid" ? "L/min" : "kg/min";
  const { actualPerMin, allowedPerMin } = speed;
  const [actual, allowed] = figures(actualPerMin, allowedPerMin);
  const sentence = `${type.name} would have to put out ${actual} ${unit} at its slowest, it can put out ${allowed} ${unit}`;
  return [{ limit: "rate", actual: actualPerMin, allowed: allowedPerMin, unit, sentence }];
}
