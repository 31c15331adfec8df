import { createAgronomy } from "../agronomy/agronomy.ts";
import { type Interval, totalMin, union } from "../agronomy/intervals.ts";
import { hoursOfHorizon } from "../agronomy/windows.ts";
import type { AircraftType, Crew } from "../model/fleet.ts";
import type { Operation } from "../model/operation.ts";
import type { Order } from "../model/order.ts";
import { remember, rememberBy } from "../model/remember.ts";
import { addShares, type ClosedBy, closedByHour, partsAsked, roundedHa } from "./calmClosed.ts";
import { type LocalTime, localTimeOf } from "./localTime.ts";
import { minutesByHour } from "./minutesByHour.ts";
import type { CrewDay, Plan } from "./plan.ts";
import { indexPlan, type PlanIndex } from "./planIndex.ts";
import { sumOf } from "./totals.ts";

export interface CalmHour {
  readonly start: LocalTime;
  readonly end: LocalTime;
  /** Hectares of the orders that some aircraft may work, by the share of the hour in which it may. */
  readonly openHa: number;
  /** The gravest first, three at most. */
  readonly closedBy: readonly ClosedBy[];
}

/** The same for what one crew takes out on a day, or could take out where it stays at home. */
export interface CalmOfCrew {
  readonly crewId: string;
  readonly date: string;
  /** Hectares of the orders that it could work at some time of the week. */
  readonly ableHa: number;
  /** By hour of the day. */
  readonly openHa: readonly number[];
}

export interface CalmHours {
  /** Hectares of the orders that some aircraft could work at some time, were it not for the hours. */
  readonly ableHa: number;
  readonly days: readonly { readonly date: string; readonly hours: readonly CalmHour[] }[];
  readonly crews: readonly CalmOfCrew[];
  /** The kind of aircraft by which an order's hours are told: of its stops, else that which has the most open minutes. Not for orders that no aircraft may work. */
  readonly orders: readonly { readonly orderId: string; readonly aircraftTypeId: string; readonly night: boolean }[];
}

