import { createAgronomy } from "../agronomy/agronomy.ts";
import { type Calendar, createCalendar } from "../model/calendar.ts";
import type { Lock, LockedStop } from "../model/locks.ts";
import type { Operation } from "../model/operation.ts";
import type { CrewDay } from "../plan/plan.ts";
import { groupBy, stretchesOf } from "../plan/totals.ts";
import { busyUntil } from "./daysLeft.ts";
import type { Happened, ToldStop } from "./happened.ts";
import { hasOutfit, isSameOrder, type SortedStops } from "./sortStops.ts";

export interface LocksLeft {
  readonly locks: Lock[];
  /** Stops that are to be as they stand. */
  readonly kept: ReadonlySet<ToldStop>;
  /** Stops that were to be kept and cannot. */
  readonly notKept: readonly ToldStop[];
}

/** The locks of the dispatcher, of what has begun, and of published crew-days that are to stay. Minutes are those of `calendar`, whatever the operation's first day is. */
export function locksLeft(
  operation: Operation,
  happened: Happened,
  sorted: SortedStops,
  asOfMin: number,
  keepUntil: string | undefined,
  calendar: Calendar,
): LocksLeft {
  const firstDay = operation.settings.firstDay;
  const holds = createHolds(operation, calendar);
  const ordersCut = new Set([...sorted.gone, ...sorted.inPart].map(({ block }) => block.orderId));
  const toCome = happened.stops.filter(
    ({ crewDay, state, startMin }) =>
      keepUntil !== undefined &&
      crewDay.date >= firstDay &&
      crewDay.date <= keepUntil &&
      state === "notBegun" &&
      startMin >= asOfMin,
  );
  const onTheWay = happened.stops.filter((stop) => isOnTheWay(happened, stop, asOfMin));
  const freeAtMin = (crewDay: CrewDay) => busyUntil(happened, { crewDay }, asOfMin);
  const canStay = (stop: ToldStop) =>
    !ordersCut.has(stop.block.orderId) &&
    isSameOrder(operation, stop) &&
    hasOutfit(operation, stop.crewDay) &&
    stop.startMin >= freeAtMin(stop.crewDay) &&
    holds(stop);
  const kept = new Set([...sorted.locked, ...[...onTheWay, ...toCome].filter(canStay)]);
  const days = groupBy([...kept], ({ crewDay }) => crewDay);
  // A crew whose work of today has been taken out of the plan goes on with what it has out there.
  const out = happened.stops
    .filter((stop) => stop.state !== "notBegun" && stop.crewDay.date >= firstDay && !days.has(stop.crewDay))
    .map(({ crewDay }) => crewDay);
  const own = [...new Set([...days.keys(), ...out])].map((crewDay): Lock => {
    const stops = (days.get(crewDay) ?? []).toSorted((a, b) => a.startMin - b.startMin);
    const untilMin = freeAtMin(crewDay);
    const all = happened.stops.filter((stop) => stop.crewDay === crewDay);
    const isWhole = keepUntil !== undefined && crewDay.date <= keepUntil && stops.length === all.length;
    return {
      crewId: crewDay.crewId,
      date: crewDay.date,
      ...(hasOutfit(operation, crewDay) ? { outfit: outfitOf(crewDay) } : {}),
      stops: stops.map((stop) => ({ ...partOf(stop), startAt: localOf(calendar, stop.startMin) })),
      inOrder: stops.length > 0,
      ...(untilMin > asOfMin ? { freeFrom: localOf(calendar, untilMin) } : {}),
      nothingElse: isWhole,
    };
  });
  return {
    locks: withDispatchers(operation, own, happened, ordersCut),
    kept,
    notKept: toCome.filter((stop) => !kept.has(stop)),
  };
}

/** Whether, by what it was told, a crew is on its way to the stop: nothing of what it was told after that has begun, and the way has. */
function isOnTheWay({ stops }: Happened, stop: ToldStop, asOfMin: number): boolean {
  const { crewDay, work, startMin, state } = stop;
  if (state !== "notBegun" || startMin < asOfMin) return false;
  const ofDay = stops.filter((one) => one.crewDay === crewDay);
  const hasLater = ofDay.some((one) => one.startMin > startMin && one.state !== "notBegun");
  const before = ofDay.filter((one) => one.startMin < startMin);
  if (hasLater || before.some((one) => one.state === "notBegun" || one.state === "running")) return false;
  const { activities } = crewDay;
  const lastWork = activities.findLastIndex(
    (activity) => activity.kind === "work" && activity.startMin < work.startMin,
  );
  const way = activities.slice(lastWork + 1, activities.indexOf(work)).find(({ kind }) => kind !== "wait");
  return way !== undefined && way.startMin + startMin - work.startMin < asOfMin;
}

