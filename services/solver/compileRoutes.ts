import { createDayRules } from "./dayRules.ts";
import { kindsOf, quickestKind } from "./kinds.ts";
import { createKitPool } from "./kits.ts";
import { exchanged } from "./matrix.ts";
import type { Kind, Kit, Problem } from "./problem.ts";
import { droppedCents } from "./published.ts";
import type { Night, Profile, RouteProblem } from "./routes.ts";

/** Most stops in one crew-day: our choice, so that the arrays have one stride; a day of ten minutes each would not hold more. */
const maxStops = 48;

type Compiled = Omit<Problem, "routes" | "profileOf" | "kindOf">;

/** A profile of several kinds of aircraft: which one works each block in a slot's shift. */
interface Mixture {
  readonly kinds: readonly Kind[];
  readonly slot: number;
  readonly kindAt: Uint8Array;
  readonly centsPerWorkMin: Float64Array;
}

/** The problem as the search sees it. */
export function compileRoutes(compiled: Compiled): Problem {
  const { blocks, slots, crews, orders, operation, calendar, types } = compiled;
  const { costs, planning } = operation.settings;
  const days = calendar.dates.length;
  const profiles: Profile[] = [];
  const kits: { readonly crew: number; readonly kit: Omit<Kit, "profile">; readonly mixture: Mixture | null }[] = [];
  const profileIndex = new Map<string, number>();
  const variants = blocks.map(({ ground }) => ground * types.length);
  const variantsOf = new Map<number, Int32Array>();
  /** Shared by all profiles of a type. */
  const variantOf = (type: number, night: number) => {
    const known = variantsOf.get(2 * type + night);
    if (known !== undefined) return known;
    const made = Int32Array.from(variants, (first) => (first + type) * 2 + night);
    variantsOf.set(2 * type + night, made);
    return made;
  };
  const nightOf = (crew: number, { option }: Kind) =>
    types[option.type]!.nightCapable && crews[crew]!.nightWork ? 1 : 0;
  const centsPerMinOf = ({ option }: Kind) => (option.count * types[option.type]!.runningCentsPerHour) / 60;
  const keyOf = (crew: number, kind: Kind): string => {
    const licences = compiled.qualified[crew]!.subarray(
      kind.optionIndex * compiled.licences,
      (kind.optionIndex + 1) * compiled.licences,
    );
    const { alike, tender } = compiled.signatures.at(kind.signature);
    return [alike, tender.waterL, nightOf(crew, kind), licences.join("")].join(" ");
  };
  const profileOf = (crew: number, kit: Omit<Kit, "profile">, slot = -1): number => {
    const kinds = kindsOf(kit);
    const isMixed = kinds.length > 1;
    const keys = kinds.map((kind) => keyOf(crew, kind));
    // Which kind works a block hangs on the windows in the shift.
    if (isMixed) keys.push(`${slots[slot]!.shiftFromMin} ${slots[slot]!.shiftToMin}`);
    const key = keys.join(" + ");
    const known = profileIndex.get(key);
    if (known !== undefined) return known;
    const index = profiles.length;
    profileIndex.set(key, index);
    const mixture = isMixed
      ? { kinds, slot, kindAt: new Uint8Array(blocks.length), centsPerWorkMin: new Float64Array(blocks.length) }
      : null;
    kits.push({ crew, kit, mixture });
    const mostOf = (minutesOf: (type: (typeof types)[number]) => number) =>
      Math.max(...kinds.map(({ option }) => Math.ceil(minutesOf(types[option.type]!))));
    profiles.push({
      minutes: new Float64Array(blocks.length).fill(-1),
      place: new Int32Array(blocks.length),
      variant: isMixed ? new Int32Array(blocks.length) : variantOf(kit.option.type, nightOf(crew, kit)),
      setupMin: mostOf(({ setupMin }) => setupMin),
      packupMin: mostOf(({ packupMin }) => packupMin),
      centsPerKm: costs.driveCentsPerKm,
      centsPerWorkMin: centsPerMinOf(kit),
      ...(mixture === null ? {} : { ownCentsPerWorkMin: mixture.centsPerWorkMin }),
      fixedCents: 0,
      capacity: compiled.signatures.at(kit.signature).tender.waterL,
    });
    return index;
  };
  const minutesOf = (crew: number, kind: Kind, variant: number, capacity: number, block: number): number => {
    const { order, waterL } = blocks[block]!;
    const may = compiled.qualified[crew]![kind.optionIndex * compiled.licences + orders[order]!.licence] === 1;
    return may && waterL <= capacity && compiled.windows[variant] != null
      ? compiled.work.minutes(block, kind.signature)
      : 0;
  };
  const ask = (profile: number, block: number): number => {
    const { crew, kit, mixture } = kits[profile]!;
    const own = profiles[profile]!;
    let kind: Kind = kit;
    if (mixture === null) {
      own.minutes[block] = minutesOf(crew, kit, own.variant[block]!, own.capacity, block);
    } else {
      const variant = (one: Kind) => variants[block]! * 2 + one.option.type * 2 + nightOf(crew, one);
      const all = mixture.kinds.map((one) => minutesOf(crew, one, variant(one), own.capacity, block));
      const at = Math.max(0, quickestKind(compiled, mixture.kinds, all, blocks[block]!.ground, mixture.slot));
      kind = mixture.kinds[at]!;
      own.minutes[block] = all[at]!;
      own.variant[block] = variant(kind);
      mixture.kindAt[block] = at;
      mixture.centsPerWorkMin[block] = centsPerMinOf(kind);
    }
    const minutes = own.minutes[block]!;
    if (minutes > 0) own.place[block] = compiled.work.place(block, kind.signature);
    return minutes;
  };
  const kindOf = (profile: number, block: number): number => {
    if (profiles[profile]!.minutes[block]! < 0) ask(profile, block);
    return kits[profile]!.mixture?.kindAt[block] ?? 0;
  };

  const bySlot = (value: (slot: number) => number) => Float64Array.from(slots, (_, slot) => value(slot));
  const byBlock = (value: (block: number) => number) => Float64Array.from(blocks, (_, block) => value(block));
  const crewOf = (slot: number) => crews[slots[slot]!.crew]!;
  const base = Int32Array.from(slots, ({ crew }) => compiled.placeOfBase[compiled.baseOfCrew[crew]!]!);
  const could = new Uint8Array(blocks.length * slots.length);
  compiled.slotsOfBlock.forEach((list, block) => {
    for (const slot of list) could[block * slots.length + slot] = 1;
  });
  const placeOf = new Map(compiled.places.map((name, place) => [name, place]));
  const bounds = blocks.map(({ ground }) => firstAndLast(compiled, ground));
  const routes: RouteProblem = {
    blockCount: blocks.length,
    slotCount: slots.length,
    stride: maxStops + 1,
    valueCents: byBlock((block) => blocks[block]!.valueCents + leftOutCents(compiled, block)),
    published: compiled.published,
    ...(operation.locks.length > 0 && { lockedCents: new Float64Array(blocks.length) }),
    areaHa: byBlock((block) => blocks[block]!.areaHa),
    load: byBlock((block) => blocks[block]!.waterL),
    size: byBlock((block) => blocks[block]!.valueCents),
    farKm: byBlock((block) => farKm(compiled, placeOf, block)),
    openMin: compiled.openMin,
    firstMin: byBlock((block) => bounds[block]![0]),
    lastMin: byBlock((block) => bounds[block]![1]),
    preferredDay: Int32Array.from(blocks, ({ order }) => orders[order]!.preferredDay),
    lateCentsPerDay: byBlock((block) => planning.lateCentsPerHaDay * blocks[block]!.areaHa),
    open: compiled.open,
    slotsOfBlock: compiled.slotsOfBlock,
    could,
    neighbours: compiled.neighbours,
    placeCount: compiled.places.length,
    travelMin: compiled.travelMin,
    travelKm: compiled.travelKm,
    comingMin: exchanged(compiled.travelMin, compiled.places.length),
    comingKm: exchanged(compiled.travelKm, compiled.places.length),
    dayOfSlot: Int32Array.from(slots, ({ day }) => day),
    crewOfSlot: Int32Array.from(slots, ({ crew }) => crew),
    fromMin: bySlot((slot) => slots[slot]!.shiftFromMin),
    toMin: bySlot((slot) => slots[slot]!.shiftToMin),
    startPlace: base,
    endPlace: base,
    nights: listNights(compiled),
    dutyMaxMin: bySlot((slot) => crewOf(slot).dutyMaxHoursPerDay * 60),
    restMin: bySlot((slot) => crewOf(slot).restMinHours * 60),
    weekMaxMin: bySlot((slot) => crewOf(slot).dutyMaxHoursPerWeek * 60),
    wageCentsPerMin: bySlot((slot) => crewOf(slot).costCentsPerHour / 60),
    standardMin: bySlot((slot) => crewOf(slot).standardHoursPerDay * 60),
    overtimeCentsPerMin: bySlot((slot) => (crewOf(slot).costCentsPerHour * (costs.overtimeFactor - 1)) / 60),
    hoursCount: true,
    twin: Int32Array.from(slots, (_, slot) => slot),
    twins: slots.map((_, slot) => [slot]),
    days,
    ...flattenWindows(compiled),
    profiles,
    ask,
    createPool: (state) => createKitPool(problem, state),
    createRules: (state) => createDayRules(problem, state),
  };
  const problem: Problem = { ...compiled, routes, profileOf, kindOf };
  return problem;
}

