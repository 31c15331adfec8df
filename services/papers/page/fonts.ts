import { readFileSync } from "node:fs";
import { createRequire } from "node:module";

const resolve = createRequire(import.meta.url).resolve;
const read = (name: string) => readFileSync(resolve(`dejavu-fonts-ttf/ttf/${name}.ttf`));

/** Of DejaVu: Latin with all its accents, Greek and Cyrillic. Condensed, so that a sheet stays a sheet. Read once, when the first paper is written. */
let kept: { readonly plain: Buffer; readonly bold: Buffer } | undefined;

export function paperFonts() {
  kept ??= { plain: read("DejaVuSansCondensed"), bold: read("DejaVuSansCondensed-Bold") };
  return kept;
}
