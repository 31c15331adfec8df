import { hoursAndMinutes } from "../../../shared/agronomy/timeWords.ts";
import type { Obstacle } from "../../../shared/plan/plan.ts";
import { readable } from "../../../shared/plan/words.ts";
import { anySlot } from "../locks.ts";
import { morningSets, nightOf } from "../nightCharging.ts";
import type { Problem } from "../problem.ts";
import type { Alone, Atom } from "./alone.ts";

/** What is told of an atom that is no limit of a minute. */
export function plainObstacle(problem: Problem, alone: Alone, block: number, atom: Atom): Obstacle {
  const { limit, type, judgement } = atom;
  const about = type < 0 ? {} : { aircraftTypeId: problem.types[type]!.id };
  if (judgement !== undefined) {
    const { sentence, ...data } = judgement;
    return { limit, ...about, sentence, data };
  }
  return { limit, ...about, ...wordsOf(problem, alone, block, atom) };
}

type Words = Pick<Obstacle, "sentence" | "data">;

function wordsOf(problem: Problem, alone: Alone, block: number, { limit, type }: Atom): Words {
  const name = type < 0 ? "" : problem.types[type]!.name;
  switch (limit) {
    case "aircraft":
      return { sentence: `${name} could do it, but the operation has none`, data: { aircraft: 0 } };
    case "licence":
      return licenceWords(problem, alone, block);
    case "rating":
      return { sentence: `no crew of a base with ${name} has anybody rated for it`, data: { rated: 0 } };
    case "water":
      return waterWords(problem, alone, block);
    case "tender":
      return tenderWords(problem, type);
    case "sets":
      return setsWords(problem, type);
    case "chargers":
      return chargerWords(problem, type);
    case "outOfService":
      return serviceWords(problem, type);
    case "shift":
      return shiftWords(problem);
    case "duty":
      return dutyWords(problem, alone);
    default:
      return lockWords(problem, block);
  }
}

function licenceWords(problem: Problem, alone: Alone, block: number): Words {
  const { licence } = problem.orders[problem.blocks[block]!.order]!;
  const licenceClasses = problem.licenceSets[licence]!;
  const able = alone.types.filter(
    (type) => !alone.atoms.some((atom) => atom.type === type && (atom.judgement !== undefined || isBought(atom))),
  );
  const types = able.map((type) => problem.types[type]!);
  const ids = types.map(({ id }) => id);
  return {
    sentence: `nobody who flies ${types.map(({ name }) => name).join(" or ")} from a base that has one holds licence ${licenceClasses.join(" and ")}`,
    data: {
      licenceClasses,
      aircraftTypeIds: ids,
      people: problem.crews.flatMap((crew) =>
        crew.people
          .filter((person) => person.ratings.some((rating) => ids.includes(rating)))
          .map((person) => ({ crewId: crew.id, person: person.name, licenceClasses: person.licenceClasses })),
      ),
    },
  };
}

function isBought({ limit }: Atom): boolean {
  return limit === "aircraft";
}

function waterWords(problem: Problem, alone: Alone, block: number): Words {
  const { waterL, order } = problem.blocks[block]!;
  const { fleet } = problem.operation;
  const bases = new Set(
    problem.crews.flatMap((crew) =>
      fleet.aircraft.some(
        ({ baseId, typeId }) =>
          baseId === crew.baseId && alone.types.some((type) => problem.types[type]!.id === typeId),
      )
        ? [crew.baseId]
        : [],
    ),
  );
  const largestL = fleet.tenders.reduce(
    (most, tender) => (bases.has(tender.baseId) ? Math.max(most, tender.waterL) : most),
    0,
  );
  const { maySplit } = problem.orders[order]!.order;
  return {
    sentence: `the mix takes ${readable(waterL)} L in one go, the largest tender where a crew may do it carries ${readable(largestL)}`,
    data: { actual: waterL, allowed: largestL, unit: "L", maySplit },
  };
}

function tenderWords(problem: Problem, type: number): Words {
  const { id, name, transportSlots } = problem.types[type]!;
  const { fleet } = problem.operation;
  const bases = new Set(fleet.aircraft.filter(({ typeId }) => typeId === id).map(({ baseId }) => baseId));
  const most = fleet.tenders.reduce(
    (best, tender) => (bases.has(tender.baseId) ? Math.max(best, tender.transportSlots) : best),
    0,
  );
  return {
    sentence: `${name} takes ${transportSlots} places on a tender, those of its base have ${most}`,
    data: { actual: transportSlots, allowed: most, unit: "places" },
  };
}

