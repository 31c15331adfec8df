import type { RoutingInstance, RoutingTour } from "./instance.ts";
import { type Line, numbersIn, readLines, refuse } from "./textFile.ts";

export interface RoutingSolution {
  /** as stated, in the instance's unit (of the objective `distance`) */
  readonly cost: number;
  /** the stated cost is a multiple of this: one, or more where the file states fewer digits */
  readonly costStep: number;
  readonly tours: readonly RoutingTour[];
}

/**
 * The best known routes in a .sol file. The n-th route is the n-th vehicle's of the instance's file and may be empty;
 * vehicles at the end may be left out. A number is a place as this project counts them, from 0 and depots first, so 0
 * in the middle of a route is a visit to the depot between two trips.
 */
export function readSolution(path: string, instance: RoutingInstance): RoutingSolution {
  const lines = readLines(path);
  const vehicleOfRoute = instance.vehicles.flatMap(({ count }, vehicle): number[] => Array(count).fill(vehicle));
  const tours: RoutingTour[] = [];
  let routes = 0;
  let cost: { readonly cost: number; readonly costStep: number } | undefined;
  for (const line of lines) {
    const [, route, visits] = /^Route #(\d+):(.*)$/.exec(line.text) ?? [];
    const [, stated] = /^Cost:?\s+(.+)$/.exec(line.text) ?? [];
    if (visits !== undefined) {
      if (Number(route) !== routes + 1) refuse(line, `route ${routes + 1} expected, ${route} found`);
      const vehicle = vehicleOfRoute[routes] ?? refuse(line, `there is no vehicle ${route}`);
      routes++;
      const trips = tripsIn(line, visits, instance);
      if (trips.length > 0) tours.push({ vehicle, trips });
    } else if (stated !== undefined) {
      cost = costIn(line, stated, instance.family);
    } else if (!line.text.startsWith("Optimal:")) {
      refuse(line, "a route or the cost expected");
    }
  }
  return cost === undefined ? refuse(lines.at(-1)!, "no cost up to the end") : { ...cost, tours };
}

function tripsIn(line: Line, visits: string, { places, stops }: RoutingInstance): number[][] {
  const depots = places - stops.length;
  const trips: number[][] = [[]];
  for (const place of numbersIn(line, visits)) {
    if (!Number.isInteger(place) || place < 0 || place >= places) refuse(line, `there is no place ${place}`);
    if (place < depots) trips.push([]);
    else trips.at(-1)!.push(place - depots);
  }
  return trips.filter((trip) => trip.length > 0);
}

/** Units per unit of the stated cost. With decimals, fleet states money: see `thousandths`. */
function costIn(line: Line, stated: string, family: RoutingInstance["family"]): { cost: number; costStep: number } {
  const [value, ...rest] = numbersIn(line, stated);
  if (value === undefined || rest.length > 0) refuse(line, "one cost expected");
  const decimals = stated.split(".")[1]?.length ?? 0;
  const inTenths = family === "solomon" || family === "homberger";
  const unitsPerStated = inTenths ? 10 : family === "fleet" && decimals > 0 ? 100_000 : 1;
  return { cost: Math.round(value * unitsPerStated), costStep: Math.max(1, unitsPerStated / 10 ** decimals) };
}
