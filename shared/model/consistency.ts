import { bothOrNeither, ordered } from "./compare.ts";
import { repeated } from "./crossReferences.ts";
import type { Fault, Path } from "./faults.ts";
import type { AircraftType, Crew } from "./fleet.ts";
import type { Order, OrderMix } from "./order.ts";
import type { Located, Parts } from "./parts.ts";
import type { Product } from "./product.ts";
import { productFaults } from "./productFaults.ts";
import { dropletClasses } from "./quantities.ts";
import { productsLPerHa } from "./tankMix.ts";

function gearOf(types: readonly Located<AircraftType>[], key: "liquid" | "granular") {
  return types.flatMap(({ path, item }) => {
    const gear = item[key];
    return gear === undefined ? [] : [{ path: [...path, key], item: gear }];
  });
}

function fleetFaults(parts: Parts): Fault[] {
  const types = parts.aircraftTypes.entries;
  const liquid = types.flatMap(({ path, item }) =>
    item.liquid === undefined ? [] : [{ path: [...path, "liquid"], item: item.liquid }],
  );
  const gears = [...gearOf(types, "liquid"), ...gearOf(types, "granular")];
  const fuelTypes = new Set(types.filter(({ item }) => item.power.source === "fuel").map(({ item }) => item.id));
  return [
    ...ordered(
      gears,
      "speedMinMps",
      "speedMaxMps",
      (gear) => gear.speedMinMps,
      (gear) => gear.speedMaxMps,
    ),
    ...ordered(
      liquid,
      "dropletMinUm",
      "dropletMaxUm",
      (gear) => gear.dropletMinUm,
      (gear) => gear.dropletMaxUm,
    ),
    ...types
      .filter(({ item }) => item.liquid === undefined && item.granular === undefined)
      .map(({ path }) => ({ path: [...path, "liquid"], value: undefined, expected: "liquid or granular gear" })),
    ...types
      .filter(({ item }) => item.power.reserveFrac >= 1)
      .map(({ path, item }) => ({
        path: [...path, "power", "reserveFrac"],
        value: item.power.reserveFrac,
        expected: "a number below 1, so that something is left to fly with",
      })),
    ...parts.hire.entries.flatMap(({ path, item }) =>
      (item.kind === "batterySets" || (item.kind === "aircraft" && item.batterySets > 0)) && fuelTypes.has(item.typeId)
        ? [{ path: [...path, "typeId"], value: item.typeId, expected: "an aircraft type that flies on batteries" }]
        : [],
    ),
    ...parts.batteryStocks.entries
      .filter(({ item }) => fuelTypes.has(item.aircraftTypeId))
      .map(({ path, item }) => ({
        path: [...path, "aircraftTypeId"],
        value: item.aircraftTypeId,
        expected: "an aircraft type that flies on batteries",
      })),
    ...parts.crews.entries.flatMap(({ path, item }) =>
      repeated(
        item.shifts.map((shift, at) => ({ path: [...path, "shifts", at, "date"], item: shift.date })),
        "a date of this crew's shifts",
      ),
    ),
    ...parts.crews.entries.flatMap(({ path, item }) => overnightFaults(path, item)),
  ];
}

/** Nights away are spent at other bases than the crew's own, each named once. */
function overnightFaults(path: Path, { baseId, overnightBaseIds = [] }: Crew): Fault[] {
  const bases = overnightBaseIds.map((item, at) => ({ path: [...path, "overnightBaseIds", at], item }));
  const own = bases.filter(({ item }) => item === baseId);
  return [
    ...own.map((one) => ({ path: one.path, value: baseId, expected: "another base than the crew's own" })),
    ...repeated(bases, "a base of this list"),
  ];
}

/** The products of an order go out together: one method, one tank, one crop. */
function orderFaults(parts: Parts): Fault[] {
  const productOf = new Map(parts.products.entries.map(({ item }) => [item.id, item]));
  const fieldOf = new Map(parts.fields.entries.map(({ item }) => [item.properties.id, item.properties]));
  const ofMix = parts.orders.entries.flatMap(({ path, item }) => {
    const instead = (item.alternatives ?? []).flatMap((mix, at) =>
      faultsOf([...path, "alternatives", at], { ...mix, fieldId: item.fieldId }),
    );
    return [...faultsOf(path, item), ...instead];
  });
  function faultsOf(path: Path, order: Pick<Order, "fieldId" | "products" | "carrierLPerHa">): Fault[] {
    const mix = order.products.flatMap(({ productId }, at): Located<Product>[] => {
      const product = productOf.get(productId);
      return product === undefined ? [] : [{ path: [...path, "products", at, "productId"], item: product }];
    });
    const crop = fieldOf.get(order.fieldId)?.crop;
    return [
      ...repeated(
        order.products.map(({ productId }, at) => ({ path: [...path, "products", at, "productId"], item: productId })),
        "a product of this order",
      ),
      ...mix
        .filter(({ item }) => crop !== undefined && !item.uses.some((use) => use.crop === crop))
        .map((lacking) => ({
          path: lacking.path,
          value: lacking.item.id,
          expected: `a product with a label use on ${crop}, the crop of field ${order.fieldId}`,
        })),
      ...mixFaults(mix),
      ...carrierFaults(path, order.carrierLPerHa, mix[0]?.item),
      ...(mix.length === order.products.length ? volumeFaults(path, order, mix) : []),
    ];
  }
  return [...ofMix, ...bothOrNeither(parts.orders.entries, "waitAfterRainMm", "waitAfterRainHours")];
}

