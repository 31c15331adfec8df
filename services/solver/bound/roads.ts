import type { Problem } from "../problem.ts";

/** Of the road from one place to another, by all places: no way with a filling up in between is shorter. */
export interface Roads {
  readonly min: Int32Array;
  readonly km: Float64Array;
}

/** By roads of its own a detour over water may be shorter than the direct way; then that counts. */
export function leastRoads({ operation, places, travelMin, travelKm, waterPlaces, placeOfBase }: Problem): Roads {
  if (operation.roads.length === 0) return { min: travelMin, km: travelKm };
  const count = places.length;
  const min = travelMin.slice();
  const km = travelKm.slice();
  for (const over of [...waterPlaces, ...placeOfBase]) {
    for (let from = 0; from < count; from++) {
      for (let to = 0; to < count; to++) {
        const on = from * count + to;
        min[on] = Math.min(min[on]!, travelMin[from * count + over]! + travelMin[over * count + to]!);
        km[on] = Math.min(km[on]!, travelKm[from * count + over]! + travelKm[over * count + to]!);
      }
    }
  }
  return { min, km };
}
