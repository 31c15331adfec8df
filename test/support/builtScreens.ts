import { createHash } from "node:crypto";
import { existsSync } from "node:fs";
import { mkdir, mkdtemp, readdir, readFile, rename, rm } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { buildPage } from "../../services/web/build.ts";

const root = fileURLToPath(new URL("../../", import.meta.url));
const keptIn = join(root, ".data/screens");
const builtFrom = ["services/web", "shared", "package-lock.json"];
const keptBuilds = 3;

/** The folder of the built screens: bundled once for what the sources are now, however many ask for them. */
export async function builtScreens(): Promise<string> {
  await mkdir(keptIn, { recursive: true });
  const folder = join(keptIn, await digestOfSources());
  if (existsSync(folder)) return folder;
  const making = await mkdtemp(join(keptIn, "making-"));
  await buildPage(making);
  // Somebody else may have been quicker; what they built is the same.
  await rename(making, folder).catch(() => rm(making, { recursive: true }));
  const others = (await readdir(keptIn)).filter((name) => !name.startsWith("making-") && !folder.endsWith(name));
  for (const name of others.slice(0, -keptBuilds)) await rm(join(keptIn, name), { recursive: true, force: true });
  return folder;
}

async function digestOfSources(): Promise<string> {
  const digest = createHash("sha256");
  for (const from of builtFrom) {
    const files = from.endsWith(".json") ? [from] : await filesIn(from);
    for (const file of files) digest.update(file).update(await readFile(join(root, file)));
  }
  return digest.digest("hex").slice(0, 20);
}

async function filesIn(folder: string): Promise<string[]> {
  const entries = await readdir(join(root, folder), { recursive: true, withFileTypes: true });
  return entries
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name).slice(root.length))
    .filter((file) => !file.startsWith("services/web/dist/"))
    .sort();
}
