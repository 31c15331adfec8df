import { generateOperation } from "../../services/scenario/generate/generateOperation.ts";
import { createRandom, pickIndex, type Random } from "../../services/solver/random.ts";
import { createCalendar } from "../../shared/model/calendar.ts";
import { type Lock, lockSchema } from "../../shared/model/locks.ts";
import type { Operation } from "../../shared/model/operation.ts";
import { validateOperation } from "../../shared/model/validate.ts";
import { lockedAsItStands } from "../../shared/plan/lockedAsItStands.ts";
import type { CrewDay, Plan } from "../../shared/plan/plan.ts";
import { crowdedOperation } from "./crowdedOperation.ts";
import { contestedOperation } from "./exact/contestedOperation.ts";
import { sleepingAtInn } from "./inn.ts";
import { kindsOperation } from "./kindsOperation.ts";

/** A small operation with features turned on at random; some with shifts over midnight, for aircraft that may fly at night. */
export function anyOperation(seed: number): Operation {
  const operation = anyDays(seed);
  const random = createRandom(seed + 5000);
  if (random() < 0.75) return operation;
  const { fleet } = operation;
  const crews = fleet.crews.map((crew) => {
    const shifts = crew.shifts.map((shift) => (random() < 0.5 ? { ...shift, from: "15:00", to: "02:30" } : shift));
    return { ...crew, nightWork: random() < 0.7, shifts };
  });
  const aircraftTypes = fleet.aircraftTypes.map((type) => ({ ...type, nightCapable: random() < 0.7 }));
  return { ...operation, fleet: { ...fleet, crews, aircraftTypes } };
}

function anyDays(seed: number): Operation {
  const random = createRandom(seed);
  const between = (least: number, most: number) => least + pickIndex(random, most - least + 1);
  const chance = (share: number) => random() < share;
  const base = anyGround(seed, random);
  const slept = chance(0.5) ? sleepingAtInn(base, between(20, 40)) : base;
  const { fleet, settings } = slept;
  const mixedOutfit = chance(0.5);
  const shortOfHours = chance(0.3) ? { dutyMaxHoursPerDay: between(4, 7), dutyMaxHoursPerWeek: between(10, 20) } : {};
  const long = chance(0.3) ? between(60, 200) : null;
  return {
    ...slept,
    settings: {
      ...settings,
      planning: {
        ...settings.planning,
        ...(chance(0.5) ? { riskCentsPerHa: between(100, 900) } : {}),
        ...(chance(0.3) ? { pauseMaxMin: 0 } : { stretchMinMin: between(8, 20), resumeMin: between(0, 6) }),
        changeStartToleranceMin: between(0, 60),
      },
    },
    fleet: {
      ...fleet,
      crews: fleet.crews.map((crew) => ({
        ...crew,
        ...shortOfHours,
        ...(chance(0.2) ? { restMinHours: between(4, 16) } : {}),
        ...(mixedOutfit ? { mixedOutfit } : {}),
      })),
      aircraftTypes: fleet.aircraftTypes.map((type) =>
        long !== null && type.power.source === "battery"
          ? { ...type, power: { ...type.power, chargeMin: long } }
          : type,
      ),
    },
  };
}

function anyGround(seed: number, random: Random): Operation {
  const draw = random();
  if (draw < 0.25) return twoKinds(random);
  if (draw < 0.35) return crowdedOperation(seed);
  if (draw < 0.5) return contestedOperation(seed).operation;
  const size = { orders: 10 + pickIndex(random, 12), crews: 2 + pickIndex(random, 2), days: 2 + pickIndex(random, 3) };
  return generateOperation({ ...size, seed });
}

