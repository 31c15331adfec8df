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

/** Places by which buffers hold that spare a part; each is near enough to the field. */
export function orderParts(
  treated: TreatedArea,
  places: readonly Place[],
  sparing: readonly ProductBuffer[],
): OrderPart[] {
  if (treated.areaHa === 0) return [];
  const whole: OrderPart = { part: "whole", area: treated.area, areaHa: treated.areaHa };
  const around = places.flatMap((place) => groundAround(place, sparing)?.area ?? []);
  if (around.length === 0) return [whole];
  const kept = union([around]);
  const near = measured("near", intersection(treated.area, kept));
  const rest = measured("rest", difference(treated.area, kept));
  return near.areaHa < leastHa || rest.areaHa < leastHa ? [whole] : [near, rest];
}

function measured(part: OrderPart["part"], area: AreaXY): OrderPart {
  return { part, area, areaHa: haFromM2(areaM2(area)) };
}
