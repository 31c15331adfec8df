import type { Random } from "../../../services/scenario/generate/random.ts";
import { type OperationInput, rectangleField } from "../operation.ts";
import { dates, ownLicence, type Roster } from "./contestedFleet.ts";

type OrderInput = OperationInput["orders"][number];
type FieldInput = OperationInput["fields"]["features"][number];

export interface Ground {
  readonly fields: FieldInput[];
  readonly orders: OrderInput[];
}

/** Fields about the base, most with one order; one large field whose order is cut into blocks, and one or two with orders that must keep apart. */
export function contestedGround(random: Random, roster: Roster): Ground {
  const isShared = roster.workDays.flat().length > new Set(roster.workDays.flat()).size;
  const fields: FieldInput[] = [];
  const orders: OrderInput[] = [];
  const lay = (areaHa: number, crop: string) => {
    const widthM = random.between(220, 420);
    const id = `F${fields.length + 1}`;
    const place = {
      eastM: random.between(-7000, 7000),
      northM: random.between(-7000, 7000),
      widthM,
      heightM: (areaHa * 10_000) / widthM,
    };
    fields.push(rectangleField(id, place, { crop, ...hours(random, roster) }));
    return id;
  };
  const order = (fieldId: string, productId: string, parts: Partial<OrderInput> = {}) => {
    const id = `O-${orders.length + 1}`;
    orders.push({ ...draftOrder(random, roster), id, fieldId, ...treatment(random, productId), ...parts });
    return id;
  };
  /** Two crews of one day are never both fit for a field with more than one block, so that none ever waits for another over it. */
  const own = (productId: string) => (isShared ? `${productId}-own` : productId);

  const isLone = roster.workDays.length === 1;
  const plain = random.whole(4, isLone ? 5 : 6);
  for (let n = 0; n < plain; n++) {
    const productId = random.pick(["FUN", "HER", "OIL", "GRA", "FUN", "HER"]);
    order(lay(random.between(4, 11), "wheat"), productId);
  }
  if (plain < 6 || random.chance(0.8)) {
    order(lay(random.between(10, 17), "maize"), own(random.pick(["FUN", "HER"])), { maySplit: true });
  }
  const pairs = random.chance(0.4) ? 2 : 1;
  for (let n = 0; n < pairs; n++) {
    const kind = random.pick(["apart", "retreatment", "season"]);
    const fieldId = lay(random.between(4, 7), kind === "season" ? "barley" : "wheat");
    const first = order(fieldId, own(kind === "retreatment" ? "INS" : "FUN"));
    if (kind === "apart") {
      order(fieldId, own("HER"), { apartFrom: [{ orderId: first, hours: random.pick([1, 2, 3, 20]) }] });
    } else {
      order(fieldId, own(kind === "retreatment" ? "INS" : "FUN"));
      if (kind === "season") order(fieldId, own("FUN"));
    }
  }
  return { fields, orders };
}

/** A morning in which irrigation or people keep the crews out, on some fields. */
function hours(random: Random, { days }: Roster): Partial<FieldInput["properties"]> {
  if (!random.chance(0.35)) return {};
  const date = dates[random.whole(0, days - 1)]!;
  const [from, to] = random.pick([
    ["07:00", "08:30"],
    ["06:00", "09:30"],
    ["08:15", "10:00"],
  ]);
  return { closures: [{ from: `${date}T${from}`, to: `${date}T${to}`, reason: "irrigation", people: false }] };
}

function draftOrder(random: Random, { days }: Roster): Omit<OrderInput, "id" | "fieldId" | "products"> {
  const first = random.chance(0.8) ? 0 : random.whole(0, days - 1);
  const preferred = random.whole(first, days - 1);
  return {
    earliest: `${dates[first]!}T00:00`,
    latest: random.chance(0.8) ? "2027-06-10T00:00" : `${dates[random.whole(first, days - 1)]!}T11:00`,
    ...(random.chance(0.6) ? { preferredDate: dates[preferred]! } : {}),
    priority: random.weighted([
      ["low", 2],
      ["normal", 6],
      ["high", 2],
      ["mandatory", 0.5],
    ] as const),
    priceCentsPerHa: random.whole(8, 40) * 100,
    maySplit: false,
  };
}

function treatment(random: Random, productId: string): Pick<OrderInput, "products" | "carrierLPerHa"> {
  if (productId.startsWith("GRA")) return { products: [{ productId, ratePerHa: random.whole(30, 80) }] };
  return { products: [{ productId, ratePerHa: 1 }], carrierLPerHa: random.pick([15, 20, 25, 30]) };
}

const uses = (rateMaxPerHa: number, retreatmentDays: number) =>
  ["wheat", "maize", "barley"].map((crop) => ({
    crop,
    rateMinPerHa: 0.5,
    rateMaxPerHa,
    phiDays: 7,
    retreatmentDays,
    // Barley had nothing yet and may have two.
    ...(crop === "barley" ? { seasonMaxCount: 2 } : {}),
  }));

const liquid = { method: "liquid", active: "example active", reiHours: 12, carrierMinLPerHa: 10 } as const;

const products: OperationInput["products"] = [
  {
    ...liquid,
    id: "FUN",
    name: "Fungicide Example",
    registrationNumber: "000021-00",
    licenceClass: "agri",
    uses: uses(2, 0),
    windMaxKph: 15,
    rainfastHours: 1,
    dropletFinest: "F",
    dropletCoarsest: "C",
    compatibilityGroup: "fungicide",
    cleanOutMin: 12,
    cleanOutL: 40,
  },
  {
    ...liquid,
    id: "HER",
    name: "Herbicide Example",
    registrationNumber: "000022-00",
    licenceClass: "agri",
    uses: uses(2, 0),
    windMaxKph: 18,
    dropletFinest: "M",
    dropletCoarsest: "VC",
    compatibilityGroup: "herbicide",
    cleanOutMin: 20,
    cleanOutL: 60,
  },
  {
    ...liquid,
    id: "INS",
    name: "Insecticide Example",
    registrationNumber: "000023-00",
    licenceClass: "agri",
    uses: uses(2, 1),
    windMaxKph: 15,
    compatibilityGroup: "insecticide",
    cleanOutMin: 15,
    cleanOutL: 30,
  },
  {
    ...liquid,
    id: "OIL",
    name: "Adjuvant Example",
    registrationNumber: "000024-00",
    licenceClass: "agri",
    uses: uses(2, 0),
    windMaxKph: 20,
  },
  {
    id: "GRA",
    name: "Pellets Example",
    registrationNumber: "000025-00",
    active: "example pellets",
    method: "granular",
    densityKgPerL: 0.8,
    licenceClass: "baits",
    uses: uses(100, 0),
    reiHours: 0,
    windMaxKph: 21,
  },
];

/** Each product, and the same under a licence that one crew holds. */
export const contestedProducts: OperationInput["products"] = products.flatMap((product) => [
  product,
  { ...product, id: `${product.id}-own`, name: `${product.name} own`, licenceClass: ownLicence },
]);
