import type { AreaGeometry } from "../../../../../shared/model/field.ts";
import { type Bounds, boundsOf, positionsOf } from "../../../../../shared/plan/mapPlaces.ts";
import type { Sketch } from "./sketch.ts";

/** Another field, to find one's way by. */
export interface Around {
  readonly name: string;
  readonly geometry: AreaGeometry;
}

/** Where nothing is drawn and nothing known: the land of the earth. */
const everywhere: Bounds = [-170, -55, 170, 70];

/** What the map begins with: what is drawn, or else where the other fields are. */
export function boundsToDraw({ pads, rings }: Sketch, around: readonly Around[]): Bounds {
  const drawn = rings.flatMap(({ corners }) => corners);
  if (drawn.length > 0) return boundsOf([...drawn, ...pads.map(({ latDeg, lonDeg }) => [lonDeg, latDeg] as const)]);
  const others = around.flatMap(({ geometry }) => positionsOf(geometry));
  return others.length > 0 ? boundsOf(others) : everywhere;
}
