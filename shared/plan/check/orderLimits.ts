import type { AircraftType } from "../../model/fleet.ts";
import { dropletClasses } from "../../model/quantities.ts";
import { distinctTypes, type Facts, type Mix, type Stop } from "./facts.ts";
import { gearOf } from "./flow.ts";
import { type Ledger, rounding, type Subject, shown } from "./report.ts";

/** The limits that hold at every minute: of an order by itself, and of an order with a type of aircraft. */
export function checkOrderLimits(facts: Facts, ledger: Ledger): void {
  for (const stop of facts.stops) {
    for (const type of distinctTypes(stop)) checkType(facts, ledger, stop, type);
  }
  const worked = new Set(facts.stops.map((stop) => stop.mix));
  for (const mix of worked) checkLabel(ledger, mix);
  checkSeason(ledger, [...worked]);
}

function checkType(facts: Facts, ledger: Ledger, { mix, subject }: Stop, type: AircraftType): void {
  const gear = gearOf(type, mix);
  ledger.expect("method", gear !== undefined, subject, () => ({
    sentence: `type ${type.id} has no gear for ${mix.method} work`,
    actual: type.id,
    allowed: mix.method,
  }));
  const heightsM = mix.products.map((product) => product.releaseHeightMaxM).filter((heightM) => heightM !== undefined);
  if (heightsM.length > 0) {
    const mostM = Math.min(...heightsM);
    ledger.expect("releaseHeight", type.releaseHeightM <= mostM, subject, () => ({
      sentence: `type ${type.id} releases ${type.releaseHeightM} m above the crop, a label allows ${mostM} m`,
      actual: type.releaseHeightM,
      allowed: mostM,
    }));
  }
  const { slopePct, id } = mix.field.properties;
  ledger.expect("slope", slopePct <= type.slopeMaxPct, subject, () => ({
    sentence: `field ${id} slopes ${slopePct} %, type ${type.id} flies at most ${type.slopeMaxPct} %`,
    actual: slopePct,
    allowed: type.slopeMaxPct,
  }));
  if (gear === undefined) return;
  ledger.expect("rate", gear.flowAtSpeedMinPerMin <= gear.flowMaxPerMin + rounding, subject, () => ({
    sentence: `${shown(mix.ratePerHa)} per ha takes ${shown(gear.flowAtSpeedMinPerMin)} per min at the least speed of type ${type.id}, which makes ${gear.flowMaxPerMin}`,
    actual: gear.flowAtSpeedMinPerMin,
    allowed: gear.flowMaxPerMin,
  }));
  if (mix.method === "granular") return;
  const made = classesOf(facts, type);
  ledger.expect("droplet", intersect(allowedClasses(mix), made).length > 0, subject, () => ({
    sentence: `type ${type.id} makes droplets of ${made.join(" ")}, order and labels allow ${allowedClasses(mix).join(" ") || "none"}`,
    actual: made.join(" "),
    allowed: allowedClasses(mix).join(" "),
  }));
}

type DropletClass = (typeof dropletClasses)[number];

function intersect(a: readonly DropletClass[], b: readonly DropletClass[]): DropletClass[] {
  return a.filter((one) => b.includes(one));
}

/** Classes of which the type's atomisers make a droplet: class c is [lowerUm[c], lowerUm[next]). */
function classesOf(facts: Facts, { liquid }: AircraftType): DropletClass[] {
  if (liquid === undefined) return [];
  const { lowerUm } = facts.operation.settings.limits.dropletTable;
  return dropletClasses.filter((name, index) => {
    const next = dropletClasses[index + 1];
    const endUm = next === undefined ? Number.POSITIVE_INFINITY : lowerUm[next];
    return liquid.dropletMaxUm >= lowerUm[name] && liquid.dropletMinUm < endUm;
  });
}

/** Classes that all labels of the mix allow. */
function labelClasses({ products }: Mix): DropletClass[] {
  return dropletClasses.filter((_, index) =>
    products.every(({ dropletFinest, dropletCoarsest }) => {
      const isFineEnough = dropletCoarsest === undefined || index <= dropletClasses.indexOf(dropletCoarsest);
      const isCoarseEnough = dropletFinest === undefined || index >= dropletClasses.indexOf(dropletFinest);
      return isFineEnough && isCoarseEnough;
    }),
  );
}

