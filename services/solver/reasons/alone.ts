import type { Agronomy } from "../../../shared/agronomy/agronomy.ts";
import type { Judgement } from "../../../shared/agronomy/limits.ts";
import type { ObstacleName } from "../../../shared/plan/plan.ts";
import { obstacleNames } from "../../../shared/plan/plan.ts";
import { slowestTimes } from "../compileBlocks.ts";
import { type Timing, timeFrom } from "../dayTimes.ts";
import { anySlot, windowsFrom } from "../locks.ts";
import type { Problem } from "../problem.ts";
import { createAloneTimes } from "./aloneTimes.ts";
import { createAloneWork, type Eased, nothingEased } from "./aloneWork.ts";
import type { Fits } from "./blockingSets.ts";
import { crewKindsOf, type Outing, outingsOf } from "./outings.ts";
import { pieceOf } from "./piece.ts";
import { shortOf } from "./shortOutfits.ts";

/** One thing that could give way; `type` is -1 where it is about none. */
export interface Atom {
  readonly limit: ObstacleName;
  readonly type: number;
  /** Of what holds at every minute. */
  readonly judgement?: Pick<Judgement, "actual" | "allowed" | "unit" | "sentence">;
}

/** A block alone in an empty week, and what could keep it out there. */
export interface Alone {
  readonly atoms: readonly Atom[];
  readonly fits: Fits;
  /** Types that could come to the field, whatever stands against them. */
  readonly types: readonly number[];
  /** From leaving the base to being back, without a wait, with the quickest outfit that may do it; undefined where none may. */
  leastDutyMin(): number | undefined;
}

const minutesPerHour = 60;
const minutesPerDay = 24 * minutesPerHour;

