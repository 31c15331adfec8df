import type { Fault, Path } from "../model/faults.ts";
import type { Operation } from "../model/operation.ts";
import { validateOperation } from "../model/validate.ts";
import type { Change, ChangeOf } from "./change.ts";
import { copyOf, give, merged, move, newId, take, unknown, withThing } from "./edit.ts";
import { shiftedClock } from "./shiftedClock.ts";

export type ChangeOutcome =
  | { readonly ok: true; readonly operation: Operation }
  | { readonly ok: false; readonly faults: readonly Fault[] };

/**
 * The operation with the changes made to it one after the other, judged afresh as a whole; the one given stays as it is. Faults of a change are named by
 * its place (`changes[2].crewId`), what is wrong with the operation that comes of them by its place in that (`operation.fleet.crews[0]...`). Locks go with what they name.
 */
export function applyChanges(operation: Operation, changes: readonly Change[]): ChangeOutcome {
  const changed = copyOf(operation);
  for (const [at, change] of changes.entries()) {
    const faults = apply(changed, change);
    if (faults.length > 0)
      return { ok: false, faults: faults.map((fault) => ({ ...fault, path: ["changes", at, ...fault.path] })) };
  }
  const judged = validateOperation(changed);
  if (judged.ok) return { ok: true, operation: judged.operation };
  return { ok: false, faults: judged.faults.map((fault) => ({ ...fault, path: ["operation", ...fault.path] })) };
}

type Appliers = { readonly [Kind in Change["kind"]]: (to: Operation, change: ChangeOf<Kind>) => readonly Fault[] };

function apply(to: Operation, change: Change): readonly Fault[] {
  // One applier for each kind: TypeScript cannot follow that the two belong together.
  return (appliers[change.kind] as (to: Operation, change: Change) => readonly Fault[])(to, change);
}

const none: readonly Fault[] = [];

