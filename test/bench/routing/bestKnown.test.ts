import { describe, expect, it } from "vitest";
import { hasBenchmarks, nameNeedingBenchmarks } from "../../support/needs.ts";
import { fewestRoutes } from "./fewestRoutes.ts";
import type { RoutingInstance, RoutingTour } from "./instance.ts";
import { listOutsideInstances, type OutsideInstance, routingFamilies } from "./outsideInstances.ts";
import { readInstance } from "./readInstance.ts";
import { readSolution } from "./readSolution.ts";
import { verify } from "./verify.ts";

const listed = listOutsideInstances();
const ofFamilies = (...families: readonly RoutingInstance["family"][]) =>
  listed.filter(({ family }) => families.includes(family));

function load({ path, solutionPath }: OutsideInstance) {
  const instance = readInstance(path);
  return { instance, ...readSolution(solutionPath, instance) };
}

function withoutStop(tours: readonly RoutingTour[], gone: number): RoutingTour[] {
  return tours.map(({ vehicle, trips }) => ({
    vehicle,
    trips: trips.map((trip) => trip.filter((stop) => stop !== gone)),
  }));
}

/** The truth from outside: the best known solutions as published, see the README beside the instances. */
describe.runIf(hasBenchmarks)(nameNeedingBenchmarks("the best known routes of the outside instances"), () => {
  it("are there for every family", () => {
    expect(new Set(listed.map(({ family }) => family))).toEqual(new Set(routingFamilies));
  });

  it.each(listed)("$family/$name has the stated cost and no fault", (files) => {
    const { instance, tours, cost, costStep } = load(files);
    const judged = verify(instance, tours);
    expect(judged.faults).toEqual([]);
    // One step is one unit everywhere but for X125, whose stated cost is rounded to cents and 8 units less.
    expect(Math.round(judged.cost / costStep) * costStep).toBe(cost);
    expect(instance.family).toBe(files.family);
  });

  it.each(listed)("$family/$name, broken in every way, is found", (files) => {
    const { instance, tours } = load(files);
    const { stops, vehicles } = instance;
    const faultsOf = (changed: readonly RoutingTour[]) => verify(instance, changed).faults.join("\n");
    const [first, second] = tours as [RoutingTour, RoutingTour];
    const rest = tours.slice(2);

    const trips = tours.flatMap((tour) => tour.trips);
    expect(faultsOf([{ vehicle: 0, trips: [trips.flat()] }])).toMatch(/loads \d+, its vehicle holds/);
    expect(faultsOf(trips.flat().map((stop) => ({ vehicle: 0, trips: [[stop]] })))).toMatch(
      `there are ${vehicles[0]!.count} of it`,
    );

    const twice = second.trips[0]![0]!;
    const doubled = { ...first, trips: [[twice, ...first.trips[0]!], ...first.trips.slice(1)] };
    expect(faultsOf([doubled, ...tours.slice(1)])).toContain(`stop ${twice} is visited 2 times`);

    const [a, b] = [first.trips[0]![0]!, second.trips[0]![0]!];
    const exchanged = [first, second].map(({ vehicle, trips }) => ({
      vehicle,
      trips: trips.map((trip) => trip.map((stop) => (stop === a ? b : stop === b ? a : stop))),
    }));
    const swapped = verify(instance, [...exchanged, ...rest]);
    expect(swapped.faults.length > 0 || swapped.cost > verify(instance, tours).cost).toBe(true);

    const mandatory = stops.findIndex(({ prize }) => prize === undefined);
    if (mandatory >= 0) {
      expect(faultsOf(withoutStop(tours, mandatory))).toBe(`stop ${mandatory} must be visited and is not`);
    }
    if (stops.some(({ to }) => to < Infinity)) {
      const backwards = tours.map((tour) => ({ ...tour, trips: tour.trips.map((trip) => trip.toReversed()) }));
      expect(faultsOf(backwards)).toMatch(/begins stop \d+ at \d+, at the latest/);
    }
  });

  it.each(ofFamilies("prize"))("$name: a prize left behind costs as much, less the way to it", (files) => {
    const { instance, tours, cost } = load(files);
    const { distance, places, stops } = instance;
    const trip = tours[0]!.trips[0]!;
    const last = stops[trip.at(-1)!]!;
    const before = stops[trip.at(-2)!]!.place;
    const saved = distance[before * places + last.place]! + distance[last.place * places]! - distance[before * places]!;
    const shorter = verify(instance, withoutStop(tours, trip.at(-1)!));
    expect(shorter.cost - cost).toBe(last.prize! - saved);
  });

  it.each(ofFamilies("sites"))("$name: an outfit that may not do a stop is found", (files) => {
    const { instance, tours } = load(files);
    const exchanged = tours.map((tour) => ({ ...tour, vehicle: instance.vehicles.length - 1 - tour.vehicle }));
    expect(verify(instance, exchanged).faults.join("\n")).toMatch(/its vehicle may not serve stop \d+/);
  });

  it.each(ofFamilies("sites", "depots"))("$name: a shift a tenth shorter is too short", (files) => {
    const { instance, tours } = load(files);
    const vehicles = instance.vehicles.map((vehicle) => ({ ...vehicle, maxDuration: vehicle.maxDuration * 0.9 }));
    expect(verify({ ...instance, vehicles }, tours).faults.join("\n")).toMatch(/takes \d+, at most/);
  });

  it.each(ofFamilies("depots"))("$name: from another depot the same routes cost more", (files) => {
    const { instance, tours, cost } = load(files);
    const moved = tours.map((tour) => ({ ...tour, vehicle: (tour.vehicle + 1) % instance.vehicles.length }));
    expect(verify(instance, moved).cost).toBeGreaterThan(1.2 * cost);
  });

  it.each(ofFamilies("reload"))("$name: trips run into one are too much, goods a tenth later are too late", (files) => {
    const { instance, tours } = load(files);
    const atOnce = tours.map((tour) => ({ ...tour, trips: [tour.trips.flat()] }));
    expect(verify(instance, atOnce).faults.join("\n")).toMatch(/trip 0 loads/);
    const stops = instance.stops.map((stop) => ({ ...stop, release: stop.release * 1.1 }));
    expect(verify({ ...instance, stops }, tours).faults.join("\n")).toMatch(/at the latest/);
  });
});

