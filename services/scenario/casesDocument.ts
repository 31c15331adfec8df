import { z } from "zod";
import { casesFileSchema } from "../../shared/cases/cases.ts";
import { type Node, tables } from "./document.ts";
import { jsonSchema } from "./otherSolversDocument.ts";

export function casesJsonSchema(): string {
  return jsonSchema("Cases", "What-if cases: named changes to an operation, held side by side", casesFileSchema);
}

const intro = `# What-if cases

\`calmhour whatif DIR CASES.json\` plans the operation in DIR as it is and with the changes of each case, with the same seeds and the same stop rule, and holds the
results side by side: hectares, orders in time, what was left out and why, road, duty, how much of everything is used, money, and what a case brings a year beside
what it costs to own. \`cases-schema.json\` beside this file is the JSON Schema (draft 2020-12) of CASES.json; \`cases/demo.json\` is an example for \`demo\`.

Changes are made one after the other. Things that are added get ids of their own: that of what they are like, with \`-new\` behind it. What comes of all changes of a
case is judged as any operation is; a case that does not hold is told before anything is planned.

What is earned is price times hectares done. Margin is what is earned less road, wages, overtime, running the aircraft and nights away; owning costs are apart, by capital
recovery: (price - salvage) x CRF + salvage x interest. The base case is called \`base\`.

This file is generated from the schemas: change their descriptions and run \`npx tsx services/scenario/writeDocuments.ts\`.
`;

/** Every property of a cases file, and every kind of change. */
export function casesDocument(): string {
  const root = z.toJSONSchema(casesFileSchema, { io: "input" }) as Node;
  return [intro, "## CASES.json", "", tables("", "", root).join("\n")].join("\n");
}
