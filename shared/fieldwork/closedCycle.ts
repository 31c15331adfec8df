/** A place that every aircraft passes on each sortie and may have to wait for: first come, first served. */
export interface Station {
  readonly serviceS: number;
  /** Aircraft served at once: loading points, people. */
  readonly servers: number;
}

/** Aircraft that go round without end: through the stations in order, then on a flight, which waits for nobody. */
export interface ClosedCycle {
  readonly aircraft: number;
  readonly stations: readonly Station[];
  readonly flightS: number;
}

export interface CycleLimit {
  /** Sorties a second that cannot be surpassed. */
  readonly perS: number;
  readonly limitedBy: "aircraft" | "station";
  /** The station that can serve fewest, by its place in the order. */
  readonly slowest: number;
  /** So many aircraft keep that station busy without a break, if times never vary. */
  readonly aircraftEnough: number;
}

/**
 * Asymptotic bounds of a closed system: sorties a second <= min(N / (sum of D + Z), least of c / D), with N aircraft, service
 * times D of stations with c servers, and the flight Z. Lazowska et al., Quantitative System Performance, 1984, chapter 5;
 * a station of c servers counts as one that is c times as fast.
 *
 * Times that never vary reach it, as long as the work goes on. Nobody overtakes then, the cycle is an event graph whose only
 * circuits are each station's (D / c) and the whole round ((sum of D + Z) / N), and the slowest circuit sets the pace
 * (Baccelli et al., Synchronization and Linearity, 1992, chapter 2).
 */
export function cycleLimit({ aircraft, stations, flightS }: ClosedCycle): CycleLimit {
  const roundS = stations.reduce((sum, { serviceS }) => sum + serviceS, flightS);
  const paces = stations.map(({ serviceS, servers }) => servers / serviceS);
  const stationPerS = Math.min(...paces);
  const aircraftPerS = aircraft / roundS;
  return {
    perS: Math.min(aircraftPerS, stationPerS),
    limitedBy: aircraftPerS <= stationPerS ? "aircraft" : "station",
    slowest: paces.indexOf(stationPerS),
    aircraftEnough: roundS * stationPerS,
  };
}

export interface MeanValues {
  /** Sorties a second. */
  readonly perS: number;
  readonly stations: readonly {
    /** Aircraft that wait there, those being served left out. */
    readonly waiting: number;
    /** Of a sortie, before it is served. */
    readonly waitS: number;
    /** Share of the time in which a server of the station has work. */
    readonly busyFrac: number;
  }[];
}

/**
 * Exact means when service times vary at random (exponentially), the flight in whatever way: the product form of a closed
 * network (Gordon & Newell 1967) by convolution (Buzen 1973, Communications of the ACM 16, 527). For single servers these
 * are the values of mean value analysis (Lazowska et al., chapter 6), for one station those of the machine-repair model
 * M/M/c//N. The recursion of mean value analysis is not used because with several servers to a station it is numerically
 * unstable (Casale & Serazzi 2005, Stabilization Techniques for Load-Dependent Queueing Networks Algorithms); here only
 * positive numbers are added.
 */
export function meanValuesOf({ aircraft, stations, flightS }: ClosedCycle): MeanValues {
  // Any unit of time gives the same answer; in this one neither the largest weight overflows nor the last sum vanishes.
  const unitS = Math.max(flightS / aircraft, ...stations.map(({ serviceS, servers }) => serviceS / servers));
  const inFlight = weights(aircraft, flightS / unitS, aircraft);
  const atStations = stations.map(({ serviceS, servers }) => weights(aircraft, serviceS / unitS, servers));
  const whole = atStations.reduce(convolved, inFlight);
  const perS = whole[aircraft - 1]! / whole[aircraft]! / unitS;
  return {
    perS,
    stations: stations.map(({ serviceS, servers }, index) => {
      const elsewhere = atStations.filter((_, other) => other !== index).reduce(convolved, inFlight);
      let waiting = 0;
      for (let here = servers + 1; here <= aircraft; here++) {
        const chance = (atStations[index]![here]! * elsewhere[aircraft - here]!) / whole[aircraft]!;
        waiting += (here - servers) * chance;
      }
      return { waiting, waitS: waiting / perS, busyFrac: (perS * serviceS) / servers };
    }),
  };
}

/** weights[n]: how likely n aircraft are at a station, up to a factor that the whole network has in common. */
function weights(aircraft: number, service: number, servers: number): Float64Array {
  const found = new Float64Array(aircraft + 1);
  found[0] = 1;
  for (let here = 1; here <= aircraft; here++) found[here] = (found[here - 1]! * service) / Math.min(here, servers);
  return found;
}

function convolved(a: Float64Array, b: Float64Array): Float64Array {
  return a.map((_, total) => {
    let sum = 0;
    for (let here = 0; here <= total; here++) sum += a[here]! * b[total - here]!;
    return sum;
  });
}
