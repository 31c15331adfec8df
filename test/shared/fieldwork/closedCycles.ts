import fc from "fast-check";
import type { ClosedCycle } from "../../../shared/fieldwork/closedCycle.ts";

export function singleServers(aircraft: number, servicesS: readonly number[], flightS: number): ClosedCycle {
  return { aircraft, stations: servicesS.map((serviceS) => ({ serviceS, servers: 1 })), flightS };
}

const timeS = fc.double({ min: 0.1, max: 1000, noNaN: true });

/** Any cycle of one to three stations, from idle to hopelessly crowded. */
export function anyCycle(aircraftMost: number): fc.Arbitrary<ClosedCycle> {
  const station = fc.record({ serviceS: timeS, servers: fc.integer({ min: 1, max: 8 }) });
  return fc.record({
    aircraft: fc.integer({ min: 1, max: aircraftMost }),
    stations: fc.array(station, { minLength: 1, maxLength: 3 }),
    flightS: timeS,
  });
}
