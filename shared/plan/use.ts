import { totalMin, union } from "../agronomy/intervals.ts";
import { workingBays } from "../fieldwork/workTime.ts";
import { addDays, type Calendar, createCalendar, minutesPerHour } from "../model/calendar.ts";
import type { Crew } from "../model/fleet.ts";
import type { Operation } from "../model/operation.ts";
import type { CrewDay, Plan } from "./plan.ts";
import {
  aircraftAtWork,
  crewDayTotals,
  found,
  indexBy,
  type Minutes,
  stretchesOf,
  sumOf,
  type Work,
  workedMin,
  worksOf,
} from "./totals.ts";

/** A thing on a day of the operation: how long it was there to go out, how long it was out. Of several things all their minutes together. */
export interface UsedDay {
  readonly date: string;
  readonly thereMin: number;
  readonly outMin: number;
}

export interface CrewUse {
  readonly crewId: string;
  readonly name: string;
  readonly baseId: string;
  readonly days: readonly {
    readonly date: string;
    readonly shiftMin: number;
    /** The shift's minutes, no more than a day's duty may have. */
    readonly allowedMin: number;
    readonly dutyMin: number;
    readonly workMin: number;
  }[];
  /** Of duty over all days, as far as weeks allow it. */
  readonly allowedMin: number;
  readonly dutyMin: number;
  readonly workMin: number;
}

export interface AircraftUse {
  readonly typeId: string;
  readonly name: string;
  readonly baseId: string;
  readonly days: readonly (UsedDay & { readonly inService: number; readonly workMin: number })[];
}

export interface ThingUse {
  readonly id: string;
  readonly baseId: string;
  readonly days: readonly UsedDay[];
}

export interface ChargerUse extends ThingUse {
  /** Minutes of one bay that outfits with it must at least have charged at the field, shared out evenly over their chargers; which bay fed which set no plan says. */
  readonly chargedMin: number;
}

export interface BatteryUse {
  readonly typeId: string;
  readonly baseId: string;
  readonly sets: number;
  readonly days: readonly { readonly date: string; readonly out: number; readonly changes: number }[];
}

/** What a plan uses of each crew and thing that the operation has. */
export interface Use {
  readonly crews: readonly CrewUse[];
  readonly aircraft: readonly AircraftUse[];
  readonly tenders: readonly ThingUse[];
  readonly chargers: readonly ChargerUse[];
  readonly batteries: readonly BatteryUse[];
}

/** Of a good plan. Things are there to go out while some crew of their base has a shift. */
export function useOf(operation: Operation, plan: Pick<Plan, "blocks" | "crewDays">): Use {
  const { fleet } = operation;
  const calendar = createCalendar(operation.settings);
  const crews = indexBy<Crew, string>(fleet.crews, ({ id }) => id);
  const days = plan.crewDays.map((crewDay) => ({
    crewDay,
    totals: crewDayTotals(
      crewDay,
      indexBy(plan.blocks, (b) => b.id),
    ),
  }));
  const daysOf = (date: string, isOurs: (crewDay: CrewDay) => boolean) =>
    days.filter(({ crewDay }) => crewDay.date === date && isOurs(crewDay));
  const baseOf = (crewDay: CrewDay) => found(crews, crewDay.crewId).baseId;
  const openMin = (baseId: string, date: string) =>
    totalMin(union(fleet.crews.flatMap((crew) => (crew.baseId === baseId ? shiftOf(calendar, crew, date) : []))));
  const outDays = (baseId: string, isOut: (crewDay: CrewDay) => boolean): UsedDay[] =>
    calendar.dates.map((date) => ({
      date,
      thereMin: openMin(baseId, date),
      outMin: sumOf(daysOf(date, isOut), ({ totals }) => totals.dutyMin),
    }));

  const aircraftKinds = fleet.aircraftTypes.flatMap((type) =>
    operation.settings.bases.flatMap((base) => {
      const own = fleet.aircraft.filter(({ typeId, baseId }) => typeId === type.id && baseId === base.id);
      return own.length === 0 ? [] : [{ type, base, own }];
    }),
  );
  return {
    crews: fleet.crews.map((crew) => crewUse(calendar, crew, days)),
    aircraft: aircraftKinds.map(({ type, base, own }) => ({
      typeId: type.id,
      name: type.name,
      baseId: base.id,
      days: calendar.dates.map((date) => {
        const inService = own.filter(({ outOfService }) =>
          outOfService.every(({ from, to }) => date < from || to < date),
        ).length;
        const count = (ids: readonly string[]) => own.filter(({ id }) => ids.includes(id)).length;
        const on = daysOf(date, (crewDay) => baseOf(crewDay) === base.id);
        return {
          date,
          inService,
          thereMin: inService * openMin(base.id, date),
          outMin: sumOf(on, ({ crewDay, totals }) => count(crewDay.outfit.aircraftIds) * totals.dutyMin),
          workMin: sumOf(on, ({ crewDay }) =>
            sumOf(worksOf(crewDay), (work) => count(aircraftAtWork({ crewDay, work })) * workedMin(work)),
          ),
        };
      }),
    })),
    tenders: fleet.tenders.map(({ id, baseId }) => ({
      id,
      baseId,
      days: outDays(baseId, ({ outfit }) => outfit.tenderId === id),
    })),
    chargers: fleet.chargers.map(({ id, baseId }) => ({
      id,
      baseId,
      days: outDays(baseId, ({ outfit }) => outfit.chargerIds.includes(id)),
      chargedMin: sumOf(plan.crewDays, (crewDay) =>
        crewDay.outfit.chargerIds.includes(id)
          ? chargedAtFieldMin(operation, crewDay) / crewDay.outfit.chargerIds.length
          : 0,
      ),
    })),
    batteries: fleet.batteryStocks.map(({ baseId, aircraftTypeId, sets }) => ({
      typeId: aircraftTypeId,
      baseId,
      sets,
      days: calendar.dates.map((date) => {
        const on = daysOf(date, (crewDay) => baseOf(crewDay) === baseId);
        return {
          date,
          out: sumOf(on, ({ crewDay }) => setsOf(crewDay, aircraftTypeId)),
          changes: sumOf(on, ({ crewDay }) =>
            sumOf(worksOfType(operation, crewDay, aircraftTypeId), ({ detail }) => detail.batteryChanges),
          ),
        };
      }),
    })),
  };
}

