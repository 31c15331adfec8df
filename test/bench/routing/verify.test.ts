import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { RoutingInstance, RoutingStop, RoutingTour, RoutingVehicle } from "./instance.ts";
import { verify } from "./verify.ts";

/** Places on a line: the depot at 0, stops at 10, 20 and -10. Times are distances. */
const at = [0, 10, 20, -10];
const distance = Float64Array.from(at.flatMap((from) => at.map((to) => Math.abs(to - from))));
const stops: readonly RoutingStop[] = [
  { place: 1, demand: 4, serviceTime: 5, from: 20, to: 30, release: 0, prize: undefined },
  { place: 2, demand: 3, serviceTime: 5, from: 0, to: 40, release: 0, prize: undefined },
  { place: 3, demand: 2, serviceTime: 5, from: 0, to: 100, release: 15, prize: 50 },
];
const large: RoutingVehicle = {
  count: 1,
  startPlace: 0,
  endPlace: 0,
  capacity: 8,
  fixedCost: 100,
  unitCost: 2,
  from: 0,
  to: 100,
  maxDuration: 50,
  allowed: null,
  reloads: false,
};
const small: RoutingVehicle = {
  ...large,
  count: 2,
  capacity: 5,
  fixedCost: 30,
  unitCost: 3,
  maxDuration: Infinity,
  allowed: Uint8Array.of(1, 0, 1),
  reloads: true,
};
const instance: RoutingInstance = {
  name: "by hand",
  family: "fleet",
  places: 4,
  distance,
  duration: distance,
  stops,
  vehicles: [large, small],
};
const withStop = (stop: number, change: Partial<RoutingStop>): RoutingInstance => ({
  ...instance,
  stops: stops.map((old, index) => (index === stop ? { ...old, ...change } : old)),
});
const withLarge = (change: Partial<RoutingVehicle>): RoutingInstance => ({
  ...instance,
  vehicles: [{ ...large, ...change }, small],
});

const largeDoesBoth: RoutingTour = { vehicle: 0, trips: [[0, 1]] };

describe("the verifier of routing tours, by hand", () => {
  it("adds up fixed and running cost and the prize left behind", () => {
    // 100 + 2 x (10 + 10 + 20) + 50
    expect(verify(instance, [largeDoesBoth])).toEqual({ cost: 230, faults: [] });
    // the other one for 30 + 3 x (10 + 10), with the prize
    expect(verify(instance, [largeDoesBoth, { vehicle: 1, trips: [[2]] }])).toEqual({ cost: 270, faults: [] });
  });

  it("lets a vehicle that fills up make a second trip", () => {
    // Two trips of 20 for the small one: 30 + 3 x 40; the large one alone to 20 and back: 100 + 2 x 40.
    const tours = [
      { vehicle: 0, trips: [[1]] },
      { vehicle: 1, trips: [[0], [2]] },
    ];
    expect(verify(instance, tours)).toEqual({ cost: 330, faults: [] });
    // First trip: begins at 20, back at 35. Second: begins at 45.
    const tight = withStop(2, { to: 44 });
    expect(verify(tight, tours).faults).toEqual(["tour 1: begins stop 2 at 45, at the latest 44"]);
  });

  it("starts and ends where the vehicle does, and fills up where it starts", () => {
    // From -10: to 10 and back is 40, then to 20 and on to the end at 0 is 30 + 20.
    const away = withLarge({ startPlace: 3, endPlace: 0, reloads: true, maxDuration: Infinity });
    const late = withStop(1, { to: 100 }).stops;
    const { cost, faults } = verify({ ...away, stops: late }, [{ vehicle: 0, trips: [[0], [1]] }]);
    expect({ cost, faults }).toEqual({ cost: 100 + 2 * 90 + 50, faults: [] });
  });

  it("does not count a vehicle that stays at home", () => {
    expect(verify(instance, [largeDoesBoth, { vehicle: 0, trips: [] }, { vehicle: 0, trips: [[]] }]).cost).toBe(230);
  });

  const cases: readonly [string, RoutingInstance, readonly RoutingTour[], readonly string[]][] = [
    ["a mandatory stop left out", instance, [{ vehicle: 0, trips: [[0]] }], ["stop 1 must be visited and is not"]],
    [
      "a stop in two tours",
      instance,
      [largeDoesBoth, { vehicle: 1, trips: [[2]] }, { vehicle: 1, trips: [[2]] }],
      ["stop 2 is visited 2 times"],
    ],
    [
      "a stop twice in one tour",
      withLarge({ capacity: 11, maxDuration: Infinity }),
      [{ vehicle: 0, trips: [[0, 1, 1]] }],
      ["stop 1 is visited 2 times"],
    ],
    ["too much load", withLarge({ capacity: 6 }), [largeDoesBoth], ["tour 0: trip 0 loads 7, its vehicle holds 6"]],
    [
      "too many vehicles",
      withLarge({ count: 1 }),
      [
        { vehicle: 0, trips: [[0]] },
        { vehicle: 0, trips: [[1]] },
      ],
      ["vehicle 0 has 2 tours, there are 1 of it"],
    ],
    [
      "a stop that the vehicle may not serve",
      instance,
      [
        { vehicle: 0, trips: [[0]] },
        { vehicle: 1, trips: [[1]] },
      ],
      ["tour 1: its vehicle may not serve stop 1"],
    ],
    [
      "two trips where there is one",
      withLarge({ maxDuration: Infinity }),
      [
        { vehicle: 0, trips: [[1], [2]] },
        { vehicle: 1, trips: [[0]] },
      ],
      ["tour 0: 2 trips, and its vehicle makes only one"],
    ],
    // Leaving at 0 it waits 10 at stop 0; then 20, 25, 35.
    ["too late at a stop", withStop(1, { to: 34 }), [largeDoesBoth], ["tour 0: begins stop 1 at 35, at the latest 34"]],
    ["too late back", withLarge({ to: 59 }), [largeDoesBoth], ["tour 0: is back at 60, at the latest 59"]],
    // Back at 60, and it need not leave before 10.
    ["out too long", withLarge({ maxDuration: 49 }), [largeDoesBoth], ["tour 0: takes 50, at most 49"]],
    // Its goods are there from 15 on, ten away.
    [
      "a release",
      withStop(2, { to: 24 }),
      [largeDoesBoth, { vehicle: 1, trips: [[2]] }],
      ["tour 1: begins stop 2 at 25, at the latest 24"],
    ],
    [
      "a vehicle that is not there",
      instance,
      [largeDoesBoth, { vehicle: 2, trips: [[2]] }],
      ["tour 1: there is no vehicle 2"],
    ],
    [
      "a stop that is not there",
      instance,
      [largeDoesBoth, { vehicle: 1, trips: [[3]] }],
      ["tour 1: there is no stop 3"],
    ],
  ];
  it.each(cases)("finds %s", (_, broken, tours, faults) => {
    expect(verify(broken, tours).faults).toEqual(faults);
  });
});

