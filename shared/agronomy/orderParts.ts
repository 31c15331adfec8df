import { areaM2 } from "../geo/area.ts";
import { difference, intersection, union } from "../geo/clip.ts";
import type { AreaXY } from "../geo/plane.ts";
import { haFromM2 } from "../units/units.ts";
import type { ProductBuffer } from "./buffers.ts";
import type { Place } from "./places.ts";
import { groundAround, leastHa, type TreatedArea } from "./treatedArea.ts";

/** The whole treated area, or one of the two that a buffer parts it in: near to a place that the wind may blow towards, and the rest. */
export interface OrderPart {
  readonly part: "whole" | "near" | "rest";
  readonly area: AreaXY;
  readonly areaHa: number;
}

export interface Parting {
  readonly parts: readonly OrderPart[];
  /** Whether any ground is near to a place, be it a part of its own or, where near or rest is too small for one, the whole. */
  readonly hasNear: boolean;
}

/** Less than this is what rounding leaves of ground that fixed buffers take. */
const leastNearM2 = 0.1;

/** Places by which buffers hold that spare a part; each is near enough to the field. */
export function orderParts(treated: TreatedArea, places: readonly Place[], sparing: readonly ProductBuffer[]): Parting {
  if (treated.areaHa === 0) return { parts: [], hasNear: false };
  const whole: OrderPart = { part: "whole", area: treated.area, areaHa: treated.areaHa };
  const around = places.flatMap((place) => groundAround(place, sparing) ?? []);
  if (around.length === 0) return { parts: [whole], hasNear: false };
  const kept = union([around]);
  const near = measured("near", intersection(treated.area, kept));
  if (near.areaHa < haFromM2(leastNearM2)) return { parts: [whole], hasNear: false };
  const rest = measured("rest", difference(treated.area, kept));
  const parts = near.areaHa < leastHa || rest.areaHa < leastHa ? [whole] : [near, rest];
  return { parts, hasNear: true };
}

function measured(part: OrderPart["part"], area: AreaXY): OrderPart {
  return { part, area, areaHa: haFromM2(areaM2(area)) };
}
