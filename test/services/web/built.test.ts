import { mkdtemp, readdir, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { buildPage } from "../../../services/web/build.ts";
import { caution } from "../../../shared/plan/caution.ts";
import { pageSizes } from "../../support/pageSizes.ts";

let folder: string;
let page: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "page-"));
  await buildPage(folder);
  page = await readFile(join(folder, "index.html"), "utf8");
}, 60_000);
afterAll(() => rm(folder, { recursive: true, force: true }));

describe("the built screens", () => {
  it("carry the caution before any script runs", () => {
    expect(page).toContain(caution);
  });

  it("have nothing inline that a strict policy refuses", () => {
    expect(page).not.toMatch(/<script(?![^>]*\ssrc=)|<style|\sstyle=|\son\w+=/);
  });

  it("ask for less than 200 kB of compressed script before something is seen, in whatever room", async () => {
    const { page: asked, parts } = await pageSizes(folder);
    const rooms = [...parts].filter(([name]) => name.endsWith("Room"));
    expect(rooms.map(([name]) => name)).toContain("WeekRoom");
    for (const [name, { scriptBytes }] of rooms) {
      expect(scriptBytes, name).toBeGreaterThan(0);
      expect(asked.scriptBytes + scriptBytes, name).toBeLessThan(200_000);
    }
    // What a dispatcher fetches on a poor line: the page, its room, styles and pictures together.
    const { scriptBytes, styleBytes } = parts.get("WeekRoom")!;
    expect(asked.scriptBytes + asked.styleBytes + asked.imageBytes + scriptBytes + styleBytes).toBeLessThan(200_000);
  });

  it("leave what draws maps to whoever looks at one", async () => {
    const files = (await readdir(join(folder, "assets"))).filter((file) => file.endsWith(".js"));
    const withMaps: string[] = [];
    for (const file of files) {
      if ((await readFile(join(folder, "assets", file), "utf8")).includes("leaflet-container")) withMaps.push(file);
    }
    expect(withMaps).toHaveLength(1);
    expect(page).not.toContain(withMaps[0]);
    expect(withMaps[0]).not.toMatch(/Room/);
  });
});

describe("colours", () => {
  it.each(["day", "night", "sun"])("stand out from their ground: %s", async (look) => {
    const styles = await readFile(new URL("../../../services/web/app/look/tokens.css", import.meta.url), "utf8");
    const [, body] = new RegExp(`:root\\[data-look="${look}"\\] \\{([^}]*)\\}`).exec(styles)!;
    const colours = Object.fromEntries(
      [...body!.matchAll(/--(\w+): (#[0-9a-f]{6})/g)].map(([, name, hex]) => [name!, hex!]),
    );
    // WCAG 2.2: 4.5 for text at least (1.4.3), 7 for the best mark (1.4.6), 3 for signs (1.4.11).
    for (const ground of ["ground", "panel", "calm"] as const) {
      expect(contrast(colours.ink!, colours[ground]!)).toBeGreaterThan(7);
      expect(contrast(colours.quiet!, colours[ground]!)).toBeGreaterThan(4.5);
    }
    for (const ground of ["ground", "panel"] as const) {
      expect(contrast(colours.bad!, colours[ground]!)).toBeGreaterThan(4.5);
      expect(contrast(colours.good!, colours[ground]!)).toBeGreaterThan(4.5);
      expect(contrast(colours.link!, colours[ground]!)).toBeGreaterThan(7);
    }
    for (const method of ["liquid", "granular"]) {
      expect(contrast(colours.ink!, colours[method]!)).toBeGreaterThan(7);
      expect(contrast(colours[`${method}Sign`]!, colours[method]!)).toBeGreaterThan(3);
    }
  });

  it("of a dark device are those of the night", async () => {
    const styles = await readFile(new URL("../../../services/web/app/look/tokens.css", import.meta.url), "utf8");
    const declared = (selector: string) =>
      new RegExp(`:root\\[data-look="${selector}"\\] \\{([^}]*)\\}`).exec(styles)![1]!.replace(/\s+/g, " ").trim();
    expect(declared("auto")).toBe(declared("night"));
  });
});

/** Contrast ratio of two colours by WCAG 2.2. */
function contrast(one: string, other: string): number {
  const [light, dark] = [luminance(one), luminance(other)].sort((a, b) => b - a);
  return (light! + 0.05) / (dark! + 0.05);
}

/** Relative luminance by WCAG 2.2. */
function luminance(hex: string): number {
  const [red, green, blue] = [1, 3, 5].map((from) => {
    const value = Number.parseInt(hex.slice(from, from + 2), 16) / 255;
    return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * red! + 0.7152 * green! + 0.0722 * blue!;
}
