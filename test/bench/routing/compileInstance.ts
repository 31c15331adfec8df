import { exchanged } from "../../../services/solver/matrix.ts";
import type { Matrix, Profile, RouteProblem, State } from "../../../services/solver/routes.ts";
import type { RoutingInstance, RoutingTour } from "./instance.ts";
import { createReloading, type Reloading } from "./reloading.ts";

/** Stands for no limit, and is still a number that can be added to. */
const never = 1e12;
const neighboursKept = 60;

/** The other blocks that are nearest, nearest first; of two at the same distance the lower comes first. */
function nearest(blockCount: number, block: number, way: (other: number) => number): Int32Array {
  const found = new Int32Array(Math.min(neighboursKept, blockCount - 1));
  const ways = new Float64Array(found.length);
  let count = 0;
  for (let other = 0; other < blockCount; other++) {
    const distance = way(other);
    if (other === block || (count === found.length && distance >= ways[count - 1]!)) continue;
    let at = count === found.length ? count - 1 : count++;
    for (; at > 0 && ways[at - 1]! > distance; at--) {
      found[at] = found[at - 1]!;
      ways[at] = ways[at - 1]!;
    }
    found[at] = other;
    ways[at] = distance;
  }
  return found;
}

/** A research instance as a problem for our own search: one day, a slot for every vehicle, a profile for every kind of vehicle. */
export function compileInstance(instance: RoutingInstance): RouteProblem {
  const { stops, vehicles, places, distance, duration } = instance;
  const blockCount = stops.length;
  const kindOf: number[] = vehicles.flatMap(({ count }, kind) =>
    new Array<number>(Math.min(count, blockCount)).fill(kind),
  );
  const slotCount = kindOf.length;
  const bySlot = (value: (vehicle: RoutingInstance["vehicles"][number]) => number) =>
    Float64Array.from(kindOf, (kind) => Math.min(never, value(vehicles[kind]!)));
  const wayOf = (from: number, to: number) => distance[from * places + to]!;
  const farthest = Math.max(...stops.map(({ place }) => wayOf(vehicles[0]!.startPlace, place)));
  const dearest = Math.max(...vehicles.map(({ unitCost, fixedCost }) => 4 * unitCost * farthest + fixedCost));

  const travelMin = compact(duration);
  const travelKm = distance.every((way, on) => way === duration[on]) ? travelMin : compact(distance);
  const windowTimes = new Float64Array(2 * blockCount);
  stops.forEach(({ from, to, serviceTime }, block) => {
    windowTimes[2 * block] = from;
    windowTimes[2 * block + 1] = Math.min(never, to + serviceTime);
  });
  const variant = Int32Array.from(stops, (_, block) => block);
  const place = Int32Array.from(stops, (stop) => stop.place);
  const profiles = vehicles.map(
    ({ unitCost, fixedCost, capacity }): Profile => ({
      // Minutes of nothing would mean that it cannot be done.
      minutes: Float64Array.from(stops, ({ serviceTime }) => (serviceTime === 0 ? 1e-9 : serviceTime)),
      place,
      variant,
      setupMin: 0,
      packupMin: 0,
      centsPerKm: unitCost,
      centsPerWorkMin: 0,
      fixedCents: fixedCost,
      capacity,
    }),
  );
  const could = new Uint8Array(blockCount * slotCount).fill(1);
  kindOf.forEach((kind, slot) => {
    const { allowed } = vehicles[kind]!;
    if (allowed !== null) for (let b = 0; b < blockCount; b++) could[b * slotCount + slot] = allowed[b]!;
  });
  const classes = vehicles.map((_, kind) => kindOf.flatMap((other, slot) => (other === kind ? [slot] : [])));
  const every = Array.from({ length: slotCount }, (_, slot) => slot);
  return {
    blockCount,
    slotCount,
    stride: strideOf(instance),
    valueCents: Float64Array.from(stops, ({ prize }) => prize ?? 2 * dearest),
    areaHa: new Float64Array(blockCount).fill(1),
    load: Float64Array.from(stops, ({ demand }) => demand),
    size: Float64Array.from(stops, ({ demand }) => demand),
    farKm: Float64Array.from(stops, (stop) => Math.min(...vehicles.map((v) => wayOf(v.startPlace, stop.place)))),
    openMin: Float64Array.from(stops, ({ from, to }) => to - from),
    firstMin: Float64Array.from(stops, ({ from }) => from),
    lastMin: Float64Array.from(stops, ({ to }) => Math.min(never, to)),
    preferredDay: new Int32Array(blockCount).fill(1),
    lateCentsPerDay: new Float64Array(blockCount),
    open: stops.map((_, block) => block),
    slotsOfBlock: stops.map(() => every),
    could,
    neighbours: stops.map(({ place: from }, block) =>
      nearest(blockCount, block, (other) => wayOf(from, stops[other]!.place)),
    ),
    placeCount: places,
    travelMin,
    travelKm,
    comingMin: exchanged(travelMin, places),
    comingKm: travelKm === travelMin ? exchanged(travelMin, places) : exchanged(travelKm, places),
    dayOfSlot: new Int32Array(slotCount),
    crewOfSlot: Int32Array.from(kindOf, (_, slot) => slot),
    fromMin: bySlot(({ from }) => from),
    toMin: bySlot(({ to }) => to),
    startPlace: Int32Array.from(kindOf, (kind) => vehicles[kind]!.startPlace),
    endPlace: Int32Array.from(kindOf, (kind) => vehicles[kind]!.endPlace),
    nights: [],
    dutyMaxMin: bySlot(({ maxDuration }) => maxDuration),
    restMin: new Float64Array(slotCount),
    weekMaxMin: new Float64Array(slotCount).fill(never),
    wageCentsPerMin: new Float64Array(slotCount),
    standardMin: new Float64Array(slotCount).fill(never),
    overtimeCentsPerMin: new Float64Array(slotCount),
    hoursCount: vehicles.some(({ maxDuration }) => maxDuration !== Number.POSITIVE_INFINITY),
    twin: Int32Array.from(kindOf),
    twins: classes,
    days: 1,
    windowTimes,
    windowUntil: windowTimes.map((_, at) => windowTimes[at | 1]!),
    stretchMin: Number.POSITIVE_INFINITY,
    windowFirst: Int32Array.from(stops, (_, block) => 2 * block),
    windowLast: Int32Array.from(stops, (_, block) => 2 * block + 2),
    profiles,
    ask: () => {
      throw new Error("every stop of an instance has its time");
    },
    createPool: () => ({
      propose: (slot) => ({ profile: kindOf[slot]! }),
      remake: (_, outfit) => outfit,
      transfer: (slot) => ({ profile: kindOf[slot]! }),
      isSame: (one, other) => one === other,
      claims: () => [],
      book: () => {},
      changeCents: () => 0,
    }),
    createRules: vehicles.some(({ reloads }) => reloads)
      ? (state) =>
          createReloading(
            state,
            Float64Array.from(stops, ({ release }) => release),
          )
      : null,
  };
}

