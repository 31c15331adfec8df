import type { AircraftTypeId, ChargerId } from "../../../shared/model/quantities.ts";
import type { CrewDay } from "../../../shared/plan/plan.ts";
import {
  crewOf,
  type Draft,
  type DraftStop,
  type Mutation,
  mutation,
  pick,
  stopsOf,
  tenderOf,
  typesOf,
} from "./mutation.ts";

function onDay(rule: Mutation["rule"], name: string, change: (draft: Draft, crewDay: CrewDay) => boolean): Mutation {
  return mutation(rule, name, (draft) => {
    const crewDay = pick(draft, draft.plan.crewDays);
    return crewDay !== undefined && change(draft, crewDay);
  });
}

function onStop(rule: Mutation["rule"], name: string, change: (draft: Draft, stop: DraftStop) => boolean): Mutation {
  return mutation(rule, name, (draft) => {
    const stop = pick(draft, stopsOf(draft));
    return stop !== undefined && change(draft, stop);
  });
}

/** A crew-day that takes battery aircraft, with one of their types. */
function batteryDay(draft: Draft) {
  const found = draft.plan.crewDays.flatMap((crewDay) =>
    typesOf(draft, crewDay).flatMap((type) =>
      type.power.source === "battery" ? [{ crewDay, type, power: type.power }] : [],
    ),
  );
  return pick(draft, found);
}

/** The base of a battery crew-day, its stock of the type, what all its sets take and how long its shortest night is. */
function nightOf(draft: Draft, { crewDay, type }: NonNullable<ReturnType<typeof batteryDay>>) {
  const { fleet } = draft.operation;
  const { baseId } = crewOf(draft, crewDay);
  const stocks = fleet.batteryStocks.filter((stock) => stock.baseId === baseId);
  const kwh = stocks.map(({ aircraftTypeId, sets }) => {
    const { power } = fleet.aircraftTypes.find((one) => one.id === aircraftTypeId)!;
    return power.source === "battery" ? (sets * power.chargeKw * power.chargeMin) / 60 : 0;
  });
  const nights = fleet.crews
    .filter((crew) => crew.baseId === baseId)
    .map((crew) => Math.max(crew.restMinHours, 24 - crew.dutyMaxHoursPerDay));
  return {
    baseId,
    stock: stocks.find((stock) => stock.aircraftTypeId === type.id)!.sets,
    neededKwh: kwh.reduce((sum, one) => sum + one, 0),
    nightHours: Math.min(...nights),
  };
}

/** Two crew-days of different crews that overlap in time. */
function overlappingDays(draft: Draft): [CrewDay, CrewDay] | undefined {
  const { crewDays } = draft.plan;
  const pairs = crewDays.flatMap((a) =>
    crewDays
      .filter(
        (b) =>
          a.crewId !== b.crewId &&
          a.activities[0]!.startMin < b.activities.at(-1)!.endMin &&
          b.activities[0]!.startMin < a.activities.at(-1)!.endMin,
      )
      .map((b): [CrewDay, CrewDay] => [a, b]),
  );
  return pick(draft, pairs);
}

function otherBase(draft: Draft, crewDay: CrewDay) {
  const { baseId } = crewOf(draft, crewDay);
  return pick(
    draft,
    draft.operation.settings.bases.filter((base) => base.id !== baseId),
  )?.id;
}

/** An aircraft of a type that the crew has not with it. */
function otherKind(draft: Draft, crewDay: CrewDay) {
  const taken = typesOf(draft, crewDay).map(({ id }) => id);
  return pick(
    draft,
    draft.operation.fleet.aircraft.filter(({ typeId }) => !taken.includes(typeId)),
  )?.id;
}

