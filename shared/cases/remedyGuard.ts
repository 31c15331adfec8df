import { planeOf, toAreaXY } from "../geo/convert.ts";
import { nearestOnShape } from "../geo/distance.ts";
import { addDays } from "../model/calendar.ts";
import type { HireOffer } from "../model/fleet.ts";
import type { Operation } from "../model/operation.ts";
import type { Order } from "../model/order.ts";
import {
  extraHourMin,
  mostDaysAsked,
  type RemedyChange,
  type RemedyChangeOf,
  remedyChangeSchema,
} from "./remedyChange.ts";

/** Our choice: a pad stands at most so far from the field's edge. */
const padToEdgeM = 25;

/** Why these changes are no remedy for the operation, each in a sentence; none: they break no label, licence, duty, rest or buffer, and ask for nothing that is not to be had. */
export function remedyFaults(operation: Operation, changes: readonly unknown[]): string[] {
  return changes.flatMap((raw) => {
    const parsed = remedyChangeSchema.safeParse(raw);
    if (!parsed.success) return ["no remedy changes this"];
    const fault = faultOf(operation, parsed.data);
    return fault === null ? [] : [fault];
  });
}

type Judges = {
  readonly [Kind in RemedyChange["kind"]]: (of: Operation, change: RemedyChangeOf<Kind>) => string | null;
};

function faultOf(operation: Operation, change: RemedyChange): string | null {
  return (judges[change.kind] as (of: Operation, change: RemedyChange) => string | null)(operation, change);
}

const judges: Judges = {
  longerShift: (_, { earlierMin, laterMin }) =>
    earlierMin + laterMin > 0 && earlierMin + laterMin <= extraHourMin ? null : "a shift lasts an hour longer at most",
  setShift: ({ fleet, settings }, { crewId, date, from, to }) => {
    const crew = fleet.crews.find(({ id }) => id === crewId);
    const isInPlan = date >= settings.firstDay && date < addDays(settings.firstDay, settings.days);
    if (crew === undefined || !isInPlan) return "there is no such crew or day";
    if (crew.shifts.some((shift) => shift.date === date)) return "the crew has a shift on that day";
    const isUsual = crew.shifts.some((shift) => shift.from === from && shift.to === to);
    return isUsual ? null : "a crew works on its day off at hours that it works at on other days";
  },
  moveThings: ({ fleet, locks }, { aircraftIds, chargerIds, tenderIds }) => {
    const moved = new Set<string>([...aircraftIds, ...chargerIds, ...tenderIds]);
    const known = [...fleet.aircraft, ...fleet.chargers, ...fleet.tenders].filter(({ id }) => moved.has(id));
    if (known.length < moved.size) return "there is no such thing";
    const locked = locks.flatMap(({ outfit }) => [
      ...(outfit?.aircraftIds ?? []),
      ...(outfit?.chargerIds ?? []),
      outfit?.tenderId ?? "",
    ]);
    return locked.some((id) => moved.has(id)) ? "what is locked stays where it is" : null;
  },
  addAircraft: (of, { typeId, baseId, count, batterySets }) =>
    hired(
      of,
      "aircraft",
      baseId,
      count,
      (offer) => offer.typeId === typeId && batterySets <= offer.batterySets * count,
    ),
  batterySets: (of, { typeId, baseId, more }) =>
    hired(of, "batterySets", baseId, more, (offer) => offer.typeId === typeId),
  addCharger: (of, { baseId, bays, kw, count }) =>
    hired(of, "charger", baseId, count, (offer) => offer.bays === bays && offer.kw === kw),
  addTender: (of, { like, baseId, count }) => hired(of, "tender", baseId, count, (offer) => offer.like === like),
  addPad: ({ fields }, { fieldId, pad }) => {
    const field = fields.features.find(({ properties }) => properties.id === fieldId);
    if (field === undefined) return "there is no such field";
    const plane = planeOf(field.geometry);
    const rings = toAreaXY(plane, field.geometry).flat();
    const at = plane.toXY([pad.lonDeg, pad.latDeg]);
    const toEdgeM = rings.map((points) => nearestOnShape(at, { kind: "line", points }).distanceM);
    return Math.min(...toEdgeM) <= padToEdgeM ? null : "a pad stands at the edge of its field";
  },
  harvestDate: ({ fields }, { fieldId, date }) => {
    const before = fields.features.find(({ properties }) => properties.id === fieldId)?.properties.harvestDate;
    if (before === undefined) return "the field has no harvest date";
    return date > before && date <= addDays(before, mostDaysAsked) ? null : later;
  },
  changeOrder: ({ orders }, { orderId, set }) => {
    const order = orders.find(({ id }) => id === orderId);
    return order === undefined ? "there is no such order" : orderFault(order, set);
  },
};

const later = `a grower is asked to move a date by ${mostDaysAsked} days at most, and only to give more time`;

function orderFault(order: Order, set: RemedyChangeOf<"changeOrder">["set"]): string | null {
  if ("earliest" in set)
    return set.earliest < order.earliest && set.earliest >= addDaysTo(order.earliest, -mostDaysAsked) ? null : later;
  if ("latest" in set)
    return set.latest > order.latest && set.latest <= addDaysTo(order.latest, mostDaysAsked) ? null : later;
  if ("maySplit" in set) return order.maySplit ? "the order may be split already" : null;
  const isListed = (order.alternatives ?? []).some(
    ({ products, carrierLPerHa }) =>
      (carrierLPerHa ?? null) === (set.carrierLPerHa ?? null) &&
      JSON.stringify(products) === JSON.stringify(set.products),
  );
  return isListed ? null : "the order does not list these products as an alternative";
}

/** A local date and time so many days later, at the same time of day. */
export function addDaysTo(localDateTime: Order["latest"], days: number): Order["latest"] {
  const [date, clock] = localDateTime.split("T");
  return `${addDays(date!, days)}T${clock}` as Order["latest"];
}

function hired<Kind extends HireOffer["kind"]>(
  { fleet }: Operation,
  kind: Kind,
  baseId: HireOffer["baseIds"][number],
  count: number,
  fits: (offer: Extract<HireOffer, { kind: Kind }>) => boolean,
): string | null {
  const isOffered = (fleet.hire ?? []).some(
    (offer) =>
      offer.kind === kind &&
      offer.baseIds.includes(baseId) &&
      count <= offer.most &&
      fits(offer as Extract<HireOffer, { kind: Kind }>),
  );
  return isOffered ? null : "nothing of the kind is for hire there, or not so many";
}
