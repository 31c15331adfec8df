import type { RoutingInstance, RoutingTour, RoutingVehicle } from "./instance.ts";
import { timeFaults } from "./verifyTimes.ts";

/**
 * Judges tours against an instance by the instance alone, sharing nothing with what made them: their cost anew, and
 * everything that they break in words. A tour that names a vehicle or stop that is not there adds nothing to the cost.
 */
export function verify(
  instance: RoutingInstance,
  tours: readonly RoutingTour[],
): { readonly cost: number; readonly faults: readonly string[] } {
  const faults: string[] = [];
  const visits = new Uint32Array(instance.stops.length);
  const used = new Uint32Array(instance.vehicles.length);
  let cost = 0;
  tours.forEach((tour, index) => {
    const named = `tour ${index}`;
    const vehicle = instance.vehicles[tour.vehicle];
    const unknown = tour.trips.flat().find((stop) => instance.stops[stop] === undefined);
    if (vehicle === undefined) {
      faults.push(`${named}: there is no vehicle ${tour.vehicle}`);
    } else if (unknown !== undefined) {
      faults.push(`${named}: there is no stop ${unknown}`);
    } else if (tour.trips.some((trip) => trip.length > 0)) {
      for (const stop of tour.trips.flat()) visits[stop]!++;
      used[tour.vehicle]!++;
      cost += vehicle.fixedCost + vehicle.unitCost * distanceOf(instance, vehicle, tour);
      const broken = [...loadFaults(instance, vehicle, tour), ...timeFaults(instance, vehicle, tour)];
      faults.push(...broken.map((fault) => `${named}: ${fault}`));
    }
  });
  instance.stops.forEach(({ prize }, stop) => {
    if (visits[stop]! > 1) faults.push(`stop ${stop} is visited ${visits[stop]} times`);
    if (visits[stop]! > 0) return;
    if (prize === undefined) faults.push(`stop ${stop} must be visited and is not`);
    else cost += prize;
  });
  instance.vehicles.forEach(({ count }, vehicle) => {
    if (used[vehicle]! > count) faults.push(`vehicle ${vehicle} has ${used[vehicle]} tours, there are ${count} of it`);
  });
  return { cost, faults };
}

function distanceOf(instance: RoutingInstance, vehicle: RoutingVehicle, { trips }: RoutingTour): number {
  let [place, distance] = [vehicle.startPlace, 0];
  const goTo = (next: number) => {
    distance += instance.distance[place * instance.places + next]!;
    place = next;
  };
  trips.forEach((trip, index) => {
    for (const stop of trip) goTo(instance.stops[stop]!.place);
    goTo(index + 1 < trips.length ? vehicle.startPlace : vehicle.endPlace);
  });
  return distance;
}

function loadFaults({ stops }: RoutingInstance, vehicle: RoutingVehicle, { trips }: RoutingTour): string[] {
  const faults: string[] = [];
  if (trips.length > 1 && !vehicle.reloads) faults.push(`${trips.length} trips, and its vehicle makes only one`);
  trips.forEach((trip, index) => {
    const load = trip.reduce((sum, stop) => sum + stops[stop]!.demand, 0);
    if (load > vehicle.capacity) faults.push(`trip ${index} loads ${load}, its vehicle holds ${vehicle.capacity}`);
  });
  for (const stop of trips.flat()) {
    if (vehicle.allowed !== null && vehicle.allowed[stop] !== 1) faults.push(`its vehicle may not serve stop ${stop}`);
  }
  return faults;
}
