import type { AircraftType } from "../model/fleet.ts";
import type { Product } from "../model/product.ts";
import type { Limits } from "../model/settings.ts";
import type { Mix } from "./mix.ts";

/** The strictest of several limits and whose it is, as: label, label of Product A, aircraft, operation. */
export interface Bound {
  readonly value: number;
  readonly whose: string;
}

/** What the air must be like for one mix and kind of aircraft. */
export interface AirBounds {
  /** Where the limits of the mean wind hold; none: at the height of the forecast, whatever it is. */
  readonly windHeightM: number | undefined;
  readonly windMinKph: Bound;
  readonly windMaxKph: Bound;
  readonly gustMaxKph: Bound;
  readonly deltaTMinC: Bound | undefined;
  readonly deltaTMaxC: Bound | undefined;
  readonly temperatureMinC: Bound | undefined;
  readonly temperatureMaxC: Bound | undefined;
  readonly humidityMinPct: Bound | undefined;
  readonly humidityMaxPct: Bound | undefined;
}

export function airBounds(mix: Mix, type: AircraftType, limits: Limits): AirBounds {
  const ofLabels = (figureOf: (label: Product) => number | undefined): Bound[] =>
    mix.products.flatMap(({ product }) => boundOf(figureOf(product), labelWords(mix, product)));
  return {
    windHeightM: limits.windAt === "releaseHeight" ? type.releaseHeightM : undefined,
    windMinKph: greatest(ofLabels((label) => label.windMinKph))!,
    windMaxKph: least([
      ...ofLabels((label) => label.windMaxKph),
      { value: type.windMaxKph, whose: "aircraft" },
      ...boundOf(limits.windMaxKph, "operation"),
    ])!,
    gustMaxKph: least([
      ...ofLabels((label) => label.gustMaxKph),
      { value: type.gustMaxKph, whose: "aircraft" },
      ...boundOf(limits.gustMaxKph, "operation"),
    ])!,
    deltaTMinC: greatest(ofLabels((label) => label.deltaTMinC)),
    deltaTMaxC: least(ofLabels((label) => label.deltaTMaxC)),
    temperatureMinC: greatest(ofLabels((label) => label.temperatureMinC)),
    temperatureMaxC: least(ofLabels((label) => label.temperatureMaxC)),
    humidityMinPct: greatest(ofLabels((label) => label.humidityMinPct)),
    humidityMaxPct: least(ofLabels((label) => label.humidityMaxPct)),
  };
}

/** How people name a label of the mix. */
export function labelWords({ products }: Mix, { name }: Product): string {
  return products.length === 1 ? "label" : `label of ${name}`;
}

function boundOf(value: number | undefined, whose: string): Bound[] {
  return value === undefined ? [] : [{ value, whose }];
}

function least(bounds: readonly Bound[]): Bound | undefined {
  return bounds.reduce<Bound | undefined>((a, b) => (a && a.value <= b.value ? a : b), undefined);
}

function greatest(bounds: readonly Bound[]): Bound | undefined {
  return bounds.reduce<Bound | undefined>((a, b) => (a && a.value >= b.value ? a : b), undefined);
}