/** What leaving a block out costs beside its value. */
function leftOutCents({ published }: Compiled, block: number): number {
  return published === null ? 0 : droppedCents(published, block);
}

/** Things of a shift that ends after midnight are out all of the next day, so that the crew could not go on with them. */
function listNights({ crews, slots, slotsOfCrew, operation, placeOfBase }: Compiled): Night[] {
  const { bases } = operation.settings;
  return crews.flatMap(({ overnightBaseIds = [] }, crew) => {
    const places = overnightBaseIds.map((baseId) => placeOfBase[bases.findIndex(({ id }) => id === baseId)]!);
    if (places.length === 0) return [];
    return slotsOfCrew[crew]!.flatMap((evening, at, ofCrew): Night[] => {
      const morning = ofCrew[at + 1];
      if (morning === undefined || slots[evening]!.days.length > 1) return [];
      return slots[morning]!.day === slots[evening]!.day + 1 ? [{ evening, morning, places }] : [];
    });
  });
}

/** Windows that a shift which begins on a day could reach. */
function flattenWindows({ windows, firstWindow, calendar, operation }: Compiled) {
  const { pauseMaxMin, stretchMinMin } = operation.settings.planning;
  const days = calendar.dates.length;
  const offsets: number[] = [];
  let size = 0;
  for (const list of windows) {
    offsets.push(size);
    size += list?.length ?? 0;
  }
  const windowTimes = new Float64Array(size);
  const windowUntil = new Float64Array(size);
  const windowFirst = new Int32Array(windows.length * days);
  const windowLast = new Int32Array(windows.length * days);
  windows.forEach((list, variant) => {
    if (list === null) return;
    windowTimes.set(list, offsets[variant]!);
    for (let w = list.length - 2; w >= 0; w -= 2) {
      const goesOn = w + 2 < list.length && list[w + 2]! - list[w + 1]! <= pauseMaxMin;
      windowUntil[offsets[variant]! + w] = goesOn ? windowUntil[offsets[variant]! + w + 2]! : list[w + 1]!;
    }
    for (let day = 0; day < days; day++) {
      const at = variant * days + day;
      let last = firstWindow[at]!;
      const untilMin = calendar.dayStartMin[Math.min(days, day + 2)]!;
      while (last < list.length && (day + 2 > days || list[last]! < untilMin)) last += 2;
      windowFirst[at] = offsets[variant]! + firstWindow[at]!;
      windowLast[at] = offsets[variant]! + last;
    }
  });
  const stretchMin = pauseMaxMin === 0 ? Number.POSITIVE_INFINITY : stretchMinMin;
  return { windowTimes, windowUntil, stretchMin, windowFirst, windowLast };
}

function firstAndLast({ windows, types }: Compiled, ground: number): [number, number] {
  let first = Number.POSITIVE_INFINITY;
  let last = 0;
  for (let type = 0; type < types.length; type++) {
    const list = windows[(ground * types.length + type) * 2] ?? null;
    if (list === null || list.length === 0) continue;
    first = Math.min(first, list[0]!);
    last = Math.max(last, list[list.length - 1]!);
  }
  return [first, last];
}

/** From the nearest base to the block's first pad. */
function farKm(
  { placeOfBase, blocks, operation, places, travelKm }: Compiled,
  placeOf: ReadonlyMap<string, number>,
  block: number,
): number {
  const { id, pads } = operation.fields.features[blocks[block]!.field]!.properties;
  const pad = placeOf.get(`${id}/${pads[0]!.id}`)!;
  return Math.min(...placeOfBase.map((base) => travelKm[base * places.length + pad]!));
}
