import { exchanged } from "../../../../services/solver/matrix.ts";
import type { Outfit, OutfitPool, Profile, RouteProblem, State } from "../../../../services/solver/routes.ts";
import { seededRandom } from "../../../support/seededRandom.ts";

/** What a random problem has to have; everything else is drawn. */
export interface Shape {
  /** At most so many windows of a block on a day. */
  readonly windowsADay: number;
  /** Wages, overtime and a longest duty. */
  readonly hours: boolean;
  /** Minutes between places: as on a plane, or any, so that the way round may be shorter. */
  readonly roads: "plane" | "any";
  /** As `plain.ts` has it: one day, one way of working, roads as long as they are far, time without cost; `hours` then only limits it. */
  readonly isPlain?: boolean;
}

/** A pool that counts, so that a booking that gets lost shows. */
export interface CountingPool extends OutfitPool {
  readonly booked: Int32Array;
}

const dayMin = 1000;
/** What it costs that two slots in a row are out with different profiles. */
const changeCents = 11;

/** A small problem without rules of its own: whole minutes, so that trying every minute to leave finds the least duty. */
export function randomRoutes(seed: number, shape: Shape): RouteProblem {
  const { isPlain = false } = shape;
  const random = seededRandom(seed);
  const between = (least: number, most: number) => least + Math.floor(random() * (most - least + 1));
  const chance = (share: number) => random() < share;

  const days = isPlain ? 1 : between(1, 2);
  const blockCount = between(8, 24);
  const bases = between(1, 2);
  const placeCount = bases + between(4, 10);
  const profileCount = between(1, 3);
  const travel = randomTravel(between, placeCount, shape.roads);
  const { travelMin } = travel;
  const travelKm = isPlain ? travelMin : travel.travelKm;

  const variantCount = 2 * blockCount;
  const windows = randomWindows(between, variantCount, days, shape.windowsADay, isPlain);
  const usualPlace = Int32Array.from({ length: blockCount }, () => between(bases, placeCount - 1));
  const drawnProfiles = Array.from({ length: profileCount }, (): Profile & { asked: Float64Array } => {
    const asked = Float64Array.from({ length: blockCount }, () => (chance(0.08) ? 0 : between(2, 15)));
    return {
      asked,
      minutes: asked.map((minutes) => (chance(0.3) ? -1 : minutes)),
      place: usualPlace.map((place) => (chance(0.2) ? between(0, placeCount - 1) : place)),
      variant: Int32Array.from({ length: blockCount }, (_, block) => 2 * block + (chance(0.3) ? 1 : 0)),
      setupMin: chance(0.5) ? between(1, 6) : 0,
      packupMin: chance(0.5) ? between(1, 6) : 0,
      centsPerKm: between(1, 5),
      centsPerWorkMin: between(0, 4),
      fixedCents: chance(0.5) ? between(0, 60) : 0,
      capacity: chance(0.5) ? between(12, 45) : 1e9,
    };
  });

  const profiles = isPlain ? drawnProfiles.map((profile) => alike(profile, drawnProfiles[0]!)) : drawnProfiles;

  // A class of slots that are just alike: one day, one shift, one base, one crew's terms.
  const kinds = Array.from({ length: between(1, 3) }, () => {
    const day = between(0, days - 1);
    const fromMin = day * dayMin + between(0, 30);
    const startPlace = between(0, bases - 1);
    return {
      day,
      fromMin,
      toMin: fromMin + between(100, 320),
      startPlace,
      endPlace: chance(0.8) ? startPlace : between(0, bases - 1),
      dutyMaxMin: shape.hours && chance(0.6) ? between(60, 250) : 1e9,
      wage: shape.hours && !isPlain ? between(0, 5) : 0,
      standardMin: between(20, 100),
      overtime: shape.hours && !isPlain ? between(0, 5) : 0,
      profile: between(0, profileCount - 1),
    };
  });
  const kindOf = kinds.flatMap((_, kind) => Array.from({ length: between(1, 2) }, () => kind));
  const slotCount = kindOf.length;
  const bySlot = (value: (kind: (typeof kinds)[number]) => number) => kindOf.map((kind) => value(kinds[kind]!));

  const could = new Uint8Array(blockCount * slotCount);
  for (let block = 0; block < blockCount; block++) {
    const most = kinds.map(({ profile }) => profiles[profile]!.asked[block]! > 0 && !chance(0.1));
    for (let slot = 0; slot < slotCount; slot++) could[block * slotCount + slot] = most[kindOf[slot]!] ? 1 : 0;
  }
  const blocks = Array.from({ length: blockCount }, (_, block) => block);
  const slots = kindOf.map((_, slot) => slot);
  const slotsOfBlock = blocks.map((block) => slots.filter((slot) => could[block * slotCount + slot] === 1));
  const areOptional = chance(0.5);
  const valueCents = Float64Array.from(blocks, () => (areOptional && chance(0.5) ? between(20, 400) : 5000));
  const anyOf = (least: number, most: number) => Float64Array.from(blocks, () => between(least, most));
  return {
    blockCount,
    slotCount,
    // Now and then too short for all stops of a slot.
    stride: chance(0.2) ? 6 : blockCount + 2,
    valueCents,
    areaHa: anyOf(1, 9),
    load: anyOf(0, 6),
    size: valueCents,
    farKm: anyOf(1, 50),
    openMin: anyOf(10, 100),
    firstMin: anyOf(0, 100),
    lastMin: anyOf(100, 2000),
    preferredDay: Int32Array.from(blocks, () => between(0, 1)),
    lateCentsPerDay: Float64Array.from(blocks, () => (isPlain ? 0 : between(0, 30))),
    open: blocks.filter((block) => slotsOfBlock[block]!.length > 0),
    slotsOfBlock,
    could,
    neighbours: blocks.map((block) => Int32Array.from(blocks.filter((other) => other !== block && chance(0.9)))),
    placeCount,
    travelMin,
    travelKm,
    comingMin: exchanged(travelMin, placeCount),
    comingKm: exchanged(travelKm, placeCount),
    crewOfSlot: Int32Array.from(slots),
    dayOfSlot: Int32Array.from(bySlot(({ day }) => day)),
    fromMin: Float64Array.from(bySlot(({ fromMin }) => fromMin)),
    toMin: Float64Array.from(bySlot(({ toMin }) => toMin)),
    startPlace: Int32Array.from(bySlot(({ startPlace }) => startPlace)),
    endPlace: Int32Array.from(bySlot(({ endPlace }) => endPlace)),
    nights: [],
    dutyMaxMin: Float64Array.from(bySlot(({ dutyMaxMin }) => dutyMaxMin)),
    restMin: new Float64Array(slotCount),
    weekMaxMin: new Float64Array(slotCount).fill(1e9),
    wageCentsPerMin: Float64Array.from(bySlot(({ wage }) => wage)),
    standardMin: Float64Array.from(bySlot(({ standardMin }) => standardMin)),
    overtimeCentsPerMin: Float64Array.from(bySlot(({ overtime }) => overtime)),
    hoursCount: shape.hours,
    twin: Int32Array.from(kindOf),
    twins: kinds.map((_, kind) => slots.filter((slot) => kindOf[slot] === kind)),
    days,
    ...windows,
    windowUntil: windows.windowTimes.map((_, at) => windows.windowTimes[at | 1]!),
    stretchMin: Number.POSITIVE_INFINITY,
    profiles,
    ask: (profile, block) => {
      profiles[profile]!.minutes[block] = profiles[profile]!.asked[block]!;
      return profiles[profile]!.asked[block]!;
    },
    createPool: (state) => countingPool(state, (slot) => ({ profile: kinds[kindOf[slot]!]!.profile }), profileCount),
    createRules: null,
  };
}

