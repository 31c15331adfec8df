import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type DemoServer, launchBrowser, startDemoServer } from "../support/demoServer.ts";
import { isInstalled, nameNeeding } from "../support/needs.ts";
import { readyForAxe, violationsOf } from "./axe.ts";
import { openContexts, openScreen, screens, widths } from "./screens.ts";
import { walkByTab } from "./walkByTab.ts";

const held = screens.filter(({ isLike }) => isLike === undefined);

/** One server, one browser, every screen opened once: at desk, and then made as narrow as a phone. */
describe.runIf(isInstalled("chromium"))(nameNeeding("chromium", "every screen"), { timeout: 60_000 }, () => {
  it("or one made of the same parts is held", () => {
    const names = held.map(({ name }) => name);
    for (const { isLike } of screens) if (isLike !== undefined) expect(names).toContain(isLike);
  });

  let demo: DemoServer;
  let browser: Browser;
  let contexts: ReturnType<typeof openContexts>;
  beforeAll(async () => {
    [demo, browser] = [await startDemoServer({ iterations: 60, studies: true }), await launchBrowser()];
    contexts = openContexts(demo, browser);
  });
  afterAll(async () => {
    await browser.close();
    await demo.close();
  });

  it.each(held.map((screen) => [screen.name, screen] as const))(
    "can be read and seen by everybody, and walked by keys: %s",
    async (_, screen) => {
      const page = await openScreen(demo, await contexts.of(screen.by, "desk"), screen);
      await readyForAxe(page);
      expect(await violationsOf(page, "day", "everything")).toEqual([]);
      // Colours and stops of the Tab key are the same at every width.
      for (const look of ["night", "sun"]) expect(await violationsOf(page, look, "contrast"), look).toEqual([]);
      if (!screen.isWalkedElsewhere) expect(await walkByTab(page)).toEqual([]);
      await page.setViewportSize(widths.phone);
      expect(await violationsOf(page, "day", "everything"), "phone").toEqual([]);
      // Nobody scrolls sideways to read (WCAG 2.2, 1.4.10), but for what has a scroller of its own.
      expect(await page.evaluate("document.documentElement.scrollWidth - innerWidth")).toBeLessThanOrEqual(0);
      await page.close();
    },
  );
});