const appliers: Appliers = {
  addAircraft: ({ fleet, settings }, { typeId, baseId, count, batterySets }) => {
    const faults = [
      ...unknown(fleet.aircraftTypes, typeId, ["typeId"]),
      ...unknown(settings.bases, baseId, ["baseId"]),
    ];
    if (faults.length > 0) return faults;
    for (let more = 0; more < count; more++)
      fleet.aircraft.push({ id: newId(fleet.aircraft, typeId), typeId, baseId, outOfService: [] });
    return batterySets > 0 ? addSets(fleet, baseId, typeId, batterySets, ["batterySets"]) : none;
  },
  takeAircraft: (to, { aircraftId }) => {
    unlock(to, (outfit) => outfit.aircraftIds?.includes(aircraftId));
    return take(to.fleet.aircraft, aircraftId, ["aircraftId"]);
  },
  batterySets: ({ fleet, settings }, { baseId, typeId, more }) => {
    const faults = [
      ...unknown(settings.bases, baseId, ["baseId"]),
      ...unknown(fleet.aircraftTypes, typeId, ["typeId"]),
    ];
    return faults.length > 0 ? faults : addSets(fleet, baseId, typeId, more, ["more"]);
  },
  addCharger: ({ fleet, settings }, { baseId, bays, kw, count }) => {
    for (let more = 0; more < count; more++)
      fleet.chargers.push({ id: newId(fleet.chargers, "charger"), baseId, bays, kw });
    return unknown(settings.bases, baseId, ["baseId"]);
  },
  takeCharger: (to, { chargerId }) => {
    unlock(to, (outfit) => outfit.chargerIds?.includes(chargerId));
    return take(to.fleet.chargers, chargerId, ["chargerId"]);
  },
  addTender: ({ fleet, settings }, { like, baseId, set, count }) => {
    const model = fleet.tenders.find(({ id }) => id === like);
    if (model === undefined) return unknown(fleet.tenders, like, ["like"]);
    for (let more = 0; more < count; more++)
      fleet.tenders.push({
        ...merged(model, { name: `${model.name}, another`, ...set }),
        id: newId(fleet.tenders, like),
        baseId: baseId ?? model.baseId,
      });
    return baseId === undefined ? none : unknown(settings.bases, baseId, ["baseId"]);
  },
  takeTender: (to, { tenderId }) => {
    if (to.fleet.hire !== undefined)
      to.fleet.hire = to.fleet.hire.filter((offer) => offer.kind !== "tender" || offer.like !== tenderId);
    unlock(to, (outfit) => outfit.tenderId === tenderId);
    return take(to.fleet.tenders, tenderId, ["tenderId"]);
  },
  moveThings: ({ fleet, settings }, { toBaseId, aircraftIds, chargerIds, tenderIds, batterySets }) => [
    ...unknown(settings.bases, toBaseId, ["toBaseId"]),
    ...aircraftIds.flatMap((id, at) => move(fleet.aircraft, id, toBaseId, ["aircraftIds", at])),
    ...chargerIds.flatMap((id, at) => move(fleet.chargers, id, toBaseId, ["chargerIds", at])),
    ...tenderIds.flatMap((id, at) => move(fleet.tenders, id, toBaseId, ["tenderIds", at])),
    ...batterySets.flatMap(({ fromBaseId, typeId, sets }, at) => [
      ...addSets(fleet, fromBaseId, typeId, -sets, ["batterySets", at, "sets"]),
      ...addSets(fleet, toBaseId, typeId, sets, ["batterySets", at, "sets"]),
    ]),
  ],
  addCrew: ({ fleet, settings }, { like, baseId, set, count }) => {
    const model = fleet.crews.find(({ id }) => id === like);
    if (model === undefined) return unknown(fleet.crews, like, ["like"]);
    for (let more = 0; more < count; more++) {
      const people: Operation["fleet"]["crews"][number]["people"] = [];
      const everybody = fleet.crews.flatMap((crew) => crew.people);
      for (const person of model.people)
        people.push({ ...copyOf(person), id: newId([...everybody, ...people], person.id) });
      fleet.crews.push({
        ...merged(model, { name: `${model.name}, another`, ...set }),
        id: newId(fleet.crews, like),
        baseId: baseId ?? model.baseId,
        people,
      });
    }
    return baseId === undefined ? none : unknown(settings.bases, baseId, ["baseId"]);
  },
  takeCrew: (to, { crewId }) => {
    to.locks = to.locks.filter((lock) => lock.crewId !== crewId);
    return take(to.fleet.crews, crewId, ["crewId"]);
  },
  changeCrew: ({ fleet }, { crewId, set }) => give(fleet.crews, crewId, set, ["crewId"]),
  setShift: ({ fleet }, { crewId, date, from, to }) =>
    withThing(fleet.crews, crewId, ["crewId"], (crew) => {
      crew.shifts = [...crew.shifts.filter((shift) => shift.date !== date), { date, from, to }].sort((a, b) =>
        a.date < b.date ? -1 : 1,
      );
      return none;
    }),
  longerShift: ({ fleet }, { crewId, dates, earlierMin, laterMin }) =>
    withThing(fleet.crews, crewId, ["crewId"], (crew) => {
      const faults = (dates ?? []).flatMap((date, at) =>
        crew.shifts.some((shift) => shift.date === date)
          ? []
          : [{ path: ["dates", at], value: date, expected: `a day on which ${crewId} has a shift` }],
      );
      for (const shift of crew.shifts) {
        if (dates !== undefined && !dates.includes(shift.date)) continue;
        const longer = shiftedClock(shift, earlierMin, laterMin);
        if (longer === null) {
          const value = `${shift.date} ${shift.from} to ${shift.to}`;
          const expected = "a shift that then begins on its day and lasts longer than nothing and at most 24 h";
          faults.push({ path: [], value, expected });
        } else Object.assign(shift, longer);
      }
      return faults;
    }),
  dayOff: (to, { crewId, date }) =>
    withThing(to.fleet.crews, crewId, ["crewId"], (crew) => {
      if (!crew.shifts.some((shift) => shift.date === date))
        return [{ path: ["date"], value: date, expected: `a day on which ${crewId} has a shift` }];
      crew.shifts = crew.shifts.filter((shift) => shift.date !== date);
      to.locks = to.locks.filter((lock) => lock.crewId !== crewId || lock.date !== date);
      return none;
    }),
  train: ({ fleet }, { crewId, personId, ratings, licenceClasses, aircraftAtOnce }) =>
    withThing(fleet.crews, crewId, ["crewId"], (crew) =>
      withThing(crew.people, personId, ["personId"], (person) => {
        person.ratings = [...new Set([...person.ratings, ...ratings])];
        person.licenceClasses = [...new Set([...person.licenceClasses, ...licenceClasses])];
        person.aircraftAtOnce = aircraftAtOnce ?? person.aircraftAtOnce;
        return none;
      }),
    ),
  changeType: ({ fleet }, { typeId, set }) => give(fleet.aircraftTypes, typeId, set, ["typeId"]),
  addType: ({ fleet }, { like, id, set }) => {
    const model = fleet.aircraftTypes.find((type) => type.id === like);
    if (model === undefined) return unknown(fleet.aircraftTypes, like, ["like"]);
    fleet.aircraftTypes.push({ ...merged(model, set), id });
    return none;
  },
  addBase: ({ settings }, { base }) => {
    settings.bases.push(base);
    return none;
  },
  addWaterPoint: ({ settings }, { waterPoint }) => {
    settings.waterPoints.push(waterPoint);
    return none;
  },
  addOrders: (to, { orders }) => {
    to.orders.push(...orders);
    return none;
  },
  takeOrders: (to, { orderIds }) => {
    const faults = orderIds.flatMap((id, at) => take(to.orders, id, ["orderIds", at]));
    const isTaken = ({ orderId }: { orderId: string }) => orderIds.some((id) => id === orderId);
    for (const order of to.orders) order.apartFrom = order.apartFrom.filter((other) => !isTaken(other));
    for (const lock of to.locks) lock.stops = lock.stops.filter((stop) => !isTaken(stop));
    return faults;
  },
  changeOrder: ({ orders }, { orderId, set }) => give(orders, orderId, set, ["orderId"]),
  harvestDate: ({ fields }, { fieldId, date }) =>
    withThing(propertiesOf(fields), fieldId, ["fieldId"], (field) => {
      field.harvestDate = date;
      return none;
    }),
  addPad: ({ fields }, { fieldId, pad }) =>
    withThing(propertiesOf(fields), fieldId, ["fieldId"], (field) => {
      field.pads.push(pad);
      return none;
    }),
  changeSettings: ({ settings }, { costs, limits, planning }) => {
    settings.costs = merged(settings.costs, costs ?? {});
    settings.limits = merged(settings.limits, limits ?? {});
    settings.planning = merged(settings.planning, planning ?? {});
    return none;
  },
  changeWeather: ({ weather }, { windFactor, rainFactor, warmerC }) => {
    for (const step of weather) {
      step.windKph *= windFactor;
      step.gustKph *= windFactor;
      step.rainMm *= rainFactor;
      step.temperatureC += warmerC;
      if (step.upperTemperatureC !== undefined) step.upperTemperatureC += warmerC;
    }
    return none;
  },
  replaceWeather: (to, { steps }) => {
    to.weather = copyOf(steps);
    return none;
  },
};

const propertiesOf = (fields: Operation["fields"]) => fields.features.map(({ properties }) => properties);

function addSets(
  fleet: Operation["fleet"],
  baseId: Operation["fleet"]["batteryStocks"][number]["baseId"],
  aircraftTypeId: Operation["fleet"]["batteryStocks"][number]["aircraftTypeId"],
  more: number,
  path: Path,
): Fault[] {
  const stock = fleet.batteryStocks.find((one) => one.baseId === baseId && one.aircraftTypeId === aircraftTypeId);
  const sets = (stock?.sets ?? 0) + more;
  if (sets < 0)
    return [
      {
        path,
        value: more,
        expected: `no more than the ${stock?.sets ?? 0} that there are of ${aircraftTypeId} at ${baseId}`,
      },
    ];
  if (stock === undefined) fleet.batteryStocks.push({ baseId, aircraftTypeId, sets });
  else stock.sets = sets;
  return [];
}

/** Locked outfits that name what is taken away are no longer locked. */
function unlock(
  to: Operation,
  names: (outfit: NonNullable<Operation["locks"][number]["outfit"]>) => boolean | undefined,
) {
  for (const lock of to.locks) if (lock.outfit !== undefined && names(lock.outfit)) delete lock.outfit;
}
