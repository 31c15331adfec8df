import { cp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { z } from "zod";

/** A change to one file of the base scenario. */
const editSchema = z.union([
  z.strictObject({ file: z.string(), find: z.string(), replace: z.string() }),
  z.strictObject({ file: z.string(), whole: z.string(), encoding: z.enum(["utf8", "latin1"]) }),
  z.strictObject({ file: z.string(), remove: z.literal(true) }),
  z.strictObject({
    file: z.string(),
    path: z.array(z.union([z.string(), z.number()])).min(1),
    value: z.unknown().optional(),
  }),
]);
type Edit = z.infer<typeof editSchema>;

const caseSchema = z.strictObject({
  wrong: z.string().describe("what is wrong, for people"),
  base: z.string().describe("scenario folder beside the cases that is edited"),
  edits: z.array(editSchema).min(1),
  faults: z
    .array(z.strictObject({ file: z.string(), place: z.string(), value: z.string(), expected: z.string() }))
    .min(1)
    .describe("every fault that is to be named, and no other; expected: words that must occur"),
});
export type MalformedCase = z.infer<typeof caseSchema>;

const casesDir = join(import.meta.dirname, "../../data/malformed");

export async function malformedNames(): Promise<string[]> {
  const names = (await readdir(casesDir)).filter((name) => name.endsWith(".json"));
  return names.map((name) => name.replace(/\.json$/, "")).sort();
}

export async function malformedCase(name: string): Promise<MalformedCase> {
  return caseSchema.parse(JSON.parse(await readFile(join(casesDir, `${name}.json`), "utf8")));
}

/** Sets what stands at a path of a JSON file; without a value it is taken away. */
function withValue(root: unknown, path: readonly (string | number)[], value: unknown): unknown {
  const [step, ...rest] = path;
  if (step === undefined) return value;
  if (Array.isArray(root)) return root.toSpliced(Number(step), 1, withValue(root[Number(step)], rest, value));
  const object = root as Record<string, unknown>;
  return { ...object, [step]: withValue(object[step], rest, value) };
}

async function applyEdit(dir: string, edit: Edit): Promise<void> {
  const file = join(dir, edit.file);
  if ("remove" in edit) await rm(file);
  else if ("whole" in edit) await writeFile(file, edit.whole, edit.encoding);
  else {
    const text = await readFile(file, "utf8");
    if ("path" in edit) {
      await writeFile(file, JSON.stringify(withValue(JSON.parse(text), edit.path, edit.value)));
    } else {
      if (text.split(edit.find).length !== 2) throw new Error(`"${edit.find}" does not occur once in ${edit.file}`);
      await writeFile(
        file,
        text.replace(edit.find, () => edit.replace),
      );
    }
  }
}

/** Lays the edited base scenario into a folder. */
export async function layOut(dir: string, { base, edits }: MalformedCase): Promise<void> {
  await cp(join(casesDir, base), dir, { recursive: true });
  for (const edit of edits) await applyEdit(dir, edit);
}
