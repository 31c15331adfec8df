import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { z } from "zod";
import { listResources, wholeResources } from "../../shared/model/resources.ts";

/** The shapes that forms are made of, as JSON Schema by the resource's name: a browser has no need of what judges them. */
export async function writeShapes(outFolder: string): Promise<void> {
  const ofLists = listResources.map(({ entrySchema, name }) => [name, entrySchema] as const);
  const ofWholes = wholeResources.filter(({ name }) => name === "settings").map(({ name, schema }) => [name, schema]);
  const shapes = [...ofLists, ...(ofWholes as [string, z.ZodType][])].map(([name, schema]) => [
    name,
    z.toJSONSchema(schema, { io: "input" }),
  ]);
  await writeFile(join(outFolder, "shapes.json"), JSON.stringify(Object.fromEntries(shapes)));
}
