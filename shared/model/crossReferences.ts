import { type Fault, otherPlaceText, type Path } from "./faults.ts";
import type { Order } from "./order.ts";
import type { Located, PartList, Parts } from "./parts.ts";

/** The same key twice: the second and later ones are faults. */
export function repeated(keys: readonly Located<string>[], what: string): Fault[] {
  const firstPath = new Map<string, Path>();
  const faults: Fault[] = [];
  for (const { path, item } of keys) {
    const first = firstPath.get(item);
    if (first === undefined) firstPath.set(item, path);
    else
      faults.push({ path, value: item, expected: `${what} that occurs once; ${otherPlaceText(first)} has it already` });
  }
  return faults;
}

/** Our choice: more ids than this are no help in a sentence. */
const mostChoices = 12;
const choiceWords = (known: readonly string[]) => (known.length <= mostChoices ? `: ${known.join(", ")}` : "");

/** References to something that a list must hold. Nothing is said while that list could not be read. */
export function unknown(references: readonly Located<string>[], list: PartList<unknown>, what: string): Fault[] {
  if (!list.isThere) return [];
  const known = new Set(list.ids.map(({ item }) => item));
  return references
    .filter(({ item }) => !known.has(item))
    .map(({ path, item }) => ({ path, value: item, expected: `the id of ${what}${choiceWords([...known])}` }));
}

const at = <T>(list: PartList<T>, key: string, idOf: (item: T) => string): Located<string>[] =>
  list.entries.map(({ path, item }) => ({ path: [...path, key], item: idOf(item) }));

/** Entries of a list within each entry of a list. */
export function nested<T, U>(list: readonly Located<T>[], key: Path, itemsOf: (item: T) => readonly U[]): Located<U>[] {
  return list.flatMap(({ path, item }) =>
    itemsOf(item).map((inner, index) => ({ path: [...path, ...key, index], item: inner })),
  );
}

function idFaults(parts: Parts): Fault[] {
  const people = nested(parts.crews.entries, ["people"], (crew) => crew.people);
  return [
    // Roads name bases and water points side by side, so the two share their ids.
    ...repeated([...parts.bases.ids, ...parts.waterPoints.ids], "an id of bases and water points"),
    ...repeated(parts.fields.ids, "a field id"),
    ...repeated(parts.sensitive.ids, "an id of a sensitive place"),
    ...repeated(parts.products.ids, "a product id"),
    ...repeated(parts.orders.ids, "an order id"),
    ...repeated(parts.aircraftTypes.ids, "an id of an aircraft type"),
    ...repeated(parts.aircraft.ids, "an aircraft id"),
    ...repeated(parts.chargers.ids, "a charger id"),
    ...repeated(parts.tenders.ids, "a tender id"),
    ...repeated(parts.crews.ids, "a crew id"),
    ...repeated(
      people.map(({ path, item }) => ({ path: [...path, "id"], item: item.id })),
      "a person id",
    ),
    ...parts.fields.entries.flatMap(({ path, item }) =>
      repeated(
        item.properties.pads.map((pad, index) => ({
          path: [...path, "properties", "pads", index, "id"],
          item: pad.id,
        })),
        "a pad id of this field",
      ),
    ),
    ...repeated(
      parts.batteryStocks.entries.map(({ path, item }) => ({ path, item: `${item.baseId} ${item.aircraftTypeId}` })),
      "a base and aircraft type",
    ),
    ...repeated(
      parts.roads.entries.map(({ path, item }) => ({ path, item: `${item.from} ${item.to}` })),
      "a pair of places",
    ),
  ];
}

function orderReferences(parts: Parts): Fault[] {
  const products = nested(parts.orders.entries, ["products"], (order) => order.products);
  const past = nested(
    parts.fields.entries,
    ["properties", "pastApplications"],
    (field) => field.properties.pastApplications,
  );
  const alternatives = nested(parts.orders.entries, ["alternatives"], (order) => order.alternatives ?? []);
  const instead = nested(alternatives, ["products"], (mix) => mix.products);
  const productIds = [...products, ...instead, ...past].map(({ path, item }) => ({
    path: [...path, "productId"],
    item: item.productId,
  }));
  return [
    ...unknown(
      at(parts.orders, "fieldId", (order) => order.fieldId),
      parts.fields,
      "a field",
    ),
    ...unknown(productIds, parts.products, "a product"),
    ...unknown(
      nested(parts.orders.entries, ["apartFrom"], (order) => order.apartFrom).map(({ path, item }) => ({
        path: [...path, "orderId"],
        item: item.orderId,
      })),
      parts.orders,
      "an order",
    ),
    ...parts.orders.entries.flatMap((order) => apartFaults(order, parts)),
  ];
}

