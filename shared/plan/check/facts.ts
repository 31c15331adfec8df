import { addDays, type Calendar, createCalendar } from "../../model/calendar.ts";
import type { FieldFeature } from "../../model/field.ts";
import type { Aircraft, AircraftType, Charger, Crew, Tender } from "../../model/fleet.ts";
import type { Operation } from "../../model/operation.ts";
import type { Order } from "../../model/order.ts";
import type { LabelUse, Product } from "../../model/product.ts";
import type { Method } from "../../model/quantities.ts";
import type { Activity, Block, CrewDay, Plan } from "../plan.ts";
import type { Subject } from "./report.ts";
import type { Span } from "./spans.ts";
import { stretchesOf, stretchMinutes } from "./stretches.ts";

export type Work = Extract<Activity, { kind: "work" }>;

/** What an order puts on its field. */
export interface Mix {
  readonly order: Order;
  readonly field: FieldFeature;
  readonly products: readonly Product[];
  /** The label's use on the field's crop, for each product; undefined when the label has none. */
  readonly uses: readonly (LabelUse | undefined)[];
  readonly method: Method;
  /** L of mix or kg of granules per hectare. */
  readonly ratePerHa: number;
  readonly compatibilityGroup: string;
}

export interface Place {
  readonly id: string;
  readonly kind: "base" | "waterPoint" | "pad";
  readonly latDeg: number;
  readonly lonDeg: number;
  /** Undefined where no water is taken. */
  readonly fillLPerMin: number | undefined;
}

/** A crew-day with what its ids stand for; what is unknown is missing here and reported by the rule knownIds. */
export interface Day {
  readonly crewDay: CrewDay;
  readonly crew: Crew | undefined;
  readonly aircraft: readonly Aircraft[];
  /** Type of each aircraft, in the aircraft's order. */
  readonly types: readonly AircraftType[];
  readonly tender: Tender | undefined;
  readonly chargers: readonly Charger[];
  readonly startMin: number;
  readonly endMin: number;
  readonly subject: Subject;
}

export interface Stop {
  readonly day: Day;
  readonly work: Work;
  readonly block: Block;
  readonly mix: Mix;
  /** Those of the outfit that work the block, and the type of each. */
  readonly aircraft: readonly Aircraft[];
  readonly types: readonly AircraftType[];
  /** The work without its pauses. */
  readonly stretches: readonly Span[];
  /** What the work itself takes: all stretches without starting up again after the pauses. */
  readonly workMin: number;
  readonly subject: Subject;
}

export interface Facts {
  readonly operation: Operation;
  readonly plan: Plan;
  readonly calendar: Calendar;
  readonly fields: ReadonlyMap<string, FieldFeature>;
  readonly orders: ReadonlyMap<string, Order>;
  readonly blocks: ReadonlyMap<string, Block>;
  readonly blocksOfOrder: ReadonlyMap<string, readonly Block[]>;
  readonly places: ReadonlyMap<string, Place>;
  readonly types: ReadonlyMap<string, AircraftType>;
  readonly aircraft: ReadonlyMap<string, Aircraft>;
  readonly tenders: ReadonlyMap<string, Tender>;
  readonly chargers: ReadonlyMap<string, Charger>;
  readonly crews: ReadonlyMap<string, Crew>;
  /** Mix of each order whose field and products are known. */
  readonly mixes: ReadonlyMap<string, Mix>;
  /** Crew-days that have an activity. */
  readonly days: readonly Day[];
  /** Works within reach; what lies far outside the operation's days has no sun and no weather to be judged by. */
  readonly stops: readonly Stop[];
  readonly reach: Span;
}

export function gatherFacts(operation: Operation, plan: Plan): Facts {
  const { fleet } = operation;
  const fields = new Map<string, FieldFeature>(operation.fields.features.map((field) => [field.properties.id, field]));
  const products = byId(operation.products);
  const mixes = new Map<string, Mix>();
  for (const order of operation.orders) {
    const mix = mixOf(order, fields, products);
    if (mix !== undefined) mixes.set(order.id, mix);
  }
  const maps = {
    types: byId(fleet.aircraftTypes),
    aircraft: byId(fleet.aircraft),
    tenders: byId(fleet.tenders),
    chargers: byId(fleet.chargers),
    crews: byId(fleet.crews),
  };
  const blocks = new Map<string, Block>();
  const blocksOfOrder = new Map<string, Block[]>();
  for (const block of plan.blocks) {
    blocks.set(block.id, block);
    blocksOfOrder.set(block.orderId, [...(blocksOfOrder.get(block.orderId) ?? []), block]);
  }
  const calendar = createCalendar(operation.settings);
  const reach = reachOf(calendar);
  const days = plan.crewDays.filter(({ activities }) => activities.length > 0).map((crewDay) => dayOf(crewDay, maps));
  const stops = days.flatMap((day) =>
    day.crewDay.activities.flatMap((work): Stop[] => {
      if (work.kind !== "work" || !isWithin(work, reach)) return [];
      const block = blocks.get(work.blockId);
      const mix = block && mixes.get(block.orderId);
      if (block === undefined || mix === undefined) return [];
      const stretches = stretchesOf(work);
      const resumeMin = (work.pauses?.length ?? 0) * operation.settings.planning.resumeMin;
      const workMin = stretchMinutes(stretches) - resumeMin;
      const subject = { ...day.subject, orderId: mix.order.id, blockId: block.id };
      const aircraft = aircraftAtWork(day, work);
      const types = aircraft.map((one) => maps.types.get(one.typeId)!);
      return [{ day, work, block, mix, aircraft, types, stretches, workMin, subject }];
    }),
  );
  return {
    operation,
    plan,
    calendar,
    fields,
    orders: byId(operation.orders),
    blocks,
    blocksOfOrder,
    places: placesOf(operation),
    ...maps,
    mixes,
    days,
    stops,
    reach,
  };
}

