import { toLineString } from "../../../shared/geo/convert.ts";
import type { Plane } from "../../../shared/geo/plane.ts";
import type { Done } from "./orderWork.ts";

/** The legs of an order as RFC 7946 features, in the order flown. */
export function passFeatures(plane: Plane, { jobs }: Done) {
  let number = 0;
  const features = jobs.flatMap(({ part, work }) =>
    work.swathPlan.legs.map(({ pass, from, to, lengthM }) => ({
      type: "Feature" as const,
      properties: {
        leg: ++number,
        part,
        // Laps are numbered from -1 downwards.
        kind: pass < 0 ? "lap" : "pass",
        number: pass < 0 ? -pass : pass + 1,
        lengthM: Number(lengthM.toFixed(2)),
      },
      geometry: toLineString(plane, [from, to]),
    })),
  );
  return { type: "FeatureCollection" as const, features };
}