/** A crew or two with work of several days that neither type of aircraft does alone. */
function twoKinds(random: Random): Operation {
  const { orders, fleet, ...rest } = kindsOperation(true);
  const [crew] = fleet.crews;
  const [first] = crew!.shifts;
  const dates = ["2027-06-07", "2027-06-08", "2027-06-09"];
  const names = random() < 0.5 ? ["K1"] : ["K1", "K2"];
  const named = <Id extends string>(id: Id, name: string) => (name === "K1" ? id : (`${id}-${name}` as Id));
  const perCrew = <Thing extends { readonly id: string }>(things: readonly Thing[]) =>
    names.flatMap((name) => things.map((thing) => ({ ...thing, id: named(thing.id, name) })));
  return {
    ...rest,
    orders: orders.flatMap((order) =>
      Array.from({ length: 1 + pickIndex(random, 3) }, (_, at) => ({
        ...order,
        id: `${order.id}-${at}` as typeof order.id,
        priceCentsPerHa: 1500 + pickIndex(random, 5000),
      })),
    ),
    fleet: {
      ...fleet,
      aircraft: perCrew(fleet.aircraft),
      tenders: perCrew(fleet.tenders),
      chargers: perCrew(fleet.chargers),
      batteryStocks: fleet.batteryStocks.map((stock) => ({ ...stock, sets: stock.sets * names.length })),
      crews: names.map((name) => ({
        ...crew!,
        id: name as NonNullable<typeof crew>["id"],
        people: perCrew(crew!.people).filter(({ id }) => (name === "K1") === !id.endsWith("-K2")),
        shifts: dates.map((date) => ({ ...first!, date })),
      })),
    },
  };
}

/** Locks of some crew-days of a plan, each by another way of locking. */
export function someLocks(operation: Operation, plan: Plan, random: Random): Lock[] {
  const calendar = createCalendar(operation.settings);
  return plan.crewDays.flatMap((crewDay) => anyLock(calendar, plan, crewDay, random));
}

function anyLock(calendar: ReturnType<typeof createCalendar>, plan: Plan, crewDay: CrewDay, random: Random): Lock[] {
  const { crewId, date, outfit } = crewDay;
  const whole = lockedAsItStands(calendar, plan, crewDay);
  const some = whole.stops.filter(() => random() < 0.4).map(({ startAt: _, ...stop }) => stop);
  const ways: readonly object[] = [
    whole,
    { crewId, date, stops: some },
    { crewId, date, stops: some, inOrder: true },
    { crewId, date, stops: whole.stops.slice(0, 1) },
    { crewId, date, stops: some, nothingElse: true },
    { crewId, date, outfit: whole.outfit },
    { crewId, date, outfit: { tenderId: outfit.tenderId }, stops: some },
    { crewId, date, outfit: { aircraftIds: outfit.aircraftIds } },
    { crewId, date, outfit: { batterySets: whole.outfit?.batterySets } },
  ];
  return random() < 0.5 ? [] : [lockSchema.parse(ways[pickIndex(random, ways.length)])];
}

export function lockedWith(operation: Operation, locks: readonly Lock[]): Operation {
  const validation = validateOperation({ ...operation, locks });
  if (!validation.ok) throw new Error(JSON.stringify(validation.faults));
  return validation.operation;
}

/** The wind of all hours times a factor. */
export function windier(operation: Operation, factor: number): Operation {
  const weather = operation.weather.map((step) => ({
    ...step,
    windKph: factor * step.windKph,
    gustKph: factor * step.gustKph,
  }));
  return { ...operation, weather };
}

/** On one day of a plan some of what it has out is out of service. */
export function brokenDown(operation: Operation, { crewDays }: Plan, random: Random): Operation {
  const day = crewDays[pickIndex(random, crewDays.length)];
  if (day === undefined) return operation;
  const { aircraftIds } = day.outfit;
  const down = aircraftIds[pickIndex(random, aircraftIds.length)];
  const outOfService = [{ from: day.date, to: day.date }];
  const aircraft = operation.fleet.aircraft.map((one) => (one.id === down ? { ...one, outOfService } : one));
  return { ...operation, fleet: { ...operation.fleet, aircraft } };
}
