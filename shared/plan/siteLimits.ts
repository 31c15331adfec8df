import type { AircraftType } from "../model/fleet.ts";
import type { Order } from "../model/order.ts";
import type { Product } from "../model/product.ts";
import { type DropletClass, dropletClasses, type Method } from "../model/quantities.ts";
import type { Limits } from "../model/settings.ts";

/** What the crew lead measures on site, against the strictest that label, aircraft and operation say. */
export interface SiteLimit {
  readonly measure: "wind" | "gust" | "Delta T" | "temperature" | "humidity";
  readonly bound: "least" | "most";
  readonly value: number;
  readonly unit: "km/h" | "°C" | "%";
  readonly setBy: SetBy;
}

export type SetBy =
  | { readonly kind: "label"; readonly productName: string }
  | { readonly kind: "aircraft"; readonly typeName: string }
  | { readonly kind: "operation" };

export interface SiteLimits {
  readonly limits: readonly SiteLimit[];
  /** Height above the crop at which limits of the mean wind hold; null where the wind counts as the forecast has it. */
  readonly windHeightM: number | null;
  /** Classes that order, labels and aircraft all allow, finest first; none for granules. */
  readonly dropletClasses: readonly DropletClass[];
  readonly rainfastHours: number;
  readonly inversion: "ignore" | "notWhenLikely" | "notWhenPossible";
}

interface Candidate {
  readonly value: number | undefined;
  readonly setBy: SetBy;
}

export interface SiteLimitsInput {
  readonly order: Order;
  readonly products: readonly Product[];
  readonly types: readonly AircraftType[];
  readonly limits: Limits;
}

export function siteLimits({ order, products, types, limits }: SiteLimitsInput): SiteLimits {
  const label = (pick: (product: Product) => number | undefined): Candidate[] =>
    products.map((product) => ({ value: pick(product), setBy: { kind: "label", productName: product.name } }));
  const aircraft = (pick: (type: AircraftType) => number): Candidate[] =>
    types.map((type) => ({ value: pick(type), setBy: { kind: "aircraft", typeName: type.name } }));
  const operation = (value: number | undefined): Candidate => ({ value, setBy: { kind: "operation" } });

  return {
    limits: [
      // A least wind of zero is no limit.
      ...strictest(
        "wind",
        "least",
        "km/h",
        label((product) => product.windMinKph || undefined),
      ),
      ...strictest("wind", "most", "km/h", [
        ...label((product) => product.windMaxKph),
        ...aircraft((type) => type.windMaxKph),
        operation(limits.windMaxKph),
      ]),
      ...strictest("gust", "most", "km/h", [
        ...label((product) => product.gustMaxKph),
        ...aircraft((type) => type.gustMaxKph),
        operation(limits.gustMaxKph),
      ]),
      ...strictest(
        "Delta T",
        "least",
        "°C",
        label((product) => product.deltaTMinC),
      ),
      ...strictest(
        "Delta T",
        "most",
        "°C",
        label((product) => product.deltaTMaxC),
      ),
      ...strictest(
        "temperature",
        "least",
        "°C",
        label((product) => product.temperatureMinC),
      ),
      ...strictest(
        "temperature",
        "most",
        "°C",
        label((product) => product.temperatureMaxC),
      ),
      ...strictest(
        "humidity",
        "least",
        "%",
        label((product) => product.humidityMinPct),
      ),
      ...strictest(
        "humidity",
        "most",
        "%",
        label((product) => product.humidityMaxPct),
      ),
    ],
    // Wind grows with height: what holds for the highest of several kinds holds for all.
    windHeightM: limits.windAt === "releaseHeight" ? Math.max(...types.map((type) => type.releaseHeightM)) : null,
    dropletClasses: products[0]!.method === "liquid" ? commonDropletClasses(order, products, types, limits) : [],
    rainfastHours: Math.max(...products.map((product) => product.rainfastHours)),
    inversion: strictestInversion(products),
  };
}

function strictest(
  measure: SiteLimit["measure"],
  bound: SiteLimit["bound"],
  unit: SiteLimit["unit"],
  candidates: readonly Candidate[],
): SiteLimit[] {
  let best: SiteLimit | undefined;
  for (const { value, setBy } of candidates) {
    if (value === undefined) continue;
    const isStricter = best === undefined || (bound === "most" ? value < best.value : value > best.value);
    if (isStricter) best = { measure, bound, value, unit, setBy };
  }
  return best === undefined ? [] : [best];
}

function commonDropletClasses(
  order: Order,
  products: readonly Product[],
  types: readonly AircraftType[],
  limits: Limits,
): DropletClass[] {
  const { lowerUm } = limits.dropletTable;
  return dropletClasses.filter((dropletClass, rank) => {
    const isOrdered = order.dropletClass === undefined || order.dropletClass === dropletClass;
    const isOnLabels = products.every(
      ({ dropletFinest, dropletCoarsest }) =>
        (dropletFinest === undefined || rank >= dropletClasses.indexOf(dropletFinest)) &&
        (dropletCoarsest === undefined || rank <= dropletClasses.indexOf(dropletCoarsest)),
    );
    const next = dropletClasses[rank + 1];
    const upperUm = next === undefined ? Number.POSITIVE_INFINITY : lowerUm[next];
    const isMade = types.every(
      ({ liquid }) =>
        liquid !== undefined && liquid.dropletMaxUm >= lowerUm[dropletClass] && liquid.dropletMinUm < upperUm,
    );
    return isOrdered && isOnLabels && isMade;
  });
}

function strictestInversion(products: readonly Product[]): SiteLimits["inversion"] {
  const rules = products.map((product) => product.inversionRule);
  if (rules.includes("notWhenPossible")) return "notWhenPossible";
  return rules.includes("notWhenLikely") ? "notWhenLikely" : "ignore";
}

export function methodOf(products: readonly Product[]): Method {
  return products[0]!.method;
}