describe.runIf(hasBenchmarks)(nameNeedingBenchmarks("Solomon's instances with real distances"), () => {
  /** What another folder does not hold is not asked for. */
  const held = new Map(ofFamilies("solomon").map((files) => [files.name, files]));
  /** For the others the routes of least truncated distance are more or other ones than the fewest. */
  const alsoFewest = ["RC103", "C101", "C103", "C105", "C107", "C109", "C201", "C203", "C205", "C207"].map(
    (name) => [name, fewestRoutes.get(name)!.routes, fewestRoutes.get(name)!.distance.toFixed(2)] as const,
  );
  it.each(alsoFewest.filter(([name]) => held.has(name)))("%s has %i routes of %s", (name, routes, realDistance) => {
    const files = held.get(name)!;
    const { tours } = load(files);
    const { cost, faults } = verify(readInstance(files.path, "vehicles"), tours);
    expect([faults, tours.length, cost.toFixed(2)]).toEqual([[], routes, realDistance]);
  });

  const fitOnlyCutOff = ["R105", "R107", "R211", "RC101", "RC105"];
  it.each(fitOnlyCutOff.filter((name) => held.has(name)))("%s: routes that fit with ways cut off are late", (name) => {
    const files = held.get(name)!;
    const { faults } = verify(readInstance(files.path, "vehicles"), load(files).tours);
    expect(faults.join("\n")).toMatch(/at the latest/);
  });
});
