import { copyFile, mkdir, readFile, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { build } from "esbuild";
import { caution } from "../../shared/plan/caution.ts";

const pageFolder = join(import.meta.dirname, "page");

/** Bundle the page into a folder of plain files that any server can hand out. */
export async function buildPage(outFolder: string): Promise<void> {
  await rm(outFolder, { recursive: true, force: true });
  await mkdir(outFolder, { recursive: true });
  await build({
    entryPoints: [join(pageFolder, "main.ts")],
    outfile: join(outFolder, "main.js"),
    bundle: true,
    format: "esm",
    target: "es2022",
    minify: true,
    sourcemap: "linked",
    logLevel: "warning",
  });
  await copyFile(join(pageFolder, "page.css"), join(outFolder, "page.css"));
  const page = await readFile(join(pageFolder, "index.html"), "utf8");
  await writeFile(join(outFolder, "index.html"), page.replace("{{caution}}", caution));
}

const startedByHand = process.argv[1] !== undefined && import.meta.url === pathToFileURL(process.argv[1]).href;
if (startedByHand) await buildPage(join(import.meta.dirname, "dist"));
