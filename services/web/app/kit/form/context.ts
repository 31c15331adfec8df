import { createContext } from "react";
import type { Fault } from "../../../../../shared/contracts/problem.ts";
import type { Path } from "../../../../../shared/model/faults.ts";
import type { Operation } from "../../../../../shared/model/operation.ts";
import type { UnitSystem } from "../../units/units.ts";
import type { QuantityContext } from "./quantities.ts";
import type { Referred } from "./shape.ts";

export interface Option {
  readonly value: string;
  readonly words: string;
}

export interface FormContext {
  readonly system: UnitSystem;
  readonly currency: string;
  readonly faults: readonly Fault[];
  readonly optionsOf: (list: Referred) => readonly Option[];
  /** What a product's rates are measured in; undefined: it is not known. */
  readonly rateUnitOfProduct: (productId: string) => "L" | "kg" | undefined;
  /** Paths, with dots, of what names the thing: it cannot be changed where it is stored. */
  readonly fixed: readonly string[];
  readonly put: (path: Path, value: unknown) => void;
}

export const FormFacts = createContext<FormContext | null>(null);

const byWords = (a: Option, b: Option) => a.words.localeCompare(b.words, "en", { numeric: true });

/** Names stand alone, but with their ids where two things have the same. */
export function withIds(options: readonly Option[]): Option[] {
  const counts = new Map<string, number>();
  for (const { words } of options) counts.set(words, (counts.get(words) ?? 0) + 1);
  return options.map(({ value, words }) =>
    counts.get(words) === 1 || value === words ? { value, words } : { value, words: `${words} (${value})` },
  );
}

export function optionsIn(operation: Operation, list: Referred): readonly Option[] {
  const named = (things: readonly { readonly id: string; readonly name: string }[]) =>
    withIds(things.map(({ id, name }) => ({ value: id, words: name }))).sort(byWords);
  if (list === "fields") return named(operation.fields.features.map(({ properties }) => properties));
  if (list === "products") return named(operation.products);
  if (list === "bases") return named(operation.settings.bases);
  return named(operation.fleet.aircraftTypes);
}

export function productRateUnits(operation: Operation): FormContext["rateUnitOfProduct"] {
  const units = new Map<string, "L" | "kg">(operation.products.map((product) => [product.id, rateUnit(product)]));
  return (productId) => units.get(productId);
}

/** As rateUnitOf, which comes with what judges products. */
function rateUnit({ method, rateUnit: given }: Operation["products"][number]): "L" | "kg" {
  return given ?? (method === "liquid" ? "L" : "kg");
}

/** The rates of one thing: those of the product that it names, or of the product that it is. */
export function quantityContext(
  { currency, rateUnitOfProduct, system }: Pick<FormContext, "currency" | "rateUnitOfProduct" | "system">,
  around: readonly unknown[],
): QuantityContext {
  for (const one of [...around].reverse()) {
    if (typeof one !== "object" || one === null) continue;
    const { method, productId, rateUnit: given } = one as Record<string, unknown>;
    if (typeof productId === "string") return { system, currency, rateUnit: rateUnitOfProduct(productId) ?? "L" };
    if (given === "L" || given === "kg") return { system, currency, rateUnit: given };
    if (method === "liquid" || method === "granular") {
      return { system, currency, rateUnit: method === "liquid" ? "L" : "kg" };
    }
  }
  return { system, currency, rateUnit: "L" };
}
