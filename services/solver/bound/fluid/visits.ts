import type { Problem } from "../../problem.ts";
import { leastRoads } from "../roads.ts";

/** Half of the road to a field's pads from the nearest pad of another field or base, and half of that away from them, by field: what is driven at least for a visit. */
export interface Visits {
  readonly min: Float64Array;
  readonly km: Float64Array;
  /** Places of a field's pads. */
  readonly padsOf: (field: number) => readonly number[];
}

export function leastVisits(problem: Problem): Visits {
  const { places, open, blocks, placeOfBase } = problem;
  const roads = leastRoads(problem);
  const fields = [...new Set(open.map((block) => blocks[block]!.field))];
  const padsOf = padPlaces(problem);
  const fieldOfPlace = new Int32Array(places.length).fill(-1);
  for (const field of fields) for (const pad of padsOf(field)) fieldOfPlace[pad] = field;
  const others = [...placeOfBase, ...fields.flatMap(padsOf)];
  const count = problem.blocksOfField.length;
  const visits = { min: new Float64Array(count), km: new Float64Array(count), padsOf };
  for (const field of fields) {
    for (const [list, road] of [
      [visits.min, roads.min],
      [visits.km, roads.km],
    ] as const) {
      let coming = Number.POSITIVE_INFINITY;
      let going = Number.POSITIVE_INFINITY;
      for (const pad of padsOf(field)) {
        for (const other of others) {
          if (fieldOfPlace[other] === field) continue;
          coming = Math.min(coming, road[other * places.length + pad]!);
          going = Math.min(going, road[pad * places.length + other]!);
        }
      }
      list[field] = (coming + going) / 2;
    }
  }
  return visits;
}

function padPlaces({ operation, places }: Problem): (field: number) => readonly number[] {
  const placeOf = new Map(places.map((name, place) => [name, place]));
  const pads = operation.fields.features.map(({ properties: { id, pads } }) =>
    pads.map((pad) => placeOf.get(`${id}/${pad.id}`)!),
  );
  return (field) => pads[field]!;
}
