import { areaM2 } from "../geo/area.ts";
import { difference, offset, union } from "../geo/clip.ts";
import { planeOf, toAreaXY, toMultiPolygon } from "../geo/convert.ts";
import type { AreaXY } from "../geo/plane.ts";
import { tidy } from "../geo/tidy.ts";
import type { Calendar } from "../model/calendar.ts";
import { minutesPerHour } from "../model/calendar.ts";
import type { FieldFeature } from "../model/field.ts";
import type { Operation } from "../model/operation.ts";
import type { Order } from "../model/order.ts";
import type { OrderId } from "../model/quantities.ts";
import { groupBy, indexBy } from "../plan/totals.ts";
import { haFromM2 } from "../units/units.ts";
import { donePart } from "./donePart.ts";
import type { ToldStop } from "./happened.ts";
import { isSameOrder, type SortedStops } from "./sortStops.ts";

/** Of positions with 7 decimals, which lie up to 8 mm off on either side: no slit is left between what is done and what is not. */
const outlineSlackM = 0.02;
/** As for treated areas: less ground than this is nothing to plan work for. */
const leastHa = 0.05;

export interface OrdersLeft extends Pick<Operation, "orders" | "fields"> {
  /** By order: the hectares done, and whether anything is left to do. */
  readonly done: ReadonlyMap<string, { readonly doneHa: number; readonly isOver: boolean }>;
  /** Orders that would have to wait for another beyond their last minute. */
  readonly tooLate: readonly OrderId[];
}

/** The orders without the ground that is done, and the fields with what was done as applications of the past. */
export function ordersLeft(
  operation: Operation,
  { gone, inPart }: SortedStops,
  calendar: Calendar,
  asOfMin: number,
): OrdersLeft {
  const byOrder = groupBy<ToldStop, string>([...gone, ...inPart], ({ block }) => block.orderId);
  const fields = indexBy<FieldFeature, string>(operation.fields.features, ({ properties }) => properties.id);
  const done = new Map<string, { doneHa: number; isOver: boolean }>();
  const endOf = new Map<string, number>();
  const orders = operation.orders.flatMap((order): Order[] => {
    const stops = byOrder.get(order.id);
    const field = fields.get(order.fieldId);
    if (stops === undefined || field === undefined) return [order];
    endOf.set(order.id, lastMinOf(stops, asOfMin));
    const plane = planeOf(field.geometry);
    const areas = stops.map((stop) =>
      inPart.has(stop) ? donePart(stop, plane) : toAreaXY(plane, stop.block.geometry),
    );
    const whole = toAreaXY(plane, order.ground ?? field.geometry);
    const left = withoutDone(whole, areas);
    const doneHa = haFromM2(areas.reduce((sum, area) => sum + areaM2(area), 0));
    const openHa = Math.max(...stops.map(blocksHa)) - doneHa;
    const isOver = left.length === 0 || (openHa < leastHa && stops.every((stop) => isSameOrder(operation, stop)));
    done.set(order.id, { doneHa, isOver });
    return isOver ? [] : [{ ...order, ground: toMultiPolygon(plane, left) }];
  });
  const isThere = new Set<string>(orders.map(({ id }) => id));
  const waiting = orders.map((order) => withoutWaits(order, operation, isThere, endOf, calendar));
  return {
    orders: waiting.filter(({ earliest, latest }) => earliest < latest),
    tooLate: waiting.filter(({ earliest, latest }) => earliest >= latest).map(({ id }) => id),
    fields: {
      ...operation.fields,
      features: operation.fields.features.map((field) =>
        withPast(field, operation, [...byOrder.values()], isThere, calendar, asOfMin),
      ),
    },
    done,
  };
}

/** All ground of the stop's order in the plan that crews were told. */
function blocksHa({ told, block: { orderId } }: ToldStop): number {
  return told.blocks.filter((block) => block.orderId === orderId).reduce((sum, { areaHa }) => sum + areaHa, 0);
}

function withoutDone(whole: AreaXY, done: readonly AreaXY[]): AreaXY {
  return tidy(difference(whole, offset(union(done), outlineSlackM)));
}

function lastMinOf(stops: readonly ToldStop[], asOfMin: number): number {
  return Math.max(...stops.map(({ endedMin, startedMin }) => endedMin ?? Math.max(asOfMin, startedMin ?? asOfMin)));
}

/** Waiting times to orders that are over count from their end. */
function withoutWaits(
  order: Order,
  { orders }: Operation,
  isThere: ReadonlySet<string>,
  endOf: ReadonlyMap<string, number>,
  calendar: Calendar,
): Order {
  const hoursTo = (other: Order) =>
    Math.max(
      0,
      ...order.apartFrom.filter(({ orderId }) => orderId === other.id).map(({ hours }) => hours),
      ...other.apartFrom.filter(({ orderId }) => orderId === order.id).map(({ hours }) => hours),
    );
  const waits = orders.flatMap((other) => {
    const endMin = isThere.has(other.id) ? undefined : endOf.get(other.id);
    const hours = endMin === undefined ? 0 : hoursTo(other);
    return hours > 0 ? [endMin! + Math.ceil(hours * minutesPerHour)] : [];
  });
  const apartFrom = order.apartFrom.filter(({ orderId }) => isThere.has(orderId));
  const earliest = waits
    .map((min) => calendar.isoOfMin(min).slice(0, "2027-06-07T05:30".length))
    .concat(order.earliest)
    .sort()
    .at(-1);
  return waits.length === 0 && apartFrom.length === order.apartFrom.length
    ? order
    : { ...order, apartFrom, earliest: earliest as Order["earliest"] };
}

function withPast(
  field: FieldFeature,
  { products }: Operation,
  byOrder: readonly (readonly ToldStop[])[],
  isThere: ReadonlySet<string>,
  calendar: Calendar,
  asOfMin: number,
): FieldFeature {
  const past = byOrder.flatMap((stops) => {
    // What was applied is what the order asked for then.
    const { operation, block } = stops[0]!;
    const order = operation.orders.find(({ id }) => id === block.orderId);
    if (order?.fieldId !== field.properties.id) return [];
    const endedAt = calendar.isoOfMin(lastMinOf(stops, asOfMin)).slice(0, "2027-06-07T05:30".length);
    return order.products
      .filter(({ productId }) => products.some(({ id }) => id === productId))
      .map(({ productId, ratePerHa }) => ({
        productId,
        endedAt: endedAt as FieldFeature["properties"]["pastApplications"][number]["endedAt"],
        ratePerHa,
        ...(isThere.has(order.id) ? { orderId: order.id } : {}),
      }));
  });
  if (past.length === 0) return field;
  const { properties } = field;
  return { ...field, properties: { ...properties, pastApplications: [...properties.pastApplications, ...past] } };
}
