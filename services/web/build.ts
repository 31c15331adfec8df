import { createHash } from "node:crypto";
import { readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { promisify } from "node:util";
import { gzip } from "node:zlib";
import react from "@vitejs/plugin-react";
import { build } from "vite";
import { caution } from "../../shared/plan/caution.ts";
import { writeShapes } from "./shapes.ts";

const compress = promisify(gzip);

/** Bundles the screens into a folder of plain files that any server can hand out, each with a compressed one beside it. */
export async function buildPage(outFolder: string): Promise<void> {
  await asInProduction(() =>
    build({
      root: import.meta.dirname,
      configFile: false,
      logLevel: "warn",
      plugins: [react(), { name: "caution", transformIndexHtml: (page) => page.replace("{{caution}}", caution) }],
      build: { outDir: outFolder, emptyOutDir: true, target: "es2022", assetsInlineLimit: 0, sourcemap: true },
    }),
  );
  await writeShapes(outFolder);
  await nameFilesOfBuild(outFolder);
  for (const entry of await readdir(outFolder, { recursive: true })) {
    if (!/[.](js|css|html|svg|webmanifest|json)$/.test(entry)) continue;
    const file = join(outFolder, entry);
    await writeFile(`${file}.gz`, await compress(await readFile(file), { level: 9 }));
  }
}

/** A test runner says "test" of itself, of which a bundler makes a build for developing: twice the script, and slower. */
async function asInProduction(work: () => Promise<unknown>): Promise<void> {
  const before = process.env.NODE_ENV;
  process.env.NODE_ENV = "production";
  try {
    await work();
  } finally {
    if (before === undefined) delete process.env.NODE_ENV;
    else process.env.NODE_ENV = before;
  }
}

/** Tells the service worker which files are of this build and what is in them; whatever changes makes it another worker. */
export async function nameFilesOfBuild(outFolder: string): Promise<void> {
  const worker = join(outFolder, "sw.js");
  const digests: Record<string, string> = {};
  for (const entry of (await readdir(outFolder, { recursive: true })).sort()) {
    if (!/[.](js|css|html|svg|webmanifest|png)$/.test(entry) || entry === "sw.js") continue;
    digests[`/${entry}`] = createHash("sha256")
      .update(await readFile(join(outFolder, entry)))
      .digest("hex");
  }
  const files = JSON.stringify(digests);
  const build = createHash("sha256").update(files).digest("hex").slice(0, 16);
  const text = await readFile(worker, "utf8");
  await writeFile(worker, text.replace("const files = {}", `const files = ${files}`).replace("{{build}}", build));
}

const startedByHand = process.argv[1] !== undefined && import.meta.url === pathToFileURL(process.argv[1]).href;
if (startedByHand) await buildPage(join(import.meta.dirname, "dist"));
