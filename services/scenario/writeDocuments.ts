import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { casesDocument, casesJsonSchema } from "./casesDocument.ts";
import { operationJsonSchema, scenarioNames, scenariosReadme } from "./document.ts";
import { otherSolversDocument, problemJsonSchema, toursJsonSchema } from "./otherSolversDocument.ts";
import { seasonFilesDocument, seasonJsonSchema } from "./seasonFilesDocument.ts";

/** Run by hand after a change to the schemas or the scenarios; a test compares what is committed. */
const dir = join(import.meta.dirname, "../../scenarios");
await writeFile(join(dir, "README.md"), scenariosReadme(await scenarioNames(dir)));
await writeFile(join(dir, "schema.json"), operationJsonSchema());
await writeFile(join(dir, "other-solvers.md"), otherSolversDocument());
await writeFile(join(dir, "problem-schema.json"), problemJsonSchema());
await writeFile(join(dir, "tours-schema.json"), toursJsonSchema());
await writeFile(join(dir, "cases.md"), casesDocument());
await writeFile(join(dir, "cases-schema.json"), casesJsonSchema());
await writeFile(join(dir, "season.md"), seasonFilesDocument());
await writeFile(join(dir, "season-schema.json"), seasonJsonSchema());
