import { readdirSync, readFileSync } from "node:fs";
import { dirname, join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";
import { describe, expect, it } from "vitest";

const root = fileURLToPath(new URL("../../../", import.meta.url));
const app = "services/web/app";
/** What comes from elsewhere into a browser. */
const packages = ["react", "react-dom", "scheduler", "leaflet", "uplot", "clipper2-ts", "suncalc"];

describe("the screens", () => {
  it("are made of their own room, of what is shared, and of few packages", async () => {
    const { metafile } = await build({
      absWorkingDir: root,
      entryPoints: ["services/web/app/main.tsx"],
      bundle: true,
      write: false,
      metafile: true,
      format: "esm",
      outdir: "nowhere",
      // Pictures that come with a style sheet and are never asked for.
      loader: { ".png": "empty" },
      logLevel: "silent",
    });
    const inputs = Object.keys(metafile.inputs);
    expect(inputs.length).toBeGreaterThan(20);
    const others = inputs.filter(
      (path) => !/^(services[/]web[/]app|shared)[/]/.test(path) && !packages.includes(path.split("/")[1]!),
    );
    expect(others).toEqual([]);
    // Types leave no trace in what is built.
    const named = readdirSync(join(root, app), { recursive: true, encoding: "utf8" })
      .filter((path) => /[.]tsx?$/.test(path) && !path.endsWith(".d.ts"))
      .flatMap((path) => {
        const text = readFileSync(join(root, app, path), "utf8");
        return [...text.matchAll(/(?:from|import)[ (]"([^"]+)"/g)].map(([, from]) =>
          from!.startsWith(".") ? relative(root, join(root, app, dirname(path), from!)) : from!,
        );
      });
    expect(named.length).toBeGreaterThan(50);
    const allowed = (from: string) =>
      from.startsWith(`${app}/`) || from.startsWith("shared/") || packages.includes(from.split("/")[0]!);
    expect(named.filter((from) => !allowed(from))).toEqual([]);
  });
});
