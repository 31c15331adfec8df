import type { PlanningProblem } from "../../../shared/contracts/planningProblem.ts";
import { bestSignaturesOf } from "../compileWork.ts";
import type { KitOption, Problem } from "../problem.ts";
import { about, rules } from "./problemWords.ts";

type Outfit = PlanningProblem["outfits"][number];
type Spans = PlanningProblem["windows"][number]["byType"][number]["day"];

/** The compiled problem in names and plain numbers: nothing in it is worked out otherwise than for our own search. */
export function describeProblem(problem: Problem): PlanningProblem {
  const { operation, calendar } = problem;
  const { settings } = operation;
  const { costs, planning } = settings;
  const offers = listOffers(problem);
  return {
    formatVersion: 1,
    about,
    operationName: settings.name,
    timeZone: settings.timeZone,
    currency: settings.currency,
    days: calendar.dates.map((date, day) => ({ date, startMin: calendar.dayStartMin[day]! })),
    places: problem.places.map((place, at) => ({
      place,
      kind: problem.placeOfBase.includes(at) ? "base" : problem.waterPlaces.includes(at) ? "waterPoint" : "pad",
      fillLPerMin: problem.fillLPerMin[at]!,
    })),
    travelMin: rowsOf(problem.travelMin, problem.places.length),
    travelKm: rowsOf(problem.travelKm, problem.places.length),
    costs: {
      driveCentsPerKm: costs.driveCentsPerKm,
      overtimeFactor: costs.overtimeFactor,
      outfitChangeCents: planning.outfitChangeCents,
      lateCentsPerHaDay: planning.lateCentsPerHaDay,
    },
    pauses: {
      pauseMaxMin: planning.pauseMaxMin,
      stretchMinMin: planning.stretchMinMin,
      resumeMin: planning.resumeMin,
    },
    rules,
    aircraftTypes: problem.types.map((type) => ({
      id: type.id,
      setupMin: type.setupMin,
      packupMin: type.packupMin,
      calibrationMin: type.calibrationMin,
      methodChangeMin: type.methodChangeMin + type.calibrationMin,
      runningCentsPerHour: type.runningCentsPerHour,
      transportSlots: type.transportSlots,
    })),
    orders: problem.orders.map((one) => describeOrder(problem, one)),
    seasonLimits: problem.seasonLimits.map(({ orders, amounts, maxCount, maxAmount }) => ({
      orders: orders.map((order, at) => ({ orderId: problem.orders[order]!.order.id, amountPerHa: amounts[at]! })),
      ...(Number.isFinite(maxCount) ? { mostOrders: Math.max(0, maxCount) } : {}),
      ...(Number.isFinite(maxAmount) ? { mostPerHa: Math.max(0, maxAmount) } : {}),
    })),
    windows: problem.grounds.map((_, ground) => ({
      id: windowsId(problem, ground),
      byType: problem.types.flatMap((type, at) => {
        const variant = (ground * problem.types.length + at) * 2;
        const day = problem.windows[variant] ?? null;
        if (day === null) return [];
        const night = type.nightCapable ? { night: spansOf(problem.windows[variant + 1]!) } : {};
        return [{ aircraftTypeId: type.id, day: spansOf(day), ...night }];
      }),
    })),
    blocks: problem.blocks.map((_, block) => describeBlock(problem, offers, block)),
    outfits: offers.map(({ outfit }) => outfit),
    pools: settings.bases.map((_, base) => describePool(problem, base)),
    crews: problem.crews.map((crew, at) => ({
      id: crew.id,
      baseId: crew.baseId,
      nightWork: crew.nightWork,
      mixedOutfit: crew.mixedOutfit === true,
      dutyMaxHoursPerDay: crew.dutyMaxHoursPerDay,
      dutyMaxHoursPerWeek: crew.dutyMaxHoursPerWeek,
      restMinHours: crew.restMinHours,
      standardHoursPerDay: crew.standardHoursPerDay,
      costCentsPerHour: crew.costCentsPerHour,
      overnightBaseIds: crew.overnightBaseIds ?? [],
      nightAwayCents: crew.nightAwayCents ?? 0,
      mayTake: problem.options[at]!.flatMap((option, optionIndex) =>
        offersFor(problem, offers, at, option).map(({ outfit }) => ({
          outfitId: outfit.id,
          licences: problem.licenceSets.flatMap((_, set) =>
            problem.qualified[at]![optionIndex * problem.licences + set] === 1 ? [licencesName(problem, set)] : [],
          ),
        })),
      ),
    })),
    locks: [...operation.locks],
    slots: problem.slots.map((slot) => ({
      crewId: problem.crews[slot.crew]!.id,
      date: calendar.dates[slot.day]!,
      shiftFromMin: slot.shiftFromMin,
      shiftToMin: slot.shiftToMin,
      awayDates: slot.days.map((day) => calendar.dates[day]!),
      outfitIds: problem.options[slot.crew]!.flatMap((option) =>
        inService(problem, problem.baseOfCrew[slot.crew]!, option.type, slot.days) < option.count
          ? []
          : offersFor(problem, offers, slot.crew, option).map(({ outfit }) => outfit.id),
      ),
    })),
  };
}

/** An outfit as good as its base can send, with the signature behind its kind of work. */
interface Offer {
  readonly base: number;
  readonly option: KitOption;
  readonly signature: number;
  readonly outfit: Outfit;
}