/** An order waits for others on its own field, for each at most once. */
function apartFaults({ path, item: order }: Located<Order>, parts: Parts): Fault[] {
  const others = order.apartFrom.map(({ orderId }, index) => ({
    path: [...path, "apartFrom", index, "orderId"],
    item: orderId,
  }));
  const elsewhere = others.flatMap((other): Fault[] => {
    const value = other.item;
    if (value === order.id) return [{ path: other.path, value, expected: "another order than this one itself" }];
    const fieldId = parts.orders.entries.find(({ item }) => item.id === value)?.item.fieldId;
    if (fieldId === undefined || fieldId === order.fieldId) return [];
    const expected = `an order on the same field, ${order.fieldId}; this one is on ${fieldId}`;
    return [{ path: other.path, value, expected }];
  });
  return [...repeated(others, "an order of this list"), ...elsewhere];
}

function fleetReferences(parts: Parts): Fault[] {
  const people = nested(parts.crews.entries, ["people"], (crew) => crew.people);
  const ratings = nested(people, ["ratings"], (person) => person.ratings);
  const baseIds = [
    ...at(parts.aircraft, "baseId", (aircraft) => aircraft.baseId),
    ...at(parts.batteryStocks, "baseId", (stock) => stock.baseId),
    ...at(parts.chargers, "baseId", (charger) => charger.baseId),
    ...at(parts.tenders, "baseId", (tender) => tender.baseId),
    ...at(parts.crews, "baseId", (crew) => crew.baseId),
    ...nested(parts.crews.entries, ["overnightBaseIds"], (crew) => crew.overnightBaseIds ?? []),
    ...nested(parts.hire.entries, ["baseIds"], (offer) => offer.baseIds),
  ];
  const offers = parts.hire.entries;
  const typeIds = [
    ...at(parts.aircraft, "typeId", (aircraft) => aircraft.typeId),
    ...at(parts.batteryStocks, "aircraftTypeId", (stock) => stock.aircraftTypeId),
    ...ratings,
    ...offers.flatMap(({ path, item }) =>
      item.kind === "aircraft" || item.kind === "batterySets" ? [{ path: [...path, "typeId"], item: item.typeId }] : [],
    ),
  ];
  const likeIds = offers.flatMap(({ path, item }) =>
    item.kind === "tender" ? [{ path: [...path, "like"], item: item.like }] : [],
  );
  return [
    ...unknown(baseIds, parts.bases, "a base"),
    ...unknown(typeIds, parts.aircraftTypes, "an aircraft type"),
    ...unknown(likeIds, parts.tenders, "a tender"),
  ];
}

function roadReferences(parts: Parts): Fault[] {
  if (!parts.bases.isThere || !parts.waterPoints.isThere || !parts.fields.isThere) return [];
  const pads = nested(parts.fields.entries, ["properties", "pads"], (field) =>
    field.properties.pads.map((pad) => `${field.properties.id}/${pad.id}`),
  );
  const places = new Set([...parts.bases.ids, ...parts.waterPoints.ids, ...pads].map(({ item }) => item));
  // A field with other faults is not among the entries; its pads are taken as known.
  const readable = new Set(parts.fields.entries.map(({ item }) => item.properties.id as string));
  const unread = new Set(parts.fields.ids.map(({ item }) => item).filter((id) => !readable.has(id)));
  const ends = parts.roads.entries.flatMap(({ path, item }) => [
    { path: [...path, "from"], item: item.from },
    { path: [...path, "to"], item: item.to },
  ]);
  return ends
    .filter(({ item }) => !places.has(item) && !unread.has(item.split("/")[0]!))
    .map(({ path, item }) => ({ path, value: item, expected: "a base id, a water point id, or fieldId/padId" }));
}

/** Ids that occur twice, and ids that name nothing. */
export function crossReferenceFaults(parts: Parts): Fault[] {
  return [...idFaults(parts), ...orderReferences(parts), ...fleetReferences(parts), ...roadReferences(parts)];
}
