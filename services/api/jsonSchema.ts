import { z } from "zod";

export type JsonSchema = Record<string, unknown>;

/** JSON Schema 2020-12, as the OpenAPI document has it. `input`: of what is sent, where defaults may be left out. */
export function jsonSchema(schema: z.ZodType, io: "input" | "output"): JsonSchema {
  const { $schema: _, ...rest } = z.toJSONSchema(standIn(schema) ?? schema, {
    io,
    unrepresentable: "any",
    override: ({ zodSchema, jsonSchema: target }) => {
      const told = standIn(zodSchema as unknown as z.ZodType);
      if (told) {
        delete target.standsFor;
        Object.assign(target, jsonSchema(told, io));
      }
      // Our transforms only brand a text; what goes in comes out.
      if (zodSchema instanceof z.ZodPipe && zodSchema.out instanceof z.ZodTransform) {
        Object.assign(target, jsonSchema(zodSchema.in as z.ZodType, io));
      }
    },
  });
  return rest;
}

/** What is judged elsewhere is told by another schema than the one that it is parsed by. */
function standIn(schema: z.ZodType): z.ZodType | null {
  const { standsFor } = schema.meta?.() ?? {};
  return standsFor instanceof z.ZodType ? standsFor : null;
}