function localOf(calendar: Calendar, min: number) {
  return calendar.isoOfMin(Math.ceil(min)).slice(0, "2027-06-07T05:30".length) as NonNullable<LockedStop["startAt"]>;
}

function partOf({ block: { orderId, part, parts } }: ToldStop): LockedStop {
  return { orderId, part, parts };
}

/** Bays follow from chargers and sets, so a lock does not name them. */
function outfitOf({ outfit }: CrewDay): NonNullable<Lock["outfit"]> {
  return {
    aircraftIds: [...outfit.aircraftIds],
    tenderId: outfit.tenderId,
    chargerIds: [...outfit.chargerIds],
    batterySets: outfit.batterySets.map(({ aircraftTypeId, sets }) => ({ aircraftTypeId, sets })),
  };
}

/** Whether the windows of now hold all of a stop as it was told, for every type at work. */
function createHolds(operation: Operation, told: Calendar): (stop: ToldStop) => boolean {
  const agronomy = createAgronomy(operation, createCalendar(operation.settings));
  const firstMin = told.minOfDate(operation.settings.firstDay);
  const { fleet, orders } = operation;
  return ({ work, block, crewDay, startMin }) => {
    const order = orders.find(({ id }) => id === block.orderId);
    const crew = fleet.crews.find(({ id }) => id === crewDay.crewId);
    if (order === undefined || crew === undefined) return false;
    const atWork = work.aircraftIds ?? crewDay.outfit.aircraftIds;
    const typeIds = new Set(fleet.aircraft.filter(({ id }) => atWork.includes(id)).map(({ typeId }) => typeId));
    const laterMin = startMin - work.startMin - firstMin;
    return fleet.aircraftTypes
      .filter(({ id }) => typeIds.has(id))
      .every((type) => {
        if (agronomy.orderLimits(order).length + agronomy.typeLimits(order, type).length > 0) return false;
        const { windows } = agronomy.windows(order, type, { night: crew.nightWork });
        return stretchesOf(work).every((stretch) =>
          windows.some(
            (window) => window.startMin <= stretch.startMin + laterMin && stretch.endMin + laterMin <= window.endMin,
          ),
        );
      });
  };
}

/** What has begun comes before what the dispatcher has fixed of the same day; of orders that are cut anew single parts mean nothing any more. */
function withDispatchers(
  operation: Operation,
  own: readonly Lock[],
  { stops }: Happened,
  ordersCut: ReadonlySet<string>,
): Lock[] {
  const { locks, orders, settings } = operation;
  const isThere = new Set<string>(orders.map(({ id }) => id));
  const taken = new Set(own.flatMap((lock) => lock.stops.map(({ orderId, part }) => `${orderId}#${part}`)));
  const takenOrders = new Set<string>(own.flatMap((lock) => lock.stops.map(({ orderId }) => orderId)));
  const left = ({ orderId, part, parts, startAt }: LockedStop): LockedStop[] => {
    if (!isThere.has(orderId)) return [];
    if (part !== undefined && ordersCut.has(orderId)) return [];
    if (!takenOrders.has(orderId)) return [{ orderId, part, parts, startAt }];
    if (part !== undefined) return taken.has(`${orderId}#${part}`) ? [] : [{ orderId, part, parts, startAt }];
    // All of an order of which something has begun: the other parts, one by one.
    const blocks = new Map(
      stops
        .flatMap(({ block, told }) => told.blocks.filter((one) => one.orderId === block.orderId))
        .map((block) => [block.id, block]),
    );
    return [...blocks.values()]
      .filter((block) => block.orderId === orderId && !taken.has(block.id))
      .map((block) => ({ orderId, part: block.part, parts: block.parts }));
  };
  const theirs = locks
    .filter(({ date }) => date >= settings.firstDay)
    .map((lock) => ({ ...lock, stops: lock.stops.flatMap(left) }));
  const isSame = (one: Lock, other: Lock) => one.crewId === other.crewId && one.date === other.date;
  const merged = own.map((lock) => {
    const other = theirs.find((one) => isSame(one, lock));
    if (other === undefined) return lock;
    return {
      ...other,
      ...lock,
      ...((lock.outfit ?? other.outfit) ? { outfit: lock.outfit ?? other.outfit } : {}),
      stops: [...lock.stops, ...other.stops],
      inOrder: other.stops.length === 0 || other.inOrder,
      nothingElse: lock.nothingElse || other.nothingElse,
    };
  });
  return [...merged, ...theirs.filter((lock) => !own.some((one) => isSame(one, lock)))];
}