/** The crew's shift that begins on the date; none on a day off. */
export function shiftOf(calendar: Calendar, { shifts }: Pick<Crew, "shifts">, date: string): Minutes[] {
  return shifts
    .filter((shift) => shift.date === date)
    .map(({ from, to }) => ({
      startMin: calendar.minOfLocal(`${date}T${from}`),
      endMin: calendar.minOfLocal(`${to > from ? date : addDays(date, 1)}T${to}`),
    }));
}

const weekDays = 7;

function crewUse(
  calendar: Calendar,
  crew: Crew,
  all: readonly {
    readonly crewDay: CrewDay;
    readonly totals: { readonly dutyMin: number; readonly workMin: number };
  }[],
): CrewUse {
  const days = calendar.dates.map((date) => {
    const own = all.filter(({ crewDay }) => crewDay.crewId === crew.id && crewDay.date === date);
    const shiftMin = totalMin(shiftOf(calendar, crew, date));
    return {
      date,
      shiftMin,
      allowedMin: Math.min(shiftMin, crew.dutyMaxHoursPerDay * minutesPerHour),
      dutyMin: sumOf(own, ({ totals }) => totals.dutyMin),
      workMin: sumOf(own, ({ totals }) => totals.workMin),
    };
  });
  // Week after week from the first day; the rule asks it of any seven days, which may allow less.
  let allowedMin = 0;
  for (let first = 0; first < days.length; first += weekDays) {
    const inDays = sumOf(days.slice(first, first + weekDays), (day) => day.allowedMin);
    allowedMin += Math.min(inDays, crew.dutyMaxHoursPerWeek * minutesPerHour);
  }
  return {
    crewId: crew.id,
    name: crew.name,
    baseId: crew.baseId,
    days,
    allowedMin,
    dutyMin: sumOf(days, (day) => day.dutyMin),
    workMin: sumOf(days, (day) => day.workMin),
  };
}

function setsOf({ outfit }: CrewDay, typeId: string): number {
  return sumOf(outfit.batterySets, ({ aircraftTypeId, sets }) => (aircraftTypeId === typeId ? sets : 0));
}

/** Each work is of one type: that of any aircraft at it. */
function worksOfType({ fleet }: Operation, crewDay: CrewDay, typeId: string): Work[] {
  return worksOf(crewDay).filter((work) => {
    const ids = aircraftAtWork({ crewDay, work });
    return fleet.aircraft.some((one) => one.typeId === typeId && ids.includes(one.id));
  });
}

/** Minutes of one bay that the day's flying takes beyond the sets that went out full, no more than the bays had from the first work to the last. */
function chargedAtFieldMin(operation: Operation, crewDay: CrewDay): number {
  const { aircraftTypes, chargers, tenders } = operation.fleet;
  const own = chargers.filter(({ id }) => crewDay.outfit.chargerIds.includes(id));
  const tender = tenders.find(({ id }) => id === crewDay.outfit.tenderId)!;
  const stretches = worksOf(crewDay).flatMap(stretchesOf);
  return sumOf(aircraftTypes, ({ id, power }) => {
    const sets = setsOf(crewDay, id);
    if (power.source === "fuel" || sets === 0) return 0;
    const airMin = sumOf(
      worksOfType(operation, crewDay, id),
      ({ detail: { sprayMin, turnMin, ferryMin } }) => sprayMin + turnMin + ferryMin,
    );
    const takenSets = airMin / (power.enduranceMin * (1 - power.reserveFrac));
    const couldMin = workingBays(own, tender.generatorKw, power.chargeKw) * totalMin(stretches);
    return Math.min(Math.max(0, takenSets - sets) * power.chargeMin, couldMin);
  });
}