export const outfitMutations: readonly Mutation[] = [
  onStop("qualified", "nobody has the licence", (draft, stop) => {
    const { licenceClass } = pick(draft, stop.products)!;
    for (const person of crewOf(draft, stop.crewDay).people) {
      person.licenceClasses = person.licenceClasses.filter((licence) => licence !== licenceClass);
    }
    return true;
  }),
  onStop("qualified", "nobody is rated for the type", (draft, stop) => {
    const type = pick(draft, stop.types)!;
    for (const person of crewOf(draft, stop.crewDay).people) {
      person.ratings = person.ratings.filter((rating) => rating !== type.id);
    }
    return true;
  }),
  mutation("qualified", "fewer seats than aircraft", (draft) => {
    const stop = pick(
      draft,
      stopsOf(draft).filter(({ types }) => types.length > 1),
    );
    if (stop === undefined) return false;
    const crew = crewOf(draft, stop.crewDay);
    crew.people = crew.people.slice(0, stop.types.length - 1);
    for (const person of crew.people) person.aircraftAtOnce = 1;
    return true;
  }),
  onDay("maxAircraft", "one aircraft too many", (draft, crewDay) => {
    crewOf(draft, crewDay).maxAircraft = crewDay.outfit.aircraftIds.length - 1;
    return true;
  }),
  onDay("mixedOutfit", "aircraft of several types with a crew that takes one", (draft, crewDay) => {
    crewOf(draft, crewDay).mixedOutfit = false;
    if (new Set(typesOf(draft, crewDay)).size > 1) return true;
    const other = otherKind(draft, crewDay);
    if (other === undefined) return false;
    crewDay.outfit.aircraftIds.push(other);
    return true;
  }),
  onStop("atWork", "an aircraft that the crew did not take out", (draft, { crewDay, work }) => {
    const left = draft.operation.fleet.aircraft.filter(({ id }) => !crewDay.outfit.aircraftIds.includes(id));
    const other = pick(draft, left)?.id;
    if (other === undefined) return false;
    work.aircraftIds = draft.random() < 0.5 ? [other] : [...crewDay.outfit.aircraftIds, other];
    return true;
  }),
  onStop("atWork", "one aircraft named twice", (draft, { crewDay, work }) => {
    const one = pick(draft, work.aircraftIds ?? crewDay.outfit.aircraftIds)!;
    work.aircraftIds = [one, one];
    return true;
  }),
  onStop("atWork", "aircraft of two types on one block", (draft, { crewDay, work }) => {
    const other = otherKind(draft, crewDay);
    if (other === undefined) return false;
    crewDay.outfit.aircraftIds.push(other);
    crewOf(draft, crewDay).mixedOutfit = true;
    work.aircraftIds = [...crewDay.outfit.aircraftIds];
    return true;
  }),
  onDay("homeBase", "aircraft of another base", (draft, crewDay) => {
    const baseId = otherBase(draft, crewDay);
    const aircraftId = pick(draft, crewDay.outfit.aircraftIds)!;
    if (baseId === undefined) return false;
    draft.operation.fleet.aircraft.find((one) => one.id === aircraftId)!.baseId = baseId;
    return true;
  }),
  onDay("homeBase", "tender of another base", (draft, crewDay) => {
    const baseId = otherBase(draft, crewDay);
    if (baseId === undefined) return false;
    tenderOf(draft, crewDay).baseId = baseId;
    return true;
  }),
  onDay("homeBase", "charger of another base", (draft, crewDay) => {
    const baseId = otherBase(draft, crewDay);
    const chargerId = pick(draft, crewDay.outfit.chargerIds);
    if (baseId === undefined || chargerId === undefined) return false;
    draft.operation.fleet.chargers.find((one) => one.id === chargerId)!.baseId = baseId;
    return true;
  }),
  onDay("transportSlots", "too few places on the tender", (draft, crewDay) => {
    const slots = typesOf(draft, crewDay).reduce((sum, type) => sum + type.transportSlots, 0);
    if (slots === 0) return false;
    tenderOf(draft, crewDay).transportSlots = slots - 1;
    return true;
  }),
  onDay("transportSlots", "an aircraft that takes more places", (draft, crewDay) => {
    pick(draft, typesOf(draft, crewDay))!.transportSlots = tenderOf(draft, crewDay).transportSlots + 1;
    return true;
  }),
  mutation("batterySets", "fewer sets than aircraft", (draft) => {
    const found = batteryDay(draft);
    if (found === undefined) return false;
    const { crewDay, type } = found;
    const needed = typesOf(draft, crewDay).filter((one) => one === type).length;
    crewDay.outfit.batterySets = needed > 1 ? [{ aircraftTypeId: type.id, sets: needed - 1 }] : [];
    return true;
  }),
  mutation("batterySets", "sets of another type", (draft) => {
    const found = batteryDay(draft);
    if (found === undefined) return false;
    for (const entry of found.crewDay.outfit.batterySets) entry.aircraftTypeId = "OTHER" as AircraftTypeId;
    return true;
  }),
  mutation("bay", "more bays given to a type than the generator feeds", (draft) => {
    const found = batteryDay(draft);
    if (found === undefined) return false;
    const entry = found.crewDay.outfit.batterySets.find((one) => one.aircraftTypeId === found.type.id)!;
    entry.bays = Math.floor(tenderOf(draft, found.crewDay).generatorKw / found.power.chargeKw) + 1;
    return true;
  }),
  mutation("bay", "no charger", (draft) => {
    const found = batteryDay(draft);
    if (found === undefined) return false;
    found.crewDay.outfit.chargerIds = [];
    return true;
  }),
  mutation("bay", "a generator too weak for one bay", (draft) => {
    const found = batteryDay(draft);
    if (found === undefined) return false;
    tenderOf(draft, found.crewDay).generatorKw = found.power.chargeKw * 0.99;
    return true;
  }),
  mutation("bay", "chargers too weak for one bay", (draft) => {
    const found = batteryDay(draft);
    if (found === undefined) return false;
    for (const charger of draft.operation.fleet.chargers) charger.kw = found.power.chargeKw * 0.99;
    return true;
  }),
  mutation("batteryStock", "fewer sets at the base", (draft) => {
    const found = batteryDay(draft);
    if (found === undefined) return false;
    const { sets } = found.crewDay.outfit.batterySets.find((entry) => entry.aircraftTypeId === found.type.id)!;
    const { baseId } = crewOf(draft, found.crewDay);
    for (const stock of draft.operation.fleet.batteryStocks) {
      if (stock.baseId === baseId && stock.aircraftTypeId === found.type.id) stock.sets = sets - 1;
    }
    return true;
  }),
  mutation("batteryStock", "more sets than the base has", (draft) => {
    const found = batteryDay(draft);
    if (found === undefined) return false;
    pick(draft, found.crewDay.outfit.batterySets)!.sets += 1000;
    return true;
  }),
  mutation("batteryStock", "a set more than the night charges", (draft) => {
    const found = batteryDay(draft);
    if (found === undefined) return false;
    const { baseId, stock, neededKwh, nightHours } = nightOf(draft, found);
    const { mainsKw } = draft.operation.settings.bases.find((one) => one.id === baseId)!;
    const charged = Math.floor(stock * ((mainsKw * nightHours) / neededKwh));
    const entry = found.crewDay.outfit.batterySets.find((one) => one.aircraftTypeId === found.type.id)!;
    entry.sets = charged + 1;
    return charged < stock;
  }),
  mutation("batteryStock", "mains too weak by half a set", (draft) => {
    const found = batteryDay(draft);
    if (found === undefined) return false;
    const { baseId, stock, neededKwh, nightHours } = nightOf(draft, found);
    const { sets } = found.crewDay.outfit.batterySets.find((one) => one.aircraftTypeId === found.type.id)!;
    const base = draft.operation.settings.bases.find((one) => one.id === baseId)!;
    base.mainsKw = ((sets - 0.5) / stock) * (neededKwh / nightHours);
    return true;
  }),
  mutation("batteryStock", "chargers that hardly give power at night", (draft) => {
    const found = batteryDay(draft);
    if (found === undefined) return false;
    const { baseId } = nightOf(draft, found);
    for (const charger of draft.operation.fleet.chargers) if (charger.baseId === baseId) charger.kw = 0.001;
    return true;
  }),
  mutation("batteryStock", "a crew that is out nearly all day and hardly rests", (draft) => {
    const found = batteryDay(draft);
    if (found === undefined) return false;
    const crew = pick(
      draft,
      draft.operation.fleet.crews.filter((one) => one.baseId === crewOf(draft, found.crewDay).baseId),
    )!;
    crew.dutyMaxHoursPerDay = 23.999;
    crew.restMinHours = 0.001;
    return true;
  }),
  mutation("oneCrewAtATime", "one tender with two crews", (draft) => {
    const pair = overlappingDays(draft);
    if (pair === undefined) return false;
    pair[1].outfit.tenderId = pair[0].outfit.tenderId;
    return true;
  }),
  mutation("oneCrewAtATime", "one aircraft with two crews", (draft) => {
    const pair = overlappingDays(draft);
    if (pair === undefined) return false;
    pair[1].outfit.aircraftIds = [pick(draft, pair[0].outfit.aircraftIds)!];
    return true;
  }),
  mutation("oneCrewAtATime", "one charger with two crews", (draft) => {
    const pair = overlappingDays(draft);
    if (pair === undefined) return false;
    const chargerId: ChargerId | undefined =
      pick(draft, pair[0].outfit.chargerIds) ?? pick(draft, draft.operation.fleet.chargers)?.id;
    if (chargerId === undefined) return false;
    for (const { outfit } of pair) outfit.chargerIds = [chargerId];
    return true;
  }),
  onDay("oneCrewAtATime", "one aircraft listed twice", (draft, { outfit }) => {
    outfit.aircraftIds.push(pick(draft, outfit.aircraftIds)!);
    return true;
  }),
  onDay("outOfService", "an aircraft on its day of service", (draft, crewDay) => {
    const aircraftId = pick(draft, crewDay.outfit.aircraftIds)!;
    draft.operation.fleet.aircraft
      .find((one) => one.id === aircraftId)!
      .outOfService.push({ from: crewDay.date, to: crewDay.date });
    return true;
  }),
];
