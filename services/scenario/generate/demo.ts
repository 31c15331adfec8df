/** Writes the scenarios that come with the program: npx tsx services/scenario/generate/demo.ts */
import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { formatFault } from "../faults.ts";
import { writeScenario } from "../write.ts";
import { demoOperation } from "./demo/demoOperation.ts";
import { demoHistory, historyText } from "./demo/history.ts";
import { demoSeason } from "./demo/season.ts";
import { smallOperation } from "./small.ts";

const folder = (name: string) => fileURLToPath(new URL(`../../../scenarios/${name}`, import.meta.url));

for (const [name, operation] of [
  ["demo", demoOperation()],
  ["small", smallOperation()],
] as const) {
  const outcome = await writeScenario(folder(name), operation);
  if (!outcome.ok) throw new Error(outcome.faults.map(formatFault).join("\n"));
  console.log(
    `scenarios/${name}: ${operation.fields.features.length} fields, ${operation.orders.length} orders, ${operation.weather.length} weather steps`,
  );
}

const cases = folder("cases");
const history = demoHistory(demoOperation().settings);
await mkdir(cases, { recursive: true });
await writeFile(join(cases, "history.csv"), historyText(history));
await writeFile(join(cases, "season.json"), `${JSON.stringify(demoSeason, null, 2)}\n`);
console.log(`scenarios/cases: ${history.length} weather steps of two seasons`);
