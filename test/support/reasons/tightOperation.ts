import { generateOperation } from "../../../services/scenario/generate/generateOperation.ts";
import { createRandom } from "../../../services/solver/random.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import type { Order } from "../../../shared/model/order.ts";
import type { Product } from "../../../shared/model/product.ts";
import type { Draft } from "./relax.ts";

/** Orders of each tight operation, crews and days. */
function sizeOf(seed: number): { orders: number; crews: number; days: number } {
  return { orders: 4 + (seed % 4), crews: 1 + (seed % 3), days: 1 + ((seed * 7) % 4) };
}

interface Spoilt {
  readonly draft: Draft;
  readonly order: Order;
  /** The order's own labels, which no other order shares. */
  readonly labels: readonly Product[];
  readonly field: Operation["fields"]["features"][number]["properties"];
  readonly days: readonly string[];
  pick(count: number): number;
}

/** Ways in which an order or the whole operation is made tight; some of them stop it, and some only together. */
const ways: readonly ((spoilt: Spoilt) => void)[] = [
  ({ labels, pick }) => each(labels, { windMaxKph: 1 + pick(6) }),
  ({ labels, pick }) => each(labels, { gustMaxKph: 3 + pick(10) }),
  ({ labels, pick }) => each(labels, { windMinKph: 8 + pick(12) }),
  ({ labels, pick }) => each(labels, { rainfastHours: 12 + pick(48) }),
  ({ labels, pick }) => each(labels, { deltaTMinC: 1 + pick(6), deltaTMaxC: 8 }),
  ({ labels, pick }) => each(labels, { humidityMinPct: 50 + pick(45) }),
  ({ labels, pick }) => each(labels, { temperatureMaxC: 8 + pick(14) }),
  ({ labels }) => each(labels, { inversionRule: "notWhenPossible" }),
  ({ labels, field, days }) => {
    each(labels, { bloomRule: "forbidden" });
    field.bloom = { from: days[0]! as never, to: days.at(-1)! as never };
  },
  ({ labels, pick }) => each(labels, { releaseHeightMaxM: 0.5 + pick(4) }),
  ({ labels, pick }) => {
    each(labels, { dropletFinest: "UC" as never, dropletCoarsest: undefined });
    if (pick(2) === 0) each(labels, { dropletCoarsest: "UC" as never });
  },
  ({ labels, pick }) => {
    for (const { uses } of labels) for (const use of uses) use.phiDays = 3 + pick(30);
  },
  ({ labels, field, days, pick }) => {
    for (const { uses } of labels) for (const use of uses) use.phiDays = 2 + pick(5);
    field.harvestDate = days.at(-1)! as never;
  },
  ({ labels, pick }) => each(labels, { licenceClass: pick(2) === 0 ? "nobody-has-it" : "high-hazard" }),
  ({ labels, order, pick }) => {
    for (const { uses } of labels)
      for (const use of uses) use.rateMaxPerHa = order.products[0]!.ratePerHa / (1 + pick(3));
  },
  ({ labels }) => {
    for (const { uses } of labels)
      for (const use of uses) use.rateMinPerHa = Math.min(use.rateMinPerHa, use.rateMaxPerHa);
  },
  ({ order, days, pick }) => {
    const day = days[pick(days.length)]!;
    const from = 4 + pick(14);
    order.earliest = `${day}T${String(from).padStart(2, "0")}:00`;
    order.latest = `${day}T${String(from + 1 + pick(4)).padStart(2, "0")}:30`;
    delete order.preferredDate;
  },
  ({ field, days, pick }) => {
    const closed = days.slice(0, 1 + pick(days.length));
    field.closures = closed.map((day) => ({
      from: `${day}T00:00`,
      to: `${day}T${18 + pick(5)}:00`,
      reason: "closed",
      people: false,
    }));
  },
  ({ field, labels, days, pick }) => {
    each(labels, { reiHours: 12 + pick(60) });
    field.entries = days.map((day) => ({ from: `${day}T0${6 + pick(3)}:00`, to: `${day}T11:00`, who: "scout" }));
  },
  ({ field, labels, order, days, pick }) => {
    for (const { uses } of labels) for (const use of uses) use.retreatmentDays = 3 + pick(12);
    const productId = order.products[0]!.productId;
    field.pastApplications = [{ productId, endedAt: `${days[0]!}T00:00`, ratePerHa: 0.1 }];
  },
  ({ field, labels, order, pick }) => {
    for (const { uses } of labels) for (const use of uses) use.seasonMaxCount = 1 + pick(2);
    const productId = order.products[0]!.productId;
    const endedAt = "2027-04-01T10:00";
    field.pastApplications = [0, 1].map(() => ({ productId, endedAt, ratePerHa: 0.1 }));
  },
  ({ field, pick }) => {
    field.slopePct = 20 + pick(40);
  },
  ({ order, pick }) => {
    if (order.carrierLPerHa !== undefined) order.carrierLPerHa = 150 + 50 * pick(12);
    order.maySplit = pick(2) === 0;
  },
  ({ order, draft, pick }) => {
    order.maySplit = false;
    for (const tender of draft.fleet.tenders) tender.waterL = 100 + 100 * pick(6);
  },
  ({ draft, pick }) => {
    for (const { shifts } of draft.fleet.crews)
      for (const shift of shifts) shift.to = `${String(8 + pick(3)).padStart(2, "0")}:00` as never;
    for (const { shifts } of draft.fleet.crews) for (const shift of shifts) shift.from = "06:00" as never;
  },
  ({ draft, pick }) => {
    for (const crew of draft.fleet.crews) crew.dutyMaxHoursPerDay = 0.75 + 0.25 * pick(8);
  },
  ({ draft, pick, days }) => {
    const typeId = draft.fleet.aircraft[pick(draft.fleet.aircraft.length)]!.typeId;
    for (const aircraft of draft.fleet.aircraft)
      if (aircraft.typeId === typeId) aircraft.outOfService = [{ from: days[0]! as never, to: days.at(-1)! as never }];
  },
  ({ draft, pick }) => {
    const crew = draft.fleet.crews[pick(draft.fleet.crews.length)]!;
    for (const person of crew.people) person.ratings = person.ratings.slice(0, pick(2));
  },
  ({ draft, pick }) => {
    if (pick(2) === 0) draft.fleet.chargers = [];
    else for (const stock of draft.fleet.batteryStocks) stock.sets = pick(2);
  },
  ({ draft, pick }) => {
    for (const tender of draft.fleet.tenders) tender.transportSlots = pick(3);
  },
];