/** Whole numbers need half the room. */
function compact(matrix: Float64Array): Matrix {
  return matrix.every((way) => Number.isInteger(way) && way < 2 ** 31) ? Int32Array.from(matrix) : matrix;
}

/** No vehicle can hold more stops than its capacity and the smallest loads allow, unless it loads again. */
function strideOf({ stops, vehicles }: RoutingInstance): number {
  if (vehicles.some(({ reloads }) => reloads)) return stops.length + 2;
  const capacity = Math.max(...vehicles.map((vehicle) => vehicle.capacity));
  let load = 0;
  let most = 0;
  for (const demand of stops.map((stop) => stop.demand).sort((a, b) => a - b)) {
    load += demand;
    if (load > capacity) break;
    most++;
  }
  return most + 2;
}

export function toursOf(state: State): RoutingTour[] {
  const { routes, count, sequence } = state;
  const tours: RoutingTour[] = [];
  for (let slot = 0; slot < routes.slotCount; slot++) {
    if (count[slot] === 0) continue;
    const held = slot * routes.stride;
    tours.push({
      vehicle: state.outfit[slot]!.profile,
      trips:
        state.rules === null
          ? [Array.from(sequence.subarray(held, held + count[slot]!))]
          : (state.rules as Reloading).trips(slot),
    });
  }
  return tours;
}
