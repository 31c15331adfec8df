import { minutesPerHour } from "../model/calendar.ts";
import type { AircraftType } from "../model/fleet.ts";
import type { Operation } from "../model/operation.ts";
import type { Order } from "../model/order.ts";
import type { LabelUse, Product } from "../model/product.ts";
import type { Limits } from "../model/settings.ts";
import { type Buffers, buffersOf } from "./buffers.ts";
import type { LimitSource } from "./limits.ts";

export interface MixProduct {
  readonly product: Product;
  readonly ratePerHa: number;
  /** What the label allows on the field's crop; a label may not know the crop. */
  readonly use: LabelUse | undefined;
}

/** All that goes out of one tank or hopper for one order, with the strictest of its labels where it is one figure. */
export interface Mix {
  readonly method: Product["method"];
  readonly products: readonly MixProduct[];
  readonly rainfastMin: number;
  readonly reiMin: number;
  readonly reiHours: number;
  readonly phiDays: number;
  readonly inversionRule: Product["inversionRule"];
  readonly bloomRule: Product["bloomRule"];
  readonly buffers: Buffers;
}

/** What the air must be like for one mix and kind of aircraft. */
export interface AirBounds {
  readonly windMinKph: number;
  readonly windMaxKph: Bound;
  readonly gustMaxKph: Bound | undefined;
  readonly deltaTMinC: number | undefined;
  readonly deltaTMaxC: number | undefined;
  readonly temperatureMinC: number | undefined;
  readonly temperatureMaxC: number | undefined;
}

export interface Bound {
  readonly value: number;
  readonly source: LimitSource;
}

/** From the mildest to the strictest. */
const inversionRules = ["ignore", "notWhenLikely", "notWhenPossible"] satisfies Product["inversionRule"][];
const bloomRules = ["allowed", "outsideBeeHours", "forbidden"] satisfies Product["bloomRule"][];

export function createMix(operation: Operation, order: Order, crop: string): Mix {
  const products = order.products.map(({ productId, ratePerHa }) => {
    const product = operation.products.find(({ id }) => id === productId);
    if (!product) throw new Error(`order ${order.id} names product ${productId}, which does not exist`);
    return { product, ratePerHa, use: product.uses.find((use) => use.crop === crop) };
  });
  const labels = products.map(({ product }) => product);
  const reiHours = Math.max(...labels.map((label) => label.reiHours));
  return {
    method: labels[0]!.method,
    products,
    rainfastMin: wholeMinutes(Math.max(...labels.map((label) => label.rainfastHours))),
    reiMin: wholeMinutes(reiHours),
    reiHours,
    phiDays: Math.max(...products.map(({ use }) => use?.phiDays ?? 0)),
    inversionRule: strictest(
      inversionRules,
      labels.map((label) => label.inversionRule),
    ),
    bloomRule: strictest(
      bloomRules,
      labels.map((label) => label.bloomRule),
    ),
    buffers: buffersOf(order, labels),
  };
}

/** Whole minutes stop the same whole minutes as the exact figure does, without its rounding noise (4.1 h x 60). */
export function wholeMinutes(hours: number): number {
  return Math.ceil(hours * minutesPerHour - 1e-9);
}

function strictest<Rule>(fromMildToStrict: readonly Rule[], rules: readonly Rule[]): Rule {
  return rules.reduce((a, b) => (fromMildToStrict.indexOf(b) > fromMildToStrict.indexOf(a) ? b : a));
}

export function airBounds(mix: Mix, type: AircraftType, limits: Limits): AirBounds {
  const labels = mix.products.map(({ product }) => product);
  const bounds = (source: LimitSource, values: readonly (number | undefined)[]): Bound[] =>
    given(values).map((value) => ({ value, source }));
  return {
    windMinKph: Math.max(...labels.map((label) => label.windMinKph)),
    windMaxKph: least([
      ...bounds(
        "label",
        labels.map((label) => label.windMaxKph),
      ),
      ...bounds("aircraft", [type.windMaxKph]),
      ...bounds("operation", [limits.windMaxKph]),
    ])!,
    gustMaxKph: least([
      ...bounds(
        "label",
        labels.map((label) => label.gustMaxKph),
      ),
      ...bounds("aircraft", [type.gustMaxKph]),
      ...bounds("operation", [limits.gustMaxKph]),
    ]),
    deltaTMinC: greatestOf(labels.map((label) => label.deltaTMinC)),
    deltaTMaxC: leastOf(labels.map((label) => label.deltaTMaxC)),
    temperatureMinC: greatestOf(labels.map((label) => label.temperatureMinC)),
    temperatureMaxC: leastOf(labels.map((label) => label.temperatureMaxC)),
  };
}

function least(bounds: readonly Bound[]): Bound | undefined {
  return bounds.reduce<Bound | undefined>((a, b) => (a && a.value <= b.value ? a : b), undefined);
}

function given(values: readonly (number | undefined)[]): number[] {
  return values.filter((value) => value !== undefined);
}

function leastOf(values: readonly (number | undefined)[]): number | undefined {
  const known = given(values);
  return known.length > 0 ? Math.min(...known) : undefined;
}

function greatestOf(values: readonly (number | undefined)[]): number | undefined {
  const known = given(values);
  return known.length > 0 ? Math.max(...known) : undefined;
}
