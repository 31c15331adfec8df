import type { FieldProperties } from "../model/field.ts";
import type { AircraftType } from "../model/fleet.ts";
import type { Order } from "../model/order.ts";
import { type Product, rateUnitOf } from "../model/product.ts";
import { type DropletClass, dropletClasses } from "../model/quantities.ts";
import type { Limits } from "../model/settings.ts";
import { figures, type Judgement } from "./limits.ts";
import type { Mix, MixProduct } from "./mix.ts";

const rateDecimals = 9;

/** What labels say against an order at every minute, whoever flies it. */
export function judgeOrder(order: Order, mix: Mix, field: FieldProperties): Judgement[] {
  return [
    ...mix.products.flatMap((mixed) => judgeRate(mixed, field.crop)),
    ...judgeCarrier(order, mix),
    ...judgeDropletChoice(order, mix),
    ...mix.products.flatMap((mixed) => judgeSeason(mixed, field)),
  ];
}

/** What of labels, order and field stops one kind of aircraft at every minute. */
export function judgeType(
  order: Order,
  mix: Mix,
  field: FieldProperties,
  type: AircraftType,
  dropletTable: Limits["dropletTable"],
): Judgement[] {
  const judgements: Judgement[] = [];
  if (!type[mix.method]) {
    const gear = mix.method === "liquid" ? "no spray tank" : "no spreading hopper";
    const sentence = `${type.name} has ${gear}`;
    judgements.push({ limit: "method", actual: gear, allowed: mix.method, unit: "", sentence });
  }
  const lowest = lowestRelease(mix);
  if (lowest && type.releaseHeightM > lowest.heightM) {
    const [actual, allowed] = figures(type.releaseHeightM, lowest.heightM);
    judgements.push({
      limit: "releaseHeight",
      actual: type.releaseHeightM,
      allowed: lowest.heightM,
      unit: "m",
      sentence: `${type.name} releases from ${actual} m, label of ${lowest.name} allows ${allowed} m`,
    });
  }
  if (mix.method === "liquid" && type.liquid) {
    const { dropletMinUm, dropletMaxUm } = type.liquid;
    const wanted = allowedClasses(order, mix);
    const reached = wanted.some((name) => {
      const next = dropletClasses[dropletClasses.indexOf(name) + 1];
      const upperUm = next ? dropletTable.lowerUm[next] : Number.POSITIVE_INFINITY;
      return dropletTable.lowerUm[name] <= dropletMaxUm && dropletMinUm < upperUm;
    });
    if (!reached) {
      const allowed = wanted.length > 0 ? classRange(wanted) : "no class";
      judgements.push({
        limit: "droplet",
        actual: `${dropletMinUm} to ${dropletMaxUm}`,
        allowed,
        unit: "µm",
        sentence: `${type.name} makes droplets of ${dropletMinUm} to ${dropletMaxUm} µm, order and labels allow ${allowed}`,
      });
    }
  }
  if (field.slopePct > type.slopeMaxPct) {
    const [actual, allowed] = figures(field.slopePct, type.slopeMaxPct);
    const sentence = `slope ${actual} %, ${type.name} allows ${allowed} %`;
    judgements.push({ limit: "slope", actual: field.slopePct, allowed: type.slopeMaxPct, unit: "%", sentence });
  }
  return judgements;
}

function lowestRelease(mix: Mix): { readonly name: string; readonly heightM: number } | undefined {
  const heights = mix.products.flatMap(({ product: { name, releaseHeightMaxM } }) =>
    releaseHeightMaxM === undefined ? [] : [{ name, heightM: releaseHeightMaxM }],
  );
  return heights.toSorted((a, b) => a.heightM - b.heightM)[0];
}

function judgeRate({ product, ratePerHa, use }: MixProduct, crop: string): Judgement[] {
  if (!use) {
    const allowed = product.uses.map((known) => known.crop).join(", ");
    const sentence = `${product.name} has no use on ${crop}, label allows ${allowed}`;
    return [{ limit: "label", actual: crop, allowed, unit: "", sentence }];
  }
  const unit = perHa(product);
  const bound =
    ratePerHa < use.rateMinPerHa ? use.rateMinPerHa : ratePerHa > use.rateMaxPerHa ? use.rateMaxPerHa : null;
  if (bound === null) return [];
  const [actual, allowed] = figures(ratePerHa, bound);
  const words = ratePerHa < bound ? "label wants at least" : "label allows";
  const sentence = `${product.name} at ${actual} ${unit}, ${words} ${allowed} ${unit}`;
  return [{ limit: "label", actual: ratePerHa, allowed: bound, unit, sentence }];
}

