import { mkdirSync } from "node:fs";
import { join, resolve } from "node:path";
import { Command } from "commander";
import { type UnitSystem, unitSystems } from "../../shared/units/units.ts";
import { launchBrowser, startDemoServer } from "../support/demoServer.ts";
import { readyForAxe, violationsOf } from "./axe.ts";
import { openContexts, openScreen, type Screen, screens, type Width, widths } from "./screens.ts";

interface Ask {
  readonly out: string;
  readonly only?: readonly string[];
  readonly looks: readonly string[];
  readonly widths: readonly Width[];
  readonly orders?: number;
  readonly iterations?: number;
  readonly window?: boolean;
  readonly units: UnitSystem;
  readonly axe?: boolean;
}

/** Of pictures for the README: little enough that none is over 200 kB; a phone is shown whole, with what stays at its foot. */
const windowHeightPx = { desk: 700, phone: widths.phone.height };
const words = (text: string) => text.split(",");

/** Pictures of every screen, to be looked at: NAME-WIDTH-LOOK.png, and what a browser has complained of on the way. */
async function takePictures(ask: Ask): Promise<void> {
  const folder = resolve(ask.out);
  mkdirSync(folder, { recursive: true });
  const wanted = screens.filter(({ name }) => ask.only === undefined || ask.only.some((one) => name.startsWith(one)));
  const demo = await startDemoServer({ studies: true, ...ask });
  const browser = await launchBrowser();
  try {
    const contexts = openContexts(demo, browser, ask.units);
    for (const width of ask.widths) for (const screen of wanted) await picturesOf(screen, width);

    async function picturesOf(screen: Screen, width: Width): Promise<void> {
      const complaints: string[] = [];
      const context = await contexts.of(screen.by, width);
      context.on("console", (told) => {
        if (told.type() === "error") complaints.push(told.text());
      });
      context.on("weberror", (told) => complaints.push(told.error().message));
      const page = await openScreen(demo, context, screen).catch((error: Error) => {
        complaints.push(error.message.split("\n")[0]!);
        return context.pages().at(-1)!;
      });
      context.removeAllListeners("console");
      context.removeAllListeners("weberror");
      const wider = await page.evaluate<number>("document.documentElement.scrollWidth - innerWidth");
      if (wider > 0) complaints.push(`${wider} px wider than the window`);
      if (ask.axe) await readyForAxe(page);
      for (const look of ask.looks) {
        await page.evaluate(`document.documentElement.dataset.look = "${look}"`);
        if (ask.axe)
          for (const found of await violationsOf(page, look, "everything")) complaints.push(`${look}: ${found}`);
        // What stands over the screen is as large as the window.
        const fullPage = (await page.locator("dialog[open]").count()) === 0;
        const named = ask.units === "us" ? `${look}-us` : look;
        const path = join(folder, `${screen.name}-${width}-${named}.png`);
        const clip = { x: 0, y: 0, width: widths[width].width, height: windowHeightPx[width] };
        await page.screenshot(ask.window ? { path, clip } : { path, fullPage });
      }
      console.log([`${screen.name} ${width}`, ...complaints].join("\n  "));
      await page.close();
    }
  } finally {
    await browser.close();
    await demo.close();
  }
}

await new Command("screenshots")
  .description("Pictures of the screens, made from the demo.")
  .option("--out <FOLDER>", "where they go", ".data/screenshots")
  .option("--only <NAMES>", "screens whose names begin so, parted by commas", words)
  .option("--looks <LOOKS>", "day, night, sun", words, ["day"])
  .option("--widths <WIDTHS>", Object.keys(widths).join(", "), words, Object.keys(widths))
  .option("--axe", "tell what axe has against each screen, too")
  .option("--units <SYSTEM>", unitSystems.join(", "), "metric")
  .option("--window", "only what the window shows, as in the README")
  .option("--orders <N>", "of a generated week instead of the demo", Number)
  .option("--iterations <N>", "of the search for the published plan", Number)
  .action(takePictures)
  .parseAsync();
