import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type Browser, chromium, type Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { buildPage } from "../../../services/web/build.ts";
import type { Operation } from "../../../shared/model/operation.ts";
import { caution } from "../../../shared/plan/caution.ts";
import { crewSheet } from "../../../shared/plan/crewSheet.ts";
import type { Plan } from "../../../shared/plan/plan.ts";
import { weekView } from "../../../shared/plan/weekView.ts";
import { isInstalled, nameNeeding } from "../../support/needs.ts";
import { pausedPlan, windyOperation } from "../../support/pausedView.ts";
import { viewOperation, viewPlan, viewReport } from "../../support/viewPlan.ts";
import {
  csrfToken,
  newPlanId,
  operationId,
  type PageAnswers,
  type PageServer,
  planId,
  servePage,
} from "./pageServer.ts";

/** A field's name that would do harm if it were taken for markup. */
const harmfulName = "<img src=x onerror=\"document.body.id='harmed'\">";

function pageAnswers() {
  const operation = viewOperation();
  operation.fields.features[1]!.properties.name = harmfulName;
  return answersOf(operation, viewPlan(operation));
}

function answersOf(operation: Operation, plan: Plan): PageAnswers {
  const sheets = plan.crewDays.map(({ crewId, date }) => [
    `${crewId} ${date}`,
    crewSheet(operation, plan, crewId, date),
  ]);
  return { week: weekView(operation, plan, viewReport), sheets: Object.fromEntries(sheets) };
}

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "page-"));
  await buildPage(folder);
});
afterAll(() => rm(folder, { recursive: true, force: true }));

describe("the built page", () => {
  it("carries the caution before any script runs", async () => {
    expect(await readFile(join(folder, "index.html"), "utf8")).toContain(caution);
  });

  it("has nothing inline that a strict policy refuses", async () => {
    const page = await readFile(join(folder, "index.html"), "utf8");
    expect(page).not.toMatch(/<script(?![^>]*\ssrc=)|<style|\sstyle=|\son\w+=/);
  });
});

describe("colours", () => {
  it.each(["light", "dark"])("stand out from their ground by day and by night: %s", async (scheme) => {
    const styles = await readFile(join(folder, "page.css"), "utf8");
    const rules = [...styles.matchAll(/:root \{([^}]*)\}/g)].map(([, body]) => body!);
    const colours = Object.fromEntries(
      [...rules[scheme === "light" ? 0 : 1]!.matchAll(/--(\w+): (#[0-9a-f]{6})/g)].map(([, name, hex]) => [
        name!,
        hex!,
      ]),
    );
    // WCAG 2.2: 4.5 for text at least (1.4.3), 7 for the best mark (1.4.6), 3 for signs (1.4.11).
    for (const ground of ["ground", "panel"] as const) {
      expect(contrast(colours.ink!, colours[ground]!)).toBeGreaterThan(7);
      expect(contrast(colours.quiet!, colours[ground]!)).toBeGreaterThan(7);
      expect(contrast(colours.bad!, colours[ground]!)).toBeGreaterThan(4.5);
      expect(contrast(colours.good!, colours[ground]!)).toBeGreaterThan(4.5);
      expect(contrast(colours.link!, colours[ground]!)).toBeGreaterThan(7);
    }
    for (const method of ["liquid", "granular"]) {
      expect(contrast(colours.ink!, colours[method]!)).toBeGreaterThan(7);
      expect(contrast(colours[`${method}Sign`]!, colours[method]!)).toBeGreaterThan(3);
    }
  });
});

