import { type Calendar, createCalendar } from "../model/calendar.ts";
import type { FieldFeature } from "../model/field.ts";
import type { Aircraft, AircraftType, Charger, Crew, Tender } from "../model/fleet.ts";
import type { Operation } from "../model/operation.ts";
import type { Order } from "../model/order.ts";
import type { Product } from "../model/product.ts";
import type { BlockId } from "../model/quantities.ts";
import type { Base } from "../model/settings.ts";
import type { Block, Plan } from "./plan.ts";
import { aircraftAtWork, found, indexBy, type Stop, stopsOf } from "./totals.ts";

/** A plan and its operation, looked up by id. Only for plans that the checker has passed: an unknown id throws. */
export interface PlanIndex {
  readonly operation: Operation;
  readonly calendar: Calendar;
  readonly stops: readonly Stop[];
  readonly blocks: ReadonlyMap<BlockId, Block>;
  order(id: string): Order;
  field(id: string): FieldFeature;
  product(id: string): Product;
  crew(id: string): Crew;
  base(id: string): Base;
  tender(id: string): Tender;
  charger(id: string): Charger;
  type(id: string): AircraftType;
  aircraft(id: string): Aircraft;
  block(id: string): Block;
  productsOf(order: Order): Product[];
  /** Of the aircraft at work. */
  typesOf(stop: Pick<Stop, "crewDay" | "work">): AircraftType[];
  /** A base, a water point or a pad, in words. */
  placeWords(place: string): string;
}

export function indexPlan(operation: Operation, plan: Pick<Plan, "blocks" | "crewDays">): PlanIndex {
  const { fleet, settings } = operation;
  const by = <Item extends { readonly id: string }>(items: readonly Item[]) => {
    const map = indexBy<Item, string>(items, (item) => item.id);
    return (id: string) => found(map, id);
  };
  const fields = indexBy<FieldFeature, string>(operation.fields.features, (field) => field.properties.id);
  const field = (id: string) => found(fields, id);
  const product = by(operation.products);
  const type = by(fleet.aircraftTypes);
  const aircraft = by(fleet.aircraft);
  const placeNames = new Map<string, string>([
    ...settings.bases.map((base) => [base.id, base.name] as const),
    ...settings.waterPoints.map((point) => [point.id, point.name] as const),
  ]);

  return {
    operation,
    calendar: createCalendar(settings),
    stops: stopsOf(plan),
    order: by(operation.orders),
    field,
    product,
    crew: by(fleet.crews),
    base: by(settings.bases),
    tender: by(fleet.tenders),
    charger: by(fleet.chargers),
    type,
    aircraft,
    block: by<Block>(plan.blocks),
    blocks: indexBy(plan.blocks, (block) => block.id),
    productsOf: (order) => order.products.map((part) => product(part.productId)),
    typesOf: (stop) => [
      ...new Map(aircraftAtWork(stop).map((id) => [aircraft(id).typeId, type(aircraft(id).typeId)])).values(),
    ],
    placeWords: (place) => {
      const [fieldId, padId] = place.split("/");
      return padId === undefined ? found(placeNames, place) : `${field(fieldId!).properties.name}, pad ${padId}`;
    },
  };
}