function setsWords({ operation, types }: Problem, type: number): Words {
  const { id, name } = types[type]!;
  const stock = operation.fleet.batteryStocks.find(({ aircraftTypeId, sets }) => aircraftTypeId === id && sets > 0);
  if (stock === undefined)
    return {
      sentence: `there are no battery sets for ${name} at its base`,
      data: { actual: 0, allowed: 1, unit: "sets" },
    };
  const { baseId, sets } = stock;
  const fullSets = morningSets(operation, baseId, sets);
  const night = nightOf(operation, baseId);
  return {
    sentence: `overnight base ${baseId} charges ${fullSets} of its ${sets} battery sets for ${id}: chargers ${readable(night.chargersKw)} kW, mains ${readable(night.mainsKw)} kW, ${readable(night.hours)} h`,
    data: { actual: fullSets, allowed: 1, unit: "sets", baseId, sets, ...night },
  };
}

function chargerWords({ types, operation }: Problem, type: number): Words {
  const { name, power, id } = types[type]!;
  const { aircraft, chargers, tenders } = operation.fleet;
  const kw = power.source === "battery" ? power.chargeKw : 0;
  const bases = new Set(aircraft.filter(({ typeId }) => typeId === id).map(({ baseId }) => baseId));
  const here = (thing: { readonly baseId: string }) => bases.has(thing.baseId as never);
  const chargerKw = Math.max(0, ...chargers.filter(here).map((charger) => charger.kw));
  const generatorKw = Math.max(0, ...tenders.filter(here).map((tender) => tender.generatorKw));
  return {
    sentence: `a set of ${name} charges with ${readable(kw)} kW, the strongest charger of its base gives ${readable(chargerKw)} kW and the strongest generator ${readable(generatorKw)} kW`,
    data: { actual: kw, allowed: Math.min(chargerKw, generatorKw), unit: "kW", chargerKw, generatorKw },
  };
}

function serviceWords({ types, operation }: Problem, type: number): Words {
  const { id, name } = types[type]!;
  const out = operation.fleet.aircraft.filter(({ typeId, outOfService }) => typeId === id && outOfService.length > 0);
  const spans = out.map(({ id: aircraftId, outOfService }) => ({ aircraftId, outOfService }));
  const words = out.map(
    (aircraft) => `${aircraft.id} ${aircraft.outOfService.map(({ from, to }) => `${from} to ${to}`).join(", ")}`,
  );
  return { sentence: `${name} out of service: ${words.join("; ")}`, data: { aircraft: spans } };
}

function shiftWords({ crews }: Problem): Words {
  const shifts = crews.flatMap((crew) => crew.shifts.map((shift) => ({ crewId: crew.id, ...shift })));
  if (shifts.length === 0) return { sentence: "no crew has a shift", data: { shifts } };
  const from = shifts.map((shift) => shift.from).sort()[0]!;
  const late = shifts
    .map((shift) => (shift.to > shift.from ? shift.to : `${shift.to} of the next day`))
    .sort(nextDayLast);
  return { sentence: `crews are on shift between ${from} and ${late.at(-1)!} at most`, data: { shifts } };
}

function nextDayLast(one: string, other: string): number {
  return one.length - other.length || (one < other ? -1 : 1);
}

function dutyWords({ crews }: Problem, alone: Alone): Words {
  const least = alone.leastDutyMin();
  const mostHours = Math.max(
    ...crews.map(({ dutyMaxHoursPerDay, dutyMaxHoursPerWeek }) => Math.min(dutyMaxHoursPerDay, dutyMaxHoursPerWeek)),
  );
  const allowed = mostHours * 60;
  return {
    sentence:
      least === undefined
        ? `a crew is on duty for at most ${readable(mostHours)} h`
        : `the way there, the work and the way home take at least ${hoursAndMinutes(least)}, a crew is on duty for at most ${hoursAndMinutes(allowed)}`,
    data: { actual: least ?? null, allowed, unit: "min" },
  };
}

function lockWords({ locks, crews, slots, calendar }: Problem, block: number): Words {
  const slot = locks.slotOf[block]!;
  if (slot === anySlot) return { sentence: "crews' days are locked with nothing else in them", data: {} };
  if (slot < 0) return { sentence: "it is locked to a crew on a day without a shift", data: {} };
  const { crew, day } = slots[slot]!;
  const date = calendar.dates[day]!;
  return {
    sentence: `it is locked to ${crews[crew]!.name} on ${date}`,
    data: { crewId: crews[crew]!.id, date },
  };
}
