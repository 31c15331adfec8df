import * as fc from "fast-check";

export type Json = Record<string, unknown>;

/** Our choice: deeper than this only what must be there is made. */
const deepest = 8;
const mostItems = 3;

/** Values that a JSON Schema of the document allows, as far as one can tell by its keywords. */
export function arbitraryOf(document: Json): (schema: Json) => fc.Arbitrary<unknown> {
  const known = new Map<Json, fc.Arbitrary<unknown>>();
  const of = (schema: Json, depth: number): fc.Arbitrary<unknown> => {
    const before = known.get(schema);
    if (before !== undefined) return before;
    const made = make(schema, depth);
    known.set(schema, made);
    return made;
  };

  function make(schema: Json, depth: number): fc.Arbitrary<unknown> {
    if (typeof schema.$ref === "string") return of(resolve(document, schema.$ref), depth);
    if ("const" in schema) return fc.constant(schema.const);
    if (Array.isArray(schema.enum)) return fc.constantFrom(...(schema.enum as unknown[]));
    const choices = (schema.anyOf ?? schema.oneOf) as Json[] | undefined;
    if (choices !== undefined) return fc.oneof(...choices.map((choice) => of(choice, depth)));
    switch (schema.type) {
      case "string":
        return textOf(schema);
      case "integer":
        return fc.integer(bounds(schema, 1));
      case "number":
        return fc.double({ ...bounds(schema, 1e-6), noNaN: true, noDefaultInfinity: true });
      case "boolean":
        return fc.boolean();
      case "null":
        return fc.constant(null);
      case "array":
        return listOf(schema, depth);
      case "object":
        return objectOf(schema, depth);
      default:
        return fc.jsonValue({ maxDepth: 2 });
    }
  }

  function listOf(schema: Json, depth: number): fc.Arbitrary<unknown> {
    if (Array.isArray(schema.prefixItems)) {
      return fc.tuple(...(schema.prefixItems as Json[]).map((item) => of(item, depth + 1)));
    }
    const minLength = (schema.minItems as number | undefined) ?? 0;
    const most = depth > deepest ? minLength : minLength + mostItems;
    const maxLength = Math.min((schema.maxItems as number | undefined) ?? most, most);
    return fc.array(of((schema.items as Json | undefined) ?? {}, depth + 1), { minLength, maxLength });
  }

  function objectOf(schema: Json, depth: number): fc.Arbitrary<unknown> {
    const properties = (schema.properties ?? {}) as Record<string, Json>;
    const required = ((schema.required ?? []) as string[]).filter((name) => name in properties);
    const names = depth > deepest ? required : Object.keys(properties);
    const record = fc.record(Object.fromEntries(names.map((name) => [name, of(properties[name]!, depth + 1)])), {
      requiredKeys: required,
    });
    const more = schema.additionalProperties;
    if (typeof more !== "object" || more === null || depth > deepest) return record;
    const keys =
      schema.propertyNames === undefined ? fc.string({ maxLength: 8 }) : of(schema.propertyNames as Json, depth + 1);
    const rest = fc.dictionary(keys as fc.Arbitrary<string>, of(more as Json, depth + 1), { maxKeys: mostItems });
    return fc.tuple(record, rest).map(([own, others]) => ({ ...others, ...own }));
  }

  return (schema) => of(schema, 0);
}

function resolve(document: Json, ref: string): Json {
  return ref
    .slice("#/".length)
    .split("/")
    .reduce<Json>((at, step) => at[step.replaceAll("~1", "/").replaceAll("~0", "~")] as Json, document);
}

function textOf(schema: Json): fc.Arbitrary<string> {
  switch (schema.format) {
    case "uuid":
      return fc.uuid();
    case "date":
      return dates.map((date) => date.toISOString().slice(0, 10));
    case "date-time":
      return dates.map((date) => date.toISOString());
  }
  if (typeof schema.pattern === "string") {
    try {
      return fc.stringMatching(new RegExp(schema.pattern));
    } catch {
      // A pattern that the library cannot turn round.
    }
  }
  const minLength = (schema.minLength as number | undefined) ?? 0;
  const maxLength = Math.min((schema.maxLength as number | undefined) ?? minLength + 20, minLength + 20);
  return fc.string({ minLength, maxLength, unit: "grapheme" });
}

const dates = fc.date({ min: new Date("2027-01-01"), max: new Date("2027-12-31"), noInvalidDate: true });

function bounds(schema: Json, step: number): { min: number; max: number } {
  const { minimum, maximum, exclusiveMinimum, exclusiveMaximum } = schema as Record<string, number | undefined>;
  const min = minimum ?? (exclusiveMinimum === undefined ? -1000 : exclusiveMinimum + step);
  const max = maximum ?? (exclusiveMaximum === undefined ? Math.max(min, 0) + 1000 : exclusiveMaximum - step);
  return { min: Math.max(min, -(2 ** 31)), max: Math.min(Math.max(min, max), 2 ** 31 - 1) };
}