/** Options of crews at one base are mostly the same: each is listed once. */
function listOffers(problem: Problem): Offer[] {
  const offers = new Map<string, Offer>();
  const kinds = new Map<number, number>();
  problem.options.forEach((options, crew) => {
    const base = problem.baseOfCrew[crew]!;
    for (const option of options) {
      for (const signature of bestSignaturesOf(
        problem.operation,
        problem.equipment,
        problem.signatures,
        base,
        option,
      )) {
        const { alike, type, sets, chargers, tender, charge } = problem.signatures.at(signature);
        const id = `${option.count} ${type.id} with ${tender.id}`;
        if (offers.has(id) || charge?.bays === 0) continue;
        if (!kinds.has(alike)) kinds.set(alike, kinds.size);
        const outfit: Outfit = {
          id,
          baseId: problem.operation.settings.bases[base]!.id,
          aircraftTypeId: type.id,
          aircraft: option.count,
          tenderId: tender.id,
          waterL: tender.waterL,
          batterySets: sets,
          chargerIds: chargers.map((charger) => charger.id),
          kind: kinds.get(alike)!,
        };
        offers.set(id, { base, option, signature, outfit });
      }
    }
  });
  return [...offers.values()];
}

function offersFor(problem: Problem, offers: readonly Offer[], crew: number, { type, count }: KitOption): Offer[] {
  return offers.filter(
    ({ base, option }) => base === problem.baseOfCrew[crew] && option.type === type && option.count === count,
  );
}

/** Aircraft of the type at a base that are in service on all of these days. */
function inService({ equipment }: Problem, base: number, type: number, days: readonly number[]): number {
  const { aircraftType, aircraftBase, aircraftOut } = equipment;
  return aircraftType.reduce((sum, itsType, one) => {
    const isThere = itsType === type && aircraftBase[one] === base;
    return isThere && days.every((day) => aircraftOut[day * aircraftType.length + one] === 0) ? sum + 1 : sum;
  }, 0);
}

function describeOrder(problem: Problem, one: Problem["orders"][number]): PlanningProblem["orders"][number] {
  const { order } = one;
  return {
    id: order.id,
    fieldId: order.fieldId,
    method: one.liquid ? "liquid" : "granular",
    valueCentsPerHa: one.valueCentsPerHa,
    ...(order.preferredDate === undefined ? {} : { preferredDate: order.preferredDate }),
    licences: licencesName(problem, one.licence),
    group: problem.groups[one.group]!,
    cleanOutMin: one.cleanOutMin,
    cleanOutL: one.cleanOutL,
    apartFrom: one.apart.map(({ order: other, days, minutes }) => ({
      orderId: problem.orders[other]!.order.id,
      days,
      waitMin: minutes,
    })),
  };
}

function describeBlock(problem: Problem, offers: readonly Offer[], at: number): PlanningProblem["blocks"][number] {
  const { block, order, ground, areaHa, valueCents, waterL } = problem.blocks[at]!;
  const signatureOf = new Map<number, number>();
  for (const { outfit, signature } of offers)
    if (!signatureOf.has(outfit.kind)) signatureOf.set(outfit.kind, signature);
  return {
    id: block.id,
    orderId: block.orderId,
    fieldId: problem.orders[order]!.order.fieldId,
    areaHa,
    valueCents,
    waterL,
    windows: windowsId(problem, ground),
    work: [...signatureOf].flatMap(([kind, signature]) => {
      const workMin = problem.work.minutes(at, signature);
      return workMin === 0 ? [] : [{ kind, workMin, place: problem.places[problem.work.place(at, signature)]! }];
    }),
  };
}

function describePool(
  { operation, calendar, equipment, types }: Problem,
  base: number,
): PlanningProblem["pools"][number] {
  const { fleet, settings } = operation;
  const baseId = settings.bases[base]!.id;
  const count = fleet.aircraft.length;
  return {
    baseId,
    aircraft: fleet.aircraft.flatMap(({ id, typeId, baseId: its }, one) =>
      its !== baseId
        ? []
        : [
            {
              id,
              aircraftTypeId: typeId,
              outOfService: calendar.dates.filter((_, day) => equipment.aircraftOut[day * count + one] === 1),
            },
          ],
    ),
    tenders: fleet.tenders
      .filter((tender) => tender.baseId === baseId)
      .map(({ id, transportSlots }) => ({ id, transportSlots })),
    chargers: fleet.chargers.filter((charger) => charger.baseId === baseId).map(({ id, bays }) => ({ id, bays })),
    batterySets: types.flatMap(({ id, power }, type) =>
      power.source === "battery" ? [{ aircraftTypeId: id, sets: equipment.stock[base * types.length + type]! }] : [],
    ),
  };
}

function windowsId({ orders, grounds }: Problem, ground: number): string {
  const { order, isRest, lockedBlock } = grounds[ground]!;
  if (lockedBlock !== undefined) return `${lockedBlock} at its minute`;
  // The rest follows the near part.
  const next = grounds[ground + 1];
  const isNear = next?.order === order && next.isRest && next.lockedBlock === undefined;
  return `${orders[order]!.order.id}${isRest ? " rest" : isNear ? " near" : ""}`;
}

function licencesName({ licenceSets }: Problem, set: number): string {
  return licenceSets[set]!.join(" and ") || "none";
}

function spansOf(list: Int32Array): Spans {
  return Array.from({ length: list.length / 2 }, (_, at) => ({ startMin: list[2 * at]!, endMin: list[2 * at + 1]! }));
}

function rowsOf(matrix: Int32Array | Float64Array, count: number): number[][] {
  return Array.from({ length: count }, (_, from) => [...matrix.subarray(from * count, (from + 1) * count)]);
}