/** `never` is what keeps each type from the block whatever the weather. */
export function createAlone(
  problem: Problem,
  agronomy: Agronomy,
  block: number,
  never: readonly (readonly Atom[])[],
): Alone {
  const { operation, calendar, crews, baseOfCrew, equipment, locks, slots } = problem;
  const { fleet } = operation;
  const { ground, order: orderIndex } = problem.blocks[block]!;
  const { licence } = problem.orders[orderIndex]!;
  const classes = problem.licenceSets[licence]!;
  const atBase = (base: number, type: number) =>
    fleet.aircraft.filter((_, at) => equipment.aircraftType[at] === type && equipment.aircraftBase[at] === base);
  const isOwned = problem.types.map((_, type) => equipment.aircraftType.includes(type));
  // Types that the operation has none of count only where none that it has could do the work.
  const isAble = (type: number) => never[type]!.length === 0;
  const hasAble = problem.types.some((_, type) => isOwned[type] && isAble(type));
  const types = problem.types.map((_, type) => type).filter((type) => isOwned[type] || (!hasAble && isAble(type)));
  const times = createAloneTimes(problem, agronomy, ground, types);
  const piece = pieceOf(problem, block);
  const work = createAloneWork(problem, block, piece.waterL);

  const atoms: Atom[] = types.flatMap((type) => [
    ...never[type]!,
    ...(isOwned[type] ? shortOf(problem, type) : (["aircraft"] as const)).map((limit) => ({ limit, type })),
  ]);
  const isDry = fleet.tenders.some(({ waterL }) => waterL < piece.waterL);
  const common = [...times.limits, "licence", ...(isDry ? ["water" as const] : []), "shift", "duty"] as const;
  atoms.push(...common.map((limit) => ({ limit, type: -1 })));
  if (locks.slotOf[block] !== anySlot || locks.slots.some(({ lock }) => lock.nothingElse))
    atoms.push({ limit: "locked", type: -1 });
  const rank = ({ limit }: Atom) => obstacleNames.indexOf(limit);
  atoms.sort((a, b) => rank(a) - rank(b) || a.type - b.type);
  const indexOf = new Map(atoms.map(({ limit, type }, at) => [`${limit} ${type}`, at]));

  const crewKinds = crewKindsOf(problem);
  const outings = new Map(crewKinds.map((crew) => [crew, outingsOf(problem, crew)]));
  // What the slowest outfit depends on.
  const outfitAtoms = atoms.flatMap(({ limit, type }, at) =>
    type >= 0 || limit === "licence" || limit === "water" ? [at] : [],
  );
  const slowestBy = new Map<string, number>();
  const timing: Timing = { startMin: 0, endMin: 0, pauses: [] };

  const fits: Fits = (isGone) => {
    const gone = (limit: ObstacleName, type = -1) => {
      const at = indexOf.get(`${limit} ${type}`);
      return at !== undefined && isGone[at]!;
    };
    const slowestMin = piece.isUncut ? slowestOf(gone, outfitAtoms.map((at) => Number(isGone[at])).join("")) : 0;
    return crewKinds.some((crew) => types.some((type) => fitsWith(crew, type, gone, slowestMin)));
  };
  const leastDutyMin = () => {
    const duties = crewKinds.flatMap((crew) => types.flatMap((type) => dutiesOf(crew, type)));
    return duties.length === 0 ? undefined : Math.min(...duties);
  };
  return { atoms, fits, types, leastDutyMin };

  /** The most aircraft of the type that the crew may take there; none where something stands against it. */
  function mostOf(crew: number, type: number, gone: Gone): number {
    if (never[type]!.some(({ limit }) => !gone(limit, type))) return 0;
    const isBought = gone("aircraft", type);
    const owned = isBought ? 1 : atBase(baseOfCrew[crew]!, type).length;
    return Math.min(crews[crew]!.maxAircraft, owned, flown(crew, type, gone, isBought));
  }

  function easedBy(type: number, gone: Gone): Eased {
    const isBought = gone("aircraft", type);
    return {
      rate: gone("rate", type),
      range: gone("range", type),
      method: gone("method", type),
      water: gone("water"),
      tender: isBought || gone("tender", type),
      sets: isBought || gone("sets", type),
      chargers: isBought || gone("chargers", type),
    };
  }

  /** Minutes of the slowest outfit for which the order would be cut. */
  function slowestOf(gone: Gone, key: string): number {
    const known = slowestBy.get(key);
    if (known !== undefined) return known;
    const all = crewKinds.flatMap((crew) =>
      types.flatMap((type) => {
        const most = mostOf(crew, type, gone);
        return most === 0 ? [] : work.ways(baseOfCrew[crew]!, type, most, easedBy(type, gone));
      }),
    );
    const quickestMin = all.reduce((least, { minutes }) => Math.min(least, minutes), Number.POSITIVE_INFINITY);
    const slowestMin = all.reduce(
      (most, { minutes }) => (minutes <= slowestTimes * quickestMin ? Math.max(most, minutes) : most),
      0,
    );
    slowestBy.set(key, slowestMin);
    return slowestMin;
  }

  function fitsWith(crew: number, type: number, gone: Gone, slowestMin: number): boolean {
    const most = mostOf(crew, type, gone);
    if (most === 0) return false;
    const isBought = gone("aircraft", type);
    const own = atBase(baseOfCrew[crew]!, type);
    const eased = easedBy(type, gone);
    const isNight = problem.types[type]!.nightCapable && crews[crew]!.nightWork;
    const all = times.windows(type, isNight, (limit) => gone(limit));
    if (all.length === 0) return false;
    const startMin = gone("locked") ? -1 : locks.startMin[block]!;
    const windows = startMin < 0 ? all : windowsFrom(all, startMin)!;
    const dutyMin = gone("duty")
      ? minutesPerDay
      : minutesPerHour * Math.min(crews[crew]!.dutyMaxHoursPerDay, crews[crew]!.dutyMaxHoursPerWeek);
    const { inShifts, allDay } = outings.get(crew)!;
    return (gone("shift") ? [...inShifts, ...allDay] : inShifts).some((outing) => {
      if (!gone("locked") && !lockLeaves(outing)) return false;
      const inService = own.filter(
        ({ outOfService }) =>
          !outing.days.some((day) =>
            outOfService.some(({ from, to }) => from <= calendar.dates[day]! && calendar.dates[day]! <= to),
          ),
      ).length;
      const count = isBought || gone("outOfService", type) ? most : Math.min(most, inService);
      return count > 0 && fitsIn(outing, type, count, eased, windows, dutyMin, slowestMin);
    });
  }

  function fitsIn(
    { crew, fromMin, toMin }: Outing,
    type: number,
    count: number,
    eased: Eased,
    windows: Int32Array,
    dutyMin: number,
    slowestMin: number,
  ): boolean {
    const base = baseOfCrew[crew]!;
    return work.ways(base, type, count, eased).some(({ minutes: wholeMin, place }) => {
      const minutes = piece.minutes(wholeMin, slowestMin, windows);
      const { outMin, homeMin } = roads(base, type, place);
      // The work is done where it ends first, as the day's walk has it, though another time may have fewer pauses.
      let workMin = 0;
      let endMin = Number.POSITIVE_INFINITY;
      for (let w = 0; w < windows.length && windows[w]! < Math.min(toMin, endMin); w += 2) {
        const startMin = Math.max(fromMin + outMin, windows[w]!);
        if (startMin >= windows[w + 1]! || !timeFrom(problem, windows, w, startMin, minutes, timing)) continue;
        if (timing.endMin >= endMin) continue;
        endMin = timing.endMin;
        workMin = endMin - startMin;
      }
      return endMin + homeMin <= toMin && outMin + workMin + homeMin <= dutyMin;
    });
  }

  function dutiesOf(crew: number, type: number): number[] {
    const base = baseOfCrew[crew]!;
    const none = () => false;
    const most = Math.min(crews[crew]!.maxAircraft, atBase(base, type).length, flown(crew, type, none, false));
    if (most === 0 || never[type]!.length > 0) return [];
    return work
      .ways(base, type, most, nothingEased)
      .map(({ minutes, place }) => roads(base, type, place).outMin + minutes + roads(base, type, place).homeMin);
  }

  /** From the base until the work can begin, and back. */
  function roads(base: number, type: number, place: number) {
    const { setupMin, calibrationMin, packupMin } = problem.types[type]!;
    const home = problem.placeOfBase[base]!;
    return {
      outMin: problem.travelMin[home * problem.places.length + place]! + Math.ceil(setupMin + calibrationMin),
      homeMin: Math.ceil(packupMin) + problem.travelMin[place * problem.places.length + home]!,
    };
  }

  function flown(crew: number, type: number, gone: Gone, isBought: boolean): number {
    const typeId = problem.types[type]!.id;
    const isAnyRated = isBought || gone("rating", type);
    return crews[crew]!.people.filter(({ ratings }) => isAnyRated || ratings.includes(typeId))
      .filter(({ licenceClasses }) => gone("licence") || classes.every((name) => licenceClasses.includes(name)))
      .reduce((sum, { aircraftAtOnce }) => sum + aircraftAtOnce, 0);
  }

  function lockLeaves({ crew, day }: Outing): boolean {
    const locked = locks.slotOf[block]!;
    if (locked !== anySlot) return locked >= 0 && slots[locked]!.crew === crew && slots[locked]!.day === day;
    return !locks.slots.some(
      ({ lock, slot }) => lock.nothingElse && slots[slot]!.crew === crew && slots[slot]!.day === day,
    );
  }
}

type Gone = (limit: ObstacleName, type?: number) => boolean;