/** A second temperature tells an inversion only above the first. */
function upperAirFaults(parts: Parts): Fault[] {
  const steps = parts.weather.entries;
  return [
    ...bothOrNeither(steps, "upperTemperatureC", "upperTemperatureHeightM"),
    ...steps.flatMap(({ path, item: { temperatureHeightM, upperTemperatureHeightM } }) => {
      if (upperTemperatureHeightM === undefined || upperTemperatureHeightM > temperatureHeightM) return [];
      const expected = `a height above temperatureHeightM, which is ${temperatureHeightM}`;
      return [{ path: [...path, "upperTemperatureHeightM"], value: upperTemperatureHeightM, expected }];
    }),
  ];
}

/** A gust is the strongest wind of the step; one weaker than the mean means that columns have been mixed up. */
function gustFaults(parts: Parts): Fault[] {
  return parts.weather.entries.flatMap(({ path, item: { windKph, gustKph } }) => {
    if (gustKph >= windKph) return [];
    return [{ path: [...path, "gustKph"], value: gustKph, expected: `at least windKph, which is ${windKph}` }];
  });
}

function confidenceFaults(parts: Parts): Fault[] {
  if (parts.confidence === undefined) return [];
  const { path, item: rows } = parts.confidence;
  return rows.slice(1).flatMap(({ untilLeadHours }, at) => {
    const before = rows[at]!.untilLeadHours;
    if (untilLeadHours > before) return [];
    const expected = `more than in the entry before, which is ${before}`;
    return [{ path: [...path, at + 1, "untilLeadHours"], value: untilLeadHours, expected }];
  });
}

/** A stretch after a pause begins with starting up again and does some of the work. */
function pauseFaults({ planning }: Parts): Fault[] {
  if (planning === undefined) return [];
  const { path, item } = planning;
  const { resumeMin, stretchMinMin } = item;
  if (resumeMin < stretchMinMin) return [];
  return [
    { path: [...path, "resumeMin"], value: resumeMin, expected: `less than stretchMinMin, which is ${stretchMinMin}` },
  ];
}

function mixFaults(mix: readonly Located<Product>[]): Fault[] {
  const first = mix[0]?.item;
  const group = mix.find(({ item }) => item.compatibilityGroup !== "any")?.item.compatibilityGroup;
  const otherMethod = mix.filter(({ item }) => item.method !== first?.method);
  const otherGroup = mix.filter(({ item }) => ![group, "any"].includes(item.compatibilityGroup));
  return [
    ...otherMethod.map(({ path, item }) => ({
      path,
      value: item.id,
      expected: `a ${first?.method} product like ${first?.id}; this one is ${item.method}`,
    })),
    ...otherGroup.map(({ path, item }) => ({
      path,
      value: item.id,
      expected: `a product of compatibility group ${group}; this one is of ${item.compatibilityGroup}`,
    })),
  ];
}

function carrierFaults(orderPath: Path, carrierLPerHa: number | undefined, first: Product | undefined): Fault[] {
  const path = [...orderPath, "carrierLPerHa"];
  if (first?.method === "liquid" && !(carrierLPerHa !== undefined && carrierLPerHa > 0)) {
    return [{ path, value: carrierLPerHa, expected: `a number above 0, since ${first.id} is liquid` }];
  }
  if (first?.method === "granular" && carrierLPerHa !== undefined) {
    return [{ path, value: carrierLPerHa, expected: `nothing, since ${first.id} is granular` }];
  }
  return [];
}

/** The products are a part of the spray. */
function volumeFaults(orderPath: Path, order: OrderMix, mix: readonly Located<Product>[]): Fault[] {
  const { carrierLPerHa } = order;
  const products = mix.map(({ item }) => item);
  if (carrierLPerHa === undefined || carrierLPerHa === 0 || products.some(({ method }) => method !== "liquid"))
    return [];
  const productsL = productsLPerHa(order, products);
  if (productsL < carrierLPerHa) return [];
  const expected = `a number above ${Number(productsL.toFixed(3))}, the L/ha that the products alone take up`;
  return [{ path: [...orderPath, "carrierLPerHa"], value: carrierLPerHa, expected }];
}

function dropletTableFaults(parts: Parts): Fault[] {
  if (parts.dropletLowerUm === undefined) return [];
  const { path, item } = parts.dropletLowerUm;
  return dropletClasses.slice(1).flatMap((name, at) => {
    const finer = dropletClasses[at]!;
    if (item[name] > item[finer]) return [];
    return [
      {
        path: [...path, name],
        value: item[name],
        expected: `a number above that of ${finer}, which is ${item[finer]}`,
      },
    ];
  });
}

/** Values that fit their schema one by one and contradict each other. */
export function consistencyFaults(parts: Parts): Fault[] {
  return [
    ...productFaults(parts),
    ...fleetFaults(parts),
    ...orderFaults(parts),
    ...upperAirFaults(parts),
    ...gustFaults(parts),
    ...dropletTableFaults(parts),
    ...confidenceFaults(parts),
    ...pauseFaults(parts),
  ];
}