describe("the least time that a tour takes", () => {
  const time = fc.nat({ max: 30 });
  const arbitraryStop = fc.record({
    demand: fc.constant(1),
    serviceTime: fc.nat({ max: 5 }),
    from: time,
    wide: time,
    release: time,
  });
  const arbitrary = fc.record({
    trips: fc.array(fc.array(arbitraryStop, { minLength: 1, maxLength: 3 }), { minLength: 1, maxLength: 3 }),
    far: fc.array(fc.nat({ max: 9 }), { minLength: 100, maxLength: 100 }),
    from: fc.nat({ max: 10 }),
  });

  /** Every whole time to leave at, tried: the stops' windows are whole numbers, so one of them is the best. */
  function leastByTrying({ places, duration, stops, vehicles }: RoutingInstance, { trips }: RoutingTour): number {
    const { from, to } = vehicles[0]!;
    let least = Infinity;
    for (let leaves = from; leaves <= to; leaves++) {
      let [clock, fits] = [leaves, true];
      for (const trip of trips) {
        const released = Math.max(...trip.map((stop) => stops[stop]!.release));
        if (trip === trips[0] && released > clock) fits = false;
        clock = Math.max(clock, released);
        let place = 0;
        for (const stop of trip) {
          const { from: opens, to: closes, serviceTime, place: next } = stops[stop]!;
          clock = Math.max(opens, clock + duration[place * places + next]!);
          if (clock > closes) fits = false;
          clock += serviceTime;
          place = next;
        }
        clock += duration[place * places]!;
        if (clock > to) fits = false;
      }
      if (fits) least = Math.min(least, clock - leaves);
    }
    return least;
  }

  it("is what trying every time to leave finds", () => {
    let possible = 0;
    fc.assert(
      fc.property(arbitrary, ({ trips, far, from }) => {
        const flat = trips.flat();
        const places = flat.length + 1;
        const drawn: RoutingInstance = {
          name: "drawn",
          family: "reload",
          places,
          distance: new Float64Array(places * places),
          duration: Float64Array.from(far.slice(0, places * places)),
          stops: flat.map(({ wide, ...stop }, index) => {
            return { ...stop, place: index + 1, to: stop.from + 3 * wide, prize: undefined };
          }),
          vehicles: [{ ...large, capacity: 9, from, to: 90, maxDuration: Infinity, reloads: true }],
        };
        let next = 0;
        const tour = { vehicle: 0, trips: trips.map((trip) => trip.map(() => next++)) };
        const least = leastByTrying(drawn, tour);
        const within = (maxDuration: number) =>
          verify({ ...drawn, vehicles: [{ ...drawn.vehicles[0]!, maxDuration }] }, [tour]).faults;
        if (least === Infinity) {
          expect(within(Infinity)).not.toEqual([]);
        } else {
          possible++;
          expect(within(least)).toEqual([]);
          expect(within(least - 1)).toEqual([`tour 0: takes ${least}, at most ${least - 1}`]);
        }
      }),
      { numRuns: 2000, seed: 1 },
    );
    expect(possible).toBeGreaterThan(300);
  });
});