/** Contrast ratio by WCAG 2.2, "relative luminance". */
function contrast(one: string, other: string): number {
  const luminance = (hex: string) => {
    const [red, green, blue] = [1, 3, 5].map((at) => {
      const share = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
      return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * red! + 0.7152 * green! + 0.0722 * blue!;
  };
  const [dark, light] = [luminance(one), luminance(other)].sort((a, b) => a - b);
  return (light! + 0.05) / (dark! + 0.05);
}

describe.runIf(isInstalled("chromium"))(nameNeeding("chromium", "the page in a browser"), () => {
  let browser: Browser;
  let server: PageServer;
  let page: Page;
  const complaints: string[] = [];

  beforeAll(async () => {
    browser = await chromium.launch({
      executablePath: "/usr/bin/chromium",
      args: ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"].concat([
        "--disable-background-networking",
        "--disable-component-update",
        "--disable-sync",
      ]),
    });
  });
  afterAll(() => browser.close());

  beforeEach(async () => {
    server = await servePage(folder, pageAnswers());
    page = await browser.newPage({ viewport: { width: 1440, height: 900 } });
    complaints.length = 0;
    page.on("console", (message) => complaints.push(message.text()));
    page.on("pageerror", (error) => complaints.push(error.message));
    await page.goto(server.address);
    await page.waitForSelector(".day");
  });
  afterEach(async () => {
    expect(complaints).toEqual([]);
    await page.close();
    await server.close();
  });

  it("opens the latest plan and draws every stop at its hours", async () => {
    expect(page.url()).toContain(`#plan/${planId}`);
    expect(await page.locator("h3").allTextContents()).toEqual([
      expect.stringMatching(/^Friday 26 March 2027sunrise \d\d:\d\d, sunset \d\d:\d\d$/),
      expect.stringMatching(/^Saturday 27 March 2027sun/),
      expect.stringMatching(/^Sunday 28 March 2027.*the clocks go forward 60 min$/),
    ]);
    const bars = page.locator("svg.stop");
    expect(await bars.count()).toBe(3);
    // Strips go from 01 to 22 h; 07:22 is 6.3667 of 21 hours along, an hour is 1/21 of the width.
    expect(Number.parseFloat((await bars.first().getAttribute("x"))!)).toBeCloseTo((6.3667 / 21) * 100, 1);
    expect(Number.parseFloat((await bars.first().getAttribute("width"))!)).toBeCloseTo(100 / 21, 1);
    expect(await page.locator(".stopList").first().textContent()).toBe("1 Long Acre part 1 of 2 07:22–08:22, 12.0 ha");
    expect(await page.locator(".figures").textContent()).toContain("82.1 %");
    expect(await page.locator(".days").textContent()).toContain("Plan of Thu 25 March at 07:02");
  });

  it("draws and tells a pause", async () => {
    const operation = windyOperation();
    const plan = pausedPlan(operation, "08:00", "09:00");
    server.answers = answersOf(operation, plan);
    await page.reload();
    await page.waitForSelector(".day");
    const strip = page.locator("a.crewDay svg.strip").first();
    // 07:22 to 08:00 and 09:00 to 09:27 of strips that go from 01 to 22 h; the line of waiting runs behind both.
    const widths = await strip.locator("svg.stop").evaluateAll((bars) => bars.map((bar) => bar.getAttribute("width")));
    expect(widths.map((width) => Number.parseFloat(width!) * 21)).toEqual([
      expect.closeTo((100 * 38) / 60, 0),
      expect.closeTo((100 * 27) / 60, 0),
    ]);
    expect(await strip.locator(".wait").count()).toBe(1);
    expect(await page.locator(".stopList").first().textContent()).toMatch(
      /^1 Long Acre part 1 of 2 07:22–09:27, 12\.0 ha, pause 08:00 to 09:00, wind .*label of Second Liquid allows 12/,
    );
    await page.locator("a.crewDay").first().click();
    await page.waitForSelector(".sheet");
    const rows = await page.locator(".timeline tbody tr").allTextContents();
    expect(rows[3]).toMatch(/^08:0009:0060Pausewind .*label of Second Liquid allows 12/);
    expect(rows[4]).toBe("09:0009:2727Go on with stop 1");
    expect(await page.locator(".timeline a").count()).toBe(1);
    expect(await page.locator(".stopSheet .facts").textContent()).toContain("Stay at the pad 1 h 00 min");
  });

  it("lists what is not planned with its reason and evidence", async () => {
    const panel = page.locator(".conflicts");
    // The order of high priority stands open, the other one waits to be opened.
    expect(await panel.locator(".kind[open] .conflictHead strong").allTextContents()).toEqual(["O-2"]);
    expect(await panel.textContent()).toContain("The buffer to Hill School covers the whole field.");
    await panel.locator(".evidence summary").last().click();
    expect(await panel.locator(".evidence dl").last().textContent()).toBe("free hours0.5needed hours1.2");
  });

  it("takes names for text, never for markup", async () => {
    expect(await page.locator("main").textContent()).toContain(harmfulName);
    expect(await page.locator("main img").count()).toBe(0);
    expect(await page.evaluate("document.body.id")).toBe("");
  });

  it("is walked by keyboard: to a sheet and back to the row it came from", async () => {
    await page.locator("a.crewDay").first().focus();
    await page.keyboard.press("Enter");
    await page.waitForSelector(".sheet");
    expect(await page.evaluate("document.activeElement.id")).toBe("sheetTitle");
    const sheet = await page.locator(".sheet").textContent();
    for (const words of [
      "Leave 07:00",
      "Stop 1: spray Long Acre",
      "36.8 L",
      "Hill School",
      "Re-entry from",
      "Power line",
      caution,
    ]) {
      expect(sheet).toContain(words);
    }
    const address = page.url();
    await page.locator(".timeline a").first().click();
    expect(await page.evaluate("document.activeElement.getAttribute('aria-label')")).toBe("Stop 1");
    expect(page.url()).toBe(address);
    await page.locator(".sheetTools a").focus();
    await page.keyboard.press("Enter");
    await page.waitForSelector(".day");
    expect(await page.evaluate("document.activeElement.getAttribute('data-crew-day')")).toBe("K1 2027-03-26");
  });

  it("makes a plan and shows how far it is", async () => {
    await page.locator("#seconds").selectOption("60");
    await page.locator("#makePlan").click();
    await page.getByText("Planning, 50 %: 30.0 ha so far").waitFor();
    expect(await page.locator("#makePlan").isDisabled()).toBe(true);
    server.finishPlan();
    await page.getByText("The plan is ready.").waitFor();
    await page.waitForURL(({ hash }) => hash === `#plan/${newPlanId}`);
    expect(server.posted).toEqual([
      { path: `/api/operations/${operationId}/plans`, body: '{"seconds":60,"seed":1}', csrf: csrfToken },
    ]);
    expect(await page.locator("#planning").isVisible()).toBe(false);
  });

  it.each([1440, 390])("fits a screen %i wide without scrolling sideways", async (width) => {
    await page.setViewportSize({ width, height: 844 });
    const overflow = "document.documentElement.scrollWidth - window.innerWidth";
    expect(await page.evaluate(overflow)).toBeLessThanOrEqual(0);
    await page.locator("a.crewDay").first().click();
    await page.waitForSelector(".sheet");
    expect(await page.evaluate(overflow)).toBeLessThanOrEqual(0);
  });
});