function allowedClasses(mix: Mix): DropletClass[] {
  return labelClasses(mix).filter((name) => mix.order.dropletClass === undefined || mix.order.dropletClass === name);
}

function checkLabel(ledger: Ledger, mix: Mix): void {
  const { order, products, uses, field, method } = mix;
  const subject: Subject = { orderId: order.id };
  for (const [index, product] of products.entries()) {
    const use = uses[index];
    const { ratePerHa } = order.products[index]!;
    const isInRange = use !== undefined && use.rateMinPerHa <= ratePerHa && ratePerHa <= use.rateMaxPerHa;
    ledger.expect("label", isInRange, subject, () => ({
      sentence:
        use === undefined
          ? `the label of ${product.id} has no use on ${field.properties.crop}`
          : `${ratePerHa} per ha of ${product.id} on ${use.crop}, its label allows ${use.rateMinPerHa} to ${use.rateMaxPerHa}`,
      actual: ratePerHa,
      allowed: use === undefined ? "no use" : `${use.rateMinPerHa} to ${use.rateMaxPerHa}`,
    }));
    if (method === "granular") continue;
    ledger.expect("label", (order.carrierLPerHa ?? 0) >= product.carrierMinLPerHa, subject, () => ({
      sentence: `${order.carrierLPerHa ?? 0} L/ha of carrier, the label of ${product.id} asks for ${product.carrierMinLPerHa}`,
      actual: order.carrierLPerHa ?? 0,
      allowed: product.carrierMinLPerHa,
    }));
  }
  if (method === "granular") return;
  ledger.expect("label", allowedClasses(mix).length > 0, subject, () => ({
    sentence: `no droplet class of order ${order.id} is allowed by all its labels`,
    actual: order.dropletClass ?? "any",
    allowed: labelClasses(mix).join(" "),
  }));
}

/** Past applications and all worked orders of a field, product by product. */
function checkSeason(ledger: Ledger, mixes: readonly Mix[]): void {
  const applied = new Map<string, { mix: Mix; index: number; ratesPerHa: number[] }>();
  for (const mix of mixes) {
    for (const [index, product] of mix.products.entries()) {
      const key = `${mix.field.properties.id} ${product.id}`;
      const past = mix.field.properties.pastApplications.filter((one) => one.productId === product.id);
      const entry = applied.get(key) ?? { mix, index, ratesPerHa: past.map((one) => one.ratePerHa) };
      applied.set(key, entry);
      // An order that was done in part is one application.
      if (past.some(({ orderId }) => orderId === mix.order.id)) continue;
      entry.ratesPerHa.push(mix.order.products[index]!.ratePerHa);
    }
  }
  for (const { mix, index, ratesPerHa } of applied.values()) {
    const use = mix.uses[index];
    const productId = mix.products[index]!.id;
    const fieldId = mix.field.properties.id;
    const { seasonMaxCount, seasonMaxPerHa } = use ?? {};
    const count = ratesPerHa.length;
    const sumPerHa = ratesPerHa.reduce((sum, rate) => sum + rate, 0);
    const subject: Subject = { orderId: mix.order.id };
    if (seasonMaxCount !== undefined) {
      ledger.expect("seasonMax", count <= seasonMaxCount, subject, () => ({
        sentence: `${count} applications of ${productId} on field ${fieldId}, ${seasonMaxCount} are allowed in a season`,
        actual: count,
        allowed: seasonMaxCount,
      }));
    }
    if (seasonMaxPerHa !== undefined) {
      ledger.expect("seasonMax", sumPerHa <= seasonMaxPerHa + rounding, subject, () => ({
        sentence: `${shown(sumPerHa)} per ha of ${productId} on field ${fieldId}, ${seasonMaxPerHa} are allowed in a season`,
        actual: sumPerHa,
        allowed: seasonMaxPerHa,
      }));
    }
  }
}
