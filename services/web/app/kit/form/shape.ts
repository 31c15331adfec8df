import type { Path } from "../../../../../shared/model/faults.ts";

/** What forms read of JSON Schema, as the model's schemas come out. */
export interface Shape {
  readonly type?: string;
  readonly format?: string;
  readonly pattern?: string;
  readonly description?: string;
  readonly const?: unknown;
  readonly enum?: readonly string[];
  readonly default?: unknown;
  readonly items?: Shape;
  readonly properties?: Readonly<Record<string, Shape>>;
  readonly required?: readonly string[];
  readonly oneOf?: readonly Shape[];
}

export type FieldKind =
  | "fixed"
  | "text"
  | "number"
  | "yesNo"
  | "choice"
  | "date"
  | "dateTime"
  | "clock"
  | "reference"
  | "list"
  | "choices"
  | "group"
  | "union";

/** Which list of the operation the name of a property speaks of. */
const referred: Readonly<Record<string, Referred>> = {
  fieldId: "fields",
  productId: "products",
  baseId: "bases",
  overnightBaseIds: "bases",
  typeId: "aircraft-types",
  aircraftTypeId: "aircraft-types",
  ratings: "aircraft-types",
};
export type Referred = "fields" | "products" | "bases" | "aircraft-types";
export const referredBy = (name: string): Referred | undefined => referred[name];

const fits = (pattern: string | undefined, text: string) => pattern !== undefined && new RegExp(pattern).test(text);

export function kindOf(name: string, shape: Shape): FieldKind {
  if (shape.const !== undefined) return "fixed";
  if (shape.oneOf) return "union";
  if (shape.enum) return "choice";
  if (shape.type === "object") return "group";
  if (shape.type === "array") return referredBy(name) || shape.items?.enum ? "choices" : "list";
  if (shape.type === "boolean") return "yesNo";
  if (shape.type === "number" || shape.type === "integer") return "number";
  if (shape.format === "date") return "date";
  if (fits(shape.pattern, "2027-06-07T05:30")) return "dateTime";
  if (fits(shape.pattern, "05:30")) return "clock";
  return referredBy(name) ? "reference" : "text";
}

/** The property by which the shapes of a union are told apart, and what it says of each. */
export function unionOf({ oneOf = [] }: Shape): { readonly by: string; readonly shapes: ReadonlyMap<string, Shape> } {
  const by = Object.entries(oneOf[0]?.properties ?? {}).find(([, { const: value }]) => value !== undefined)?.[0] ?? "";
  return { by, shapes: new Map(oneOf.map((shape) => [String(shape.properties?.[by]?.const), shape])) };
}

/** What a new thing begins with: empty lists and groups where something has to stand, nothing else; what is left out gets its default. */
export function emptyOf(shape: Shape): unknown {
  if (shape.const !== undefined) return shape.const;
  if (shape.type === "array") return [];
  if (shape.oneOf) return emptyOf(shape.oneOf[0]!);
  if (shape.type !== "object") return undefined;
  const needed = (shape.required ?? []).map((name) => [name, emptyOf(shape.properties![name]!)] as const);
  return Object.fromEntries(needed.filter(([, value]) => value !== undefined));
}

/** The value with another one at a path of it; undefined takes away what stands there. Nothing of what was given is changed. */
export function withAt(value: unknown, path: Path, put: unknown): unknown {
  const [step, ...rest] = path;
  if (step === undefined) return put;
  if (typeof step === "number") {
    const list = Array.isArray(value) ? [...(value as unknown[])] : [];
    const inner = withAt(list[step], rest, put);
    if (inner === undefined) list.splice(step, 1);
    else list[step] = inner;
    return list;
  }
  const { [step]: inner, ...others } = (value ?? {}) as Record<string, unknown>;
  const made = withAt(inner, rest, put);
  if (made === undefined) return others;
  // In the place where it stood, so that what is compared stays in order.
  return inner === undefined ? { ...others, [step]: made } : { ...(value as object), [step]: made };
}

export interface Leaf {
  readonly path: Path;
  readonly value: unknown;
}

/** All that stands in a value and holds nothing else. */
export function leavesOf(value: unknown, path: Path = []): readonly Leaf[] {
  if (Array.isArray(value)) return value.flatMap((inner, at) => leavesOf(inner, [...path, at]));
  if (typeof value !== "object" || value === null) return value === undefined ? [] : [{ path, value }];
  return Object.entries(value).flatMap(([name, inner]) => leavesOf(inner, [...path, name]));
}

export interface Difference {
  readonly path: Path;
  readonly values: readonly unknown[];
}

/** Where several forms of one thing are not alike, and what each has there. */
export function differences(forms: readonly unknown[]): readonly Difference[] {
  const ofForms = forms.map((form) => new Map(leavesOf(form).map((leaf) => [JSON.stringify(leaf.path), leaf])));
  const places = [...new Set(ofForms.flatMap((leaves) => [...leaves.keys()]))];
  return places
    .map((place) => ({
      path: JSON.parse(place) as Path,
      values: ofForms.map((leaves) => leaves.get(place)?.value),
    }))
    .filter(({ values }) => values.some((value) => value !== values[0]));
}