function each(labels: readonly Product[], change: Partial<Product>): void {
  for (const label of labels) Object.assign(label, change);
}

/** A small operation with few crews, whose orders have labels, dates and fields so strict that many of them fit nowhere. */
export function tightOperation(seed: number): Operation {
  const random = createRandom(seed);
  const pick = (count: number) => Math.floor(random() * count);
  const draft: Draft = structuredClone(generateOperation({ ...sizeOf(seed), seed }));
  const days = Array.from({ length: draft.settings.days }, (_, day) =>
    new Date(Date.parse(draft.settings.firstDay) + day * 86_400_000).toISOString().slice(0, 10),
  );
  for (const order of draft.orders) {
    if (pick(4) === 0) continue;
    const labels = order.products.map((dose) => {
      const label = structuredClone(draft.products.find(({ id }) => id === dose.productId)!);
      label.id = `${label.id}-${order.id}` as never;
      dose.productId = label.id;
      draft.products.push(label);
      return label;
    });
    const field = draft.fields.features.find(({ properties }) => properties.id === order.fieldId)!.properties;
    for (let count = 1 + pick(2); count > 0; count--) {
      // Ways that make everything tight are rarer.
      const way = ways[pick(pick(4) === 0 ? ways.length : ways.length - 7)]!;
      way({ draft, order, labels, field, days, pick });
    }
  }
  return draft;
}
