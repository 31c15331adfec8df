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
what it costs to own. \`cases-schema.json\` beside this file is the JSON Schema (draft 2020-12) of CASES.json; \`cases/demo.json\` is an example for \`demo\`, \`cases/season-curve.json\` one of a curve over the weeks of a season (with \`--weeks\`).

Changes are made one after the other. Things that are added get ids of their own: that of what they are like, with \`-new\` behind it. What comes of all changes of a
case is judged as any operation is; a case that does not hold is told before anything is planned.

The operation is first planned as it is. From that plan every case is searched on, with the same seed and the same stop rule, and so is the operation as it is: what differs at the end comes
from the change. Over sampled weeks (\`--weeks N\`, [season.md](season.md)) every case meets the same weather and the same orders; changes are made before the week is sampled, so that dates
which they name move with it, those of weather after it.

Every difference is told with the interval that holds its true mean with 95 % (Student's t over the seeds, or over the weeks). It is called no clear difference where that interval holds zero, or where it is not larger
than the spread of the operation as it is from seed to seed, or looks like nothing in the tables. Of twenty cases that bring nothing one may still look as if it did. A case pays where the whole interval of a year's extra margin is above what it costs to own,
and does not pay where it is below; in between that is not clear. More seeds, more iterations and more weeks make intervals narrower.

What is earned is price times hectares done. Margin is what is earned less road, wages, overtime, running the aircraft and nights away; owning costs are apart, by capital
recovery: (price - salvage) x CRF + salvage x interest. The base case is called \`base\`.

This file is generated from the schemas: change their descriptions and run \`npx tsx services/scenario/writeDocuments.ts\`.
`;

/** Every property of a cases file, and every kind of change. */
export function casesDocument(): string {
  const root = z.toJSONSchema(casesFileSchema, { io: "input" }) as Node;
  return [intro, "## CASES.json", "", tables("", "", root).join("\n")].join("\n");
}