function judgeCarrier(order: Order, mix: Mix): Judgement[] {
  if (mix.method !== "liquid") return [];
  const carrierLPerHa = order.carrierLPerHa ?? 0;
  return mix.products.flatMap(({ product }): Judgement[] => {
    const { carrierMinLPerHa } = product;
    if (carrierLPerHa >= carrierMinLPerHa) return [];
    const [actual, allowed] = figures(carrierLPerHa, carrierMinLPerHa);
    const sentence = `carrier ${actual} L/ha, label of ${product.name} wants at least ${allowed} L/ha`;
    return [{ limit: "label", actual: carrierLPerHa, allowed: carrierMinLPerHa, unit: "L/ha", sentence }];
  });
}

function judgeDropletChoice(order: Order, mix: Mix): Judgement[] {
  if (mix.method !== "liquid") return [];
  const common = labelClasses(mix);
  if (common.length === 0) {
    const ranges = mix.products.map((mixed) => `${mixed.product.name} ${classRange(classesOf(mixed))}`);
    const sentence = `no droplet class suits all labels: ${ranges.join(", ")}`;
    return [{ limit: "label", actual: ranges.join(", "), allowed: "one class in common", unit: "", sentence }];
  }
  const { dropletClass } = order;
  if (!dropletClass || common.includes(dropletClass)) return [];
  const allowed = classRange(common);
  const sentence = `droplet class ${dropletClass}, label allows ${allowed}`;
  return [{ limit: "label", actual: dropletClass, allowed, unit: "", sentence }];
}

function judgeSeason({ product, ratePerHa, use }: MixProduct, field: FieldProperties): Judgement[] {
  const past = field.pastApplications.filter(({ productId }) => productId === product.id);
  const judgements: Judgement[] = [];
  const count = past.length + 1;
  if (use?.seasonMaxCount !== undefined && count > use.seasonMaxCount) {
    judgements.push({
      limit: "seasonMax",
      actual: count,
      allowed: use.seasonMaxCount,
      unit: "applications",
      sentence: `application ${count} of ${product.name} this season, label allows ${use.seasonMaxCount} a season`,
    });
  }
  // Rates are decimals: three times 0.1 L/ha is 0.3, without the noise of its sum.
  const sumPerHa = past.reduce((sum, application) => sum + application.ratePerHa, ratePerHa);
  const totalPerHa = Number(sumPerHa.toFixed(rateDecimals));
  if (use?.seasonMaxPerHa !== undefined && totalPerHa > use.seasonMaxPerHa) {
    const unit = perHa(product);
    const [actual, allowed] = figures(totalPerHa, use.seasonMaxPerHa);
    const sentence = `${product.name} ${actual} ${unit} this season with this order, label allows ${allowed} ${unit}`;
    judgements.push({ limit: "seasonMax", actual: totalPerHa, allowed: use.seasonMaxPerHa, unit, sentence });
  }
  return judgements;
}

function allowedClasses(order: Order, mix: Mix): DropletClass[] {
  return labelClasses(mix).filter((name) => !order.dropletClass || name === order.dropletClass);
}

function labelClasses(mix: Mix): DropletClass[] {
  return dropletClasses.filter((name) => mix.products.every((mixed) => classesOf(mixed).includes(name)));
}

/** The classes one label allows; what it leaves open is open. */
function classesOf({ product }: MixProduct): readonly DropletClass[] {
  const { dropletFinest, dropletCoarsest } = product;
  const from = dropletFinest ? dropletClasses.indexOf(dropletFinest) : 0;
  const to = dropletCoarsest ? dropletClasses.indexOf(dropletCoarsest) : dropletClasses.length - 1;
  return dropletClasses.slice(from, to + 1);
}

/** Classes in a row from finest to coarsest, as people say them. */
function classRange(classes: readonly DropletClass[]): string {
  const first = classes[0]!;
  const last = classes[classes.length - 1]!;
  return first === last ? first : `${first} to ${last}`;
}

function perHa(product: Product): string {
  return `${rateUnitOf(product)}/ha`;
}