describe.runIf(isInstalled("chromium"))(nameNeeding("chromium", "the page when something fails"), () => {
  let browser: Browser;
  let server: PageServer;
  let page: Page;

  beforeAll(async () => {
    browser = await chromium.launch({
      executablePath: "/usr/bin/chromium",
      args: ["--headless", "--no-sandbox", "--disable-gpu"],
    });
  });
  afterAll(() => browser.close());
  beforeEach(async () => {
    server = await servePage(folder, pageAnswers());
    page = await browser.newPage({ viewport: { width: 390, height: 844 } });
  });
  afterEach(async () => {
    await page.close();
    await server.close();
  });

  it("says what the server said of a sheet that is not there", async () => {
    await page.goto(`${server.address}#plan/${planId}/K1/2027-03-27`);
    await page.getByText("There is no such crew-day.").waitFor();
  });

  it("says that nobody answers, and offers no plan to be made", async () => {
    await page.route("**/api/**", (route) => route.abort());
    await page.goto(server.address);
    await page.getByText("The server does not answer. Load the page again later.").waitFor();
    expect(await page.locator("#makePlan").isVisible()).toBe(false);
    expect(await page.locator("main").textContent()).toBe("");
  });

  it("says how to import where nothing is stored", async () => {
    await page.route("**/api/operations", (route) => route.fulfill({ json: { operations: [] } }));
    await page.goto(server.address);
    await page.getByText(`import FOLDER --server ${new URL(server.address).origin}`).waitFor();
    expect(await page.locator("#makePlan").isVisible()).toBe(false);
    expect(await page.evaluate("document.documentElement.scrollWidth - window.innerWidth")).toBeLessThanOrEqual(0);
  });
});