/**
 * The last shift may end on the day after the operation's last. Our choice: one day more on either side, so that what is
 * only a little off is still judged by every rule.
 */
function reachOf({ dates, minOfDate }: Calendar): Span {
  return { fromMin: minOfDate(addDays(dates[0]!, -1)), toMin: minOfDate(addDays(dates.at(-1)!, 3)) };
}

export function isWithin({ startMin, endMin }: Activity, { fromMin, toMin }: Span): boolean {
  return fromMin <= startMin && endMin <= toMin;
}

function byId<Item extends { readonly id: string }>(items: readonly Item[]): Map<string, Item> {
  return new Map(items.map((item) => [item.id, item]));
}

function mixOf(
  order: Order,
  fields: ReadonlyMap<string, FieldFeature>,
  products: ReadonlyMap<string, Product>,
): Mix | undefined {
  const field = fields.get(order.fieldId);
  const parts = order.products.map((part) => products.get(part.productId));
  const known = parts.filter((product) => product !== undefined);
  const first = known[0];
  if (field === undefined || first === undefined || known.length < parts.length) return undefined;
  const kgPerHa = order.products.reduce((sum, part) => sum + part.ratePerHa, 0);
  return {
    order,
    field,
    products: known,
    uses: known.map((product) => product.uses.find((use) => use.crop === field.properties.crop)),
    method: first.method,
    ratePerHa: first.method === "liquid" ? (order.carrierLPerHa ?? 0) : kgPerHa,
    compatibilityGroup: known.find((product) => product.compatibilityGroup !== "any")?.compatibilityGroup ?? "any",
  };
}

function dayOf(crewDay: CrewDay, maps: Pick<Facts, "types" | "aircraft" | "tenders" | "chargers" | "crews">): Day {
  const aircraft = crewDay.outfit.aircraftIds
    .map((id) => maps.aircraft.get(id))
    .filter((one) => one !== undefined && maps.types.has(one.typeId)) as Aircraft[];
  return {
    crewDay,
    crew: maps.crews.get(crewDay.crewId),
    aircraft,
    types: aircraft.map((one) => maps.types.get(one.typeId)!),
    tender: maps.tenders.get(crewDay.outfit.tenderId),
    chargers: crewDay.outfit.chargerIds.map((id) => maps.chargers.get(id)).filter((charger) => charger !== undefined),
    startMin: crewDay.activities[0]!.startMin,
    endMin: crewDay.activities.at(-1)!.endMin,
    subject: { crewId: crewDay.crewId, date: crewDay.date },
  };
}

function placesOf(operation: Operation): Map<string, Place> {
  const { bases, waterPoints } = operation.settings;
  const places: Place[] = [
    ...bases.map(({ id, latDeg, lonDeg, fillLPerMin }) => ({ id, kind: "base" as const, latDeg, lonDeg, fillLPerMin })),
    ...waterPoints.map(({ id, latDeg, lonDeg, fillLPerMin }) => ({
      id,
      kind: "waterPoint" as const,
      latDeg,
      lonDeg,
      fillLPerMin,
    })),
    ...operation.fields.features.flatMap(({ properties }) =>
      properties.pads.map((pad) => ({
        id: `${properties.id}/${pad.id}`,
        kind: "pad" as const,
        latDeg: pad.latDeg,
        lonDeg: pad.lonDeg,
        fillLPerMin: undefined,
      })),
    ),
  ];
  return byId(places);
}

/** The aircraft of the outfit that a work names; all where it names none, or none of the outfit, which is a breach. */
export function aircraftAtWork({ aircraft }: Day, { aircraftIds }: Work): readonly Aircraft[] {
  const named = aircraft.filter(({ id }) => aircraftIds?.includes(id));
  return named.length > 0 ? named : aircraft;
}

/** The distinct types of an outfit, or of the aircraft at work. */
export function distinctTypes({ types }: Pick<Day, "types">): AircraftType[] {
  return [...new Set(types)];
}

/** Whether two half-open intervals share a minute. */
export function overlap(aFromMin: number, aToMin: number, bFromMin: number, bToMin: number): boolean {
  return aFromMin < bToMin && bFromMin < aToMin;
}
