import { z } from "zod";
import { planningProblemSchema } from "../../shared/contracts/planningProblem.ts";
import { toursSchema } from "../../shared/contracts/tours.ts";
import { type Node, tables } from "./document.ts";

/** JSON Schema, draft 2020-12, of what may come in. */
export function jsonSchema(title: string, description: string, schema: z.ZodType): string {
  const { $schema, ...rest } = z.toJSONSchema(schema, { io: "input" });
  return `${JSON.stringify({ $schema, title, description, ...rest }, null, 2)}\n`;
}

/** What goes out to other solvers. */
export function problemJsonSchema(): string {
  return jsonSchema("Planning problem", "An operation as the planner's search works on it", planningProblemSchema);
}

/** And of what they hand back. */
export function toursJsonSchema(): string {
  return jsonSchema("Tours", "Who does what with which things, without times", toursSchema);
}

const intro = `# For other solvers

What Calmhour's planner is worth shows beside other solvers on the same problem. \`calmhour plan DIR --export-problem FILE\` writes the operation as the
planner's own search works on it: blocks, windows, minutes, roads, outfits, costs, and the rules in words. \`calmhour plan DIR --import-tours FILE\`
takes tours back, works out their times stop by stop by all rules, tells the first stop of each crew-day that does not run and why as far as is
known, and prints the plan with its score and the checker's verdict. It ends with exit code 1 when a stop did not run or a rule is broken, with 2 when
the file names something that is not there. \`problem-schema.json\` and \`tours-schema.json\` beside this file are the JSON Schemas (draft 2020-12).

The unit of a quantity is the end of its name. Minutes are counted from local midnight of the first day, and minute *m* means the interval from *m* to
*m* + 1. The file says itself, under \`about\`, what is not in it.

This file is generated from the schemas: change their descriptions and run \`npx tsx services/scenario/writeDocuments.ts\`.
`;

/** Every property of both formats. */
export function otherSolversDocument(): string {
  const part = (title: string, schema: z.ZodType) => {
    const root = z.toJSONSchema(schema, { io: "input" }) as Node;
    return [`## ${title}`, "", tables("", "", root).join("\n")].join("\n");
  };
  return [intro, part("The problem", planningProblemSchema), part("Tours", toursSchema)].join("\n");
}
