import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { AxeResults, RunOptions } from "axe-core";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type DemoServer, launchBrowser, startDemoServer } from "../support/demoServer.ts";
import { isInstalled, nameNeeding } from "../support/needs.ts";
import { openContexts, openScreen, screens, type Width, widths } from "./screens.ts";
import { walkByTab } from "./walkByTab.ts";

const axeSource = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
/** Levels A and AA of WCAG 2.0, 2.1 and 2.2, and what axe calls best practice. */
const everything: RunOptions = {
  runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
  resultTypes: ["violations"],
};
const held = screens.filter(({ isLike }) => isLike === undefined);
const contrast: RunOptions = { runOnly: { type: "rule", values: ["color-contrast"] }, resultTypes: ["violations"] };

async function violationsOf(page: Page, options: RunOptions): Promise<string[]> {
  const { violations } = (await page.evaluate(`axe.run(document, ${JSON.stringify(options)})`)) as AxeResults;
  return violations.flatMap(({ help, id, nodes }) =>
    nodes.slice(0, 3).map(({ html, any }) => `${id}: ${help}: ${html.slice(0, 160)} ${any[0]?.message ?? ""}`),
  );
}

/** One server, one browser, every screen opened once at each width. */
describe.runIf(isInstalled("chromium"))(nameNeeding("chromium", "every screen"), { timeout: 60_000 }, () => {
  it("or one made of the same parts is held", () => {
    const names = held.map(({ name }) => name);
    for (const { isLike } of screens) if (isLike !== undefined) expect(names).toContain(isLike);
  });

  let demo: DemoServer;
  let browser: Browser;
  let contexts: ReturnType<typeof openContexts>;
  beforeAll(async () => {
    [demo, browser] = [await startDemoServer({ iterations: 300 }), await launchBrowser()];
    contexts = openContexts(demo, browser);
  });
  afterAll(async () => {
    await browser.close();
    await demo.close();
  });

  for (const width of Object.keys(widths) as Width[]) {
    it.each(held.map((screen) => [screen.name, screen] as const))(
      `can be read and seen by everybody on a ${width}, and walked by keys: %s`,
      async (_, screen) => {
        const page = await openScreen(demo, await contexts.of(screen.by, width), screen);
        await page.evaluate(axeSource);
        await lookAs(page, "day");
        expect(await violationsOf(page, everything)).toEqual([]);
        // Colours and stops of the Tab key are the same at every width.
        for (const look of width === "desk" ? ["night", "sun"] : []) {
          await lookAs(page, look);
          expect(await violationsOf(page, contrast), look).toEqual([]);
        }
        if (width === "desk") expect(await walkByTab(page)).toEqual([]);
        // Nobody scrolls sideways to read (WCAG 2.2, 1.4.10), but for what has a scroller of its own.
        expect(await page.evaluate("document.documentElement.scrollWidth - innerWidth")).toBeLessThanOrEqual(0);
        await page.close();
      },
    );
  }
});

const lookAs = (page: Page, look: string) =>
  page.evaluate(`document.documentElement.dataset.look = ${JSON.stringify(look)}`);
