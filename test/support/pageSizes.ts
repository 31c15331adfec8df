import { readdir, readFile, stat } from "node:fs/promises";
import { join } from "node:path";

export interface Sizes {
  readonly scriptBytes: number;
  readonly styleBytes: number;
  readonly imageBytes: number;
}

export interface PageSizes {
  /** What the page itself asks for before anything is chosen. */
  readonly page: Sizes;
  /** What a room, or what else comes when it is opened, asks for beside. */
  readonly parts: ReadonlyMap<string, Sizes>;
  /** All that was built. */
  readonly all: Sizes;
}

/** Bytes of the built screens as they go out: compressed, but for pictures that are so already. */
export async function pageSizes(folder: string): Promise<PageSizes> {
  const built = (await readdir(folder, { recursive: true })).filter((file) => /[.](js|css|png|svg|html)$/.test(file));
  const page = await readFile(join(folder, "index.html"), "utf8");
  const first = new Set(["index.html", ...built.filter((file) => page.includes(file))]);
  const sizeOf = async (file: string) => (await stat(join(folder, file.endsWith(".png") ? file : `${file}.gz`))).size;
  const sizesOf = async (files: Iterable<string>): Promise<Sizes> => {
    const sizes = { scriptBytes: 0, styleBytes: 0, imageBytes: 0 };
    for (const file of files) {
      const kind = /[.](css|html)$/.test(file) ? "styleBytes" : file.endsWith(".js") ? "scriptBytes" : "imageBytes";
      sizes[kind] += await sizeOf(file);
    }
    return sizes;
  };
  const parts = new Map<string, Sizes>();
  for (const script of built.filter((file) => file.endsWith(".js"))) {
    for (const [name, files] of opened(await readFile(join(folder, script), "utf8"))) {
      const beside = new Set(files.filter((file) => !first.has(file) && built.includes(file)));
      parts.set(name, await sizesOf(beside));
    }
  }
  return { page: await sizesOf(first), parts, all: await sizesOf(built) };
}

/** What a script opens later, with the files that come with it, as the bundler lists them. */
function opened(script: string): Map<string, string[]> {
  const [, listed] = /__vite__mapDeps=[^[]*\[([^\]]*)\]/.exec(script) ?? [];
  const files: string[] = listed === undefined ? [] : JSON.parse(`[${listed}]`);
  const openings = script.matchAll(/import\([`"']\.\/((\w+)[^`"']*)[`"']\),__vite__mapDeps\(\[([\d,]*)\]/g);
  return new Map(
    [...openings].map(([, file, name, places]) => [
      name!,
      [...new Set([`assets/${file}`, ...places!.split(",").map((at) => files[Number(at)]!)])],
    ]),
  );
}