/** How much of the plan's orders may be worked hour by hour: the ground on which the week is drawn. */
export function calmHours(operation: Operation, plan: Pick<Plan, "blocks" | "crewDays">): CalmHours {
  const index = indexPlan(operation, plan);
  const { calendar } = index;
  const { fleet } = operation;
  const agronomy = createAgronomy(operation, calendar);
  const hours = hoursOfHorizon(calendar);
  const byHour = remember((list: readonly Interval[]) => minutesByHour(list, hours));

  const isThere = new Set(fleet.aircraft.map(({ typeId }) => typeId));
  const types = fleet.aircraftTypes.filter(({ id }) => isThere.has(id));
  const able = operation.orders.filter((order) => agronomy.orderLimits(order).length === 0);
  const typesOf = new Map(
    able.map((order) => [order, types.filter((type) => agronomy.typeLimits(order, type).length === 0)] as const),
  );
  const someNight = fleet.crews.some(({ nightWork }) => nightWork);

  /** Hectares by hour that the order has open for one of the types. */
  const openOf = (order: Order, these: readonly AircraftType[], night: boolean): Float64Array => {
    const openHa = new Float64Array(hours.length);
    for (const { asked, areaHa } of partsAsked(agronomy, order, night)) {
      const lists = these.map((type) => agronomy.windows(order, type, asked).windows);
      const minutes = lists.length === 1 ? byHour(lists[0]!) : minutesByHour(union(lists.flat()), hours);
      addShares(openHa, minutes, areaHa, hours);
    }
    return openHa;
  };
  const openTogether = (who: Who): { ableHa: number; openHa: Float64Array } => {
    const sum = new Float64Array(hours.length);
    let ableHa = 0;
    for (const order of able) {
      const these = typesOf.get(order)!.filter((type) => who.flies(order, type));
      if (these.length === 0) continue;
      ableHa += sumOf(agronomy.parts(order), ({ areaHa }) => areaHa);
      for (const [hour, openHa] of openOf(order, these, who.night).entries()) sum[hour]! += openHa;
    }
    return { ableHa, openHa: sum };
  };

  const everybody = openTogether({ flies: () => true, night: someNight });
  const told = able.flatMap((order) => {
    const stops = index.stops.filter(({ block }) => block.orderId === order.id);
    const night = stops[0] === undefined ? someNight : index.crew(stops[0].crewDay.crewId).nightWork;
    const type =
      (stops[0] && index.typesOf(stops[0])[0]) ??
      mostOf(typesOf.get(order)!, (one) => totalMin(agronomy.windows(order, one, { night }).windows));
    return type === undefined ? [] : [{ order, type, night }];
  });
  const closing = closedByHour(agronomy, told, hours);

  const ofCrew = rememberBy(
    (crew: Crew, typeIds: readonly string[]) => `${crew.id} ${typeIds.join(" ")}`,
    (crew: Crew, typeIds: readonly string[]) =>
      openTogether({
        flies: (order, type) => typeIds.includes(type.id) && isLicensed(index, crew, order, type),
        night: crew.nightWork,
      }),
  );
  const hoursOfDay = (day: number) =>
    [calendar.dayStartMin[day]!, calendar.dayStartMin[day + 1]!].map((midnightMin) => {
      const first = hours.findIndex(({ startMin }) => startMin === midnightMin);
      return first < 0 ? hours.length : first;
    }) as [number, number];
  const crews = fleet.crews.flatMap((crew) =>
    calendar.dates.map((date, day): CalmOfCrew => {
      const crewDay = plan.crewDays.find((one) => one.crewId === crew.id && one.date === date);
      const { ableHa, openHa } = ofCrew(crew, typeIdsOf(index, crew, crewDay));
      return {
        crewId: crew.id,
        date,
        ableHa: roundedHa(ableHa),
        openHa: Array.from(openHa.slice(...hoursOfDay(day)), roundedHa),
      };
    }),
  );

  return {
    ableHa: roundedHa(everybody.ableHa),
    days: calendar.dates.map((date, day) => {
      const [from, to] = hoursOfDay(day);
      return {
        date,
        hours: hours.slice(from, to).map(({ startMin, endMin }, at) => ({
          start: localTimeOf(calendar, startMin),
          end: localTimeOf(calendar, endMin),
          openHa: roundedHa(everybody.openHa[from + at]!),
          closedBy: closing(from + at),
        })),
      };
    }),
    crews,
    orders: told.map(({ order, type, night }) => ({ orderId: order.id, aircraftTypeId: type.id, night })),
  };
}

interface Who {
  flies(order: Order, type: AircraftType): boolean;
  readonly night: boolean;
}

/** Of what it takes out, or could take out of its base. */
function typeIdsOf({ aircraft, operation }: PlanIndex, crew: Crew, crewDay: CrewDay | undefined): string[] {
  const ids =
    crewDay === undefined
      ? operation.fleet.aircraft.filter(({ baseId }) => baseId === crew.baseId).map(({ typeId }) => typeId)
      : crewDay.outfit.aircraftIds.map((id) => aircraft(id).typeId);
  return [...new Set(ids)].sort();
}

/** Somebody in the crew may fly the type and holds the licences of all products. */
function isLicensed(index: PlanIndex, { people }: Crew, order: Order, type: AircraftType): boolean {
  const classes = index.productsOf(order).map(({ licenceClass }) => licenceClass);
  return people.some(
    ({ licenceClasses, ratings }) =>
      ratings.includes(type.id) && classes.every((licence) => licenceClasses.includes(licence)),
  );
}

function mostOf<Item>(items: readonly Item[], worth: (item: Item) => number): Item | undefined {
  return items.reduce<Item | undefined>(
    (best, item) => (best !== undefined && worth(best) >= worth(item) ? best : item),
    undefined,
  );
}