/** With the other's minutes, places and windows, and nothing to set up. */
function alike<P extends Profile & { asked: Float64Array }>(profile: P, { asked, place, variant }: P): P {
  const minutes = asked.map((one) => Math.max(1, one));
  return { ...profile, asked: minutes, minutes, place, variant, setupMin: 0, packupMin: 0 };
}

type Between = (least: number, most: number) => number;

function randomTravel(between: Between, count: number, roads: Shape["roads"]) {
  const at = Array.from({ length: count }, () => [between(0, 20), between(0, 20)] as const);
  const travelMin = new Float64Array(count * count);
  const travelKm = new Float64Array(count * count);
  for (let a = 0; a < count; a++) {
    for (let b = 0; b < count; b++) {
      if (a === b) continue;
      const straight = Math.hypot(at[a]![0] - at[b]![0], at[a]![1] - at[b]![1]);
      // Rounded up, the way round stays at least as long.
      travelMin[a * count + b] = roads === "any" ? between(1, 25) : Math.ceil(straight);
      travelKm[a * count + b] = roads === "any" ? between(1, 25) : straight;
    }
  }
  return { travelMin, travelKm };
}

function randomWindows(between: Between, variants: number, days: number, most: number, hasAll: boolean) {
  const times: number[] = [];
  const windowFirst = new Int32Array(variants * days);
  const windowLast = new Int32Array(variants * days);
  for (let at = 0; at < variants * days; at++) {
    windowFirst[at] = times.length;
    const count = between(0, 9) === 0 && !hasAll ? 0 : between(1, most);
    let min = (at % days) * dayMin + between(0, most > 1 ? 60 : 150);
    for (let w = 0; w < count; w++) {
      const open = min;
      min += between(10, most > 1 ? 70 : 250);
      times.push(open, min);
      min += between(1, 40);
    }
    windowLast[at] = times.length;
  }
  return { windowTimes: Float64Array.from(times), windowFirst, windowLast };
}

function countingPool(state: State, propose: (slot: number) => Outfit, profileCount: number): CountingPool {
  const booked = new Int32Array(profileCount);
  return {
    booked,
    propose,
    remake: (_, outfit) => outfit,
    transfer: (slot) => propose(slot),
    isSame: (one, other) => one === other,
    claims: () => [],
    book: (_, { profile }, used) => {
      booked[profile] = booked[profile]! + (used === 1 ? 1 : -1);
    },
    changeCents: () => changesOf(state) * changeCents,
  };
}

function changesOf({ routes, count, outfit }: State): number {
  let changes = 0;
  for (let slot = 1; slot < routes.slotCount; slot++) {
    if (count[slot] === 0 || count[slot - 1] === 0) continue;
    if (outfit[slot]!.profile !== outfit[slot - 1]!.profile) changes++;
  }
  return changes;
}
