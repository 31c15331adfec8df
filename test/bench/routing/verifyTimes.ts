import type { RoutingInstance, RoutingTour, RoutingVehicle } from "./instance.ts";

/** For the sums of real distances; whole numbers never come this near to each other. */
const rounding = 1e-6;

/** One thing that has to begin in a window: leaving, a service, filling up, being back. */
interface Event {
  readonly name: string;
  readonly place: number;
  readonly from: number;
  readonly to: number;
  readonly serviceTime: number;
}

export function timeFaults(instance: RoutingInstance, vehicle: RoutingVehicle, tour: RoutingTour): string[] {
  const faults: string[] = [];
  const events = eventsOf(instance, vehicle, tour);
  const leaves = events[0]!.from;
  let begins = leaves;
  let waited = 0;
  // How much later the vehicle could leave with every event so far still in its window: the forward time slack of
  // Savelsbergh 1992 (ORSA Journal on Computing 4). Waiting on the way takes up a later departure.
  let slack = events[0]!.to - leaves;
  events.forEach((event, index) => {
    if (index > 0) {
      const before = events[index - 1]!;
      const arrives = begins + before.serviceTime + instance.duration[before.place * instance.places + event.place]!;
      begins = Math.max(arrives, event.from);
      waited += begins - arrives;
      slack = Math.min(slack, waited + event.to - begins);
    }
    if (begins > event.to + rounding) faults.push(`${event.name} at ${begins}, at the latest ${event.to}`);
  });
  // A late tour takes no certain time.
  if (faults.length > 0) return faults;
  // Leaving later than the waiting takes up would only bring it back later.
  const duration = begins - leaves - Math.min(slack, waited);
  return duration > vehicle.maxDuration + rounding ? [`takes ${duration}, at most ${vehicle.maxDuration}`] : [];
}

/** The times between trips are the vehicle's own, from the latest release of what the next trip takes along. */
function eventsOf(instance: RoutingInstance, vehicle: RoutingVehicle, { trips }: RoutingTour): Event[] {
  const events = trips.flatMap((trip, index): Event[] => {
    const stops = trip.map((stop) => instance.stops[stop]!);
    const from = stops.reduce((latest, { release }) => Math.max(latest, release), vehicle.from);
    const leaving = {
      name: `leaves on trip ${index}`,
      place: vehicle.startPlace,
      from,
      to: vehicle.to,
      serviceTime: 0,
    };
    return [leaving, ...stops.map((stop, at) => ({ ...stop, name: `begins stop ${trip[at]}` }))];
  });
  return [...events, { name: "is back", place: vehicle.endPlace, from: vehicle.from, to: vehicle.to, serviceTime: 0 }];
}
