import { readFile } from "node:fs/promises";
import axe from "axe-core";
import { parse } from "csv-parse/sync";
import type { Browser, BrowserContext, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import type { Comparison } from "../../../../shared/cases/comparison.ts";
import { type DemoServer, launchBrowser, startDemoServer } from "../../../support/demoServer.ts";
import { isInstalled, nameNeeding } from "../../../support/needs.ts";

const orders = 8;

/** The owner's whole job in a browser, against the service as it is: from a new case to its chart. */
describe.runIf(isInstalled("chromium"))(nameNeeding("chromium", "the owner's room"), { timeout: 180_000 }, () => {
  let server: DemoServer;
  let browser: Browser;
  let context: BrowserContext;
  const troubles: string[] = [];
  beforeAll(async () => {
    [server, browser] = await Promise.all([startDemoServer({ orders, iterations: 40, port: 18_780 }), launchBrowser()]);
  }, 240_000);
  afterAll(async () => {
    await browser.close();
    await server.close();
  });
  afterEach(() => context.close());

  async function opened(caller: "owner" | "dispatcher", address: string, width = 1440): Promise<Page> {
    context = await server.signedIn(browser, caller, { viewport: { width, height: 900 }, acceptDownloads: true });
    context.setDefaultTimeout(60_000);
    const page = await context.newPage();
    page.on("pageerror", ({ message }) => troubles.push(message));
    await page.goto(`${server.origin}/${address}`);
    return page;
  }
  /** WCAG 2.2 A and AA as axe judges them. */
  async function violations(page: Page): Promise<string[]> {
    await page.evaluate(axe.source);
    const found = (await page.evaluate(
      "axe.run(document, { runOnly: ['wcag2a', 'wcag2aa', 'wcag21aa', 'wcag22aa'] })",
    )) as {
      violations: { id: string; nodes: { html: string }[] }[];
    };
    return found.violations.map(({ id, nodes }) => `${id}: ${nodes[0]!.html}`);
  }

  it("goes from a new case to its chart, and finds all of it again", async () => {
    const page = await opened("owner", "#cases");
    await page.getByText("There is no set of cases yet.").waitFor();
    expect(await violations(page)).toEqual([]);
    await page.getByRole("link", { name: "New set of cases" }).click();
    await page.getByLabel("Name of the set").fill("One more aircraft");
    await page.getByLabel("Weeks of a year like these").fill("0");
    await page.getByRole("button", { name: "Add a case" }).click();
    await page.getByLabel("How many", { exact: true }).fill("1");
    await page.getByLabel("Battery sets that come with them, in all").fill("2");
    await page.getByLabel("Taken from").selectOption("the list below");
    await page.getByLabel("What", { exact: true }).fill("aircraft and two sets");
    // With a comma, as many write it.
    await page.getByLabel("Price, EUR").fill("95000,5");
    await page.getByLabel("Kept for, years").fill("5");

    await page.getByRole("button", { name: "Save", exact: true }).click();
    await page.getByText("It cannot be saved like this:").waitFor();
    const weeks = page.getByLabel("Weeks of a year like these");
    expect(await weeks.getAttribute("aria-invalid")).toBe("true");
    const beside = await weeks.getAttribute("aria-describedby");
    const told = beside!.split(" ").map((id) => page.locator(`[id="${id}"]`).textContent());
    expect((await Promise.all(told)).join(" ")).toMatch(/Expected: /);
    await weeks.fill("18");

    // Looking elsewhere loses nothing that was written.
    await page.getByRole("link", { name: "Fleet" }).click();
    await page.goBack();
    expect(await page.getByLabel("Name of the set").inputValue()).toBe("One more aircraft");
    await page.getByRole("button", { name: "Add a curve" }).click();
    await page.getByLabel("Begin with so many fewer than now").fill("0");
    await page.getByLabel("Up to so many more").fill("1");
    await page.getByRole("button", { name: "Save", exact: true }).click();
    await page.getByText("One more aircraft is saved as version 1.").waitFor();
    expect(await violations(page)).toEqual([]);

    await page.reload();
    expect(await page.getByLabel("Weeks of a year like these").inputValue()).toBe("18");
    await page.locator("details.caseForm summary").first().click();
    expect(await page.getByLabel("Price, EUR").inputValue()).toBe("95000.5");

    await page.getByLabel("Plans of each case").fill("2");
    await page.getByLabel("How long each plan is searched for").selectOption("short");
    // The operation as it is, the case and one more on the curve, two plans each.
    await page.getByText("6 plans in all.").waitFor();
    await page.getByRole("button", { name: "Run", exact: true }).click();
    await page.getByRole("heading", { name: "What each case brings" }).waitFor({ timeout: 150_000 });
    await page.locator(".chart canvas").first().waitFor();
    // What one more brings, the margin by number, and the case.
    expect(await page.locator(".chart canvas").count()).toBe(3);
    // What stands first is what the API's own figures say: the best of the cases, what is left, and how sure that is.
    const study = await fetch(`${server.origin}/api/studies/${page.url().split("/").at(-1)}`, {
      headers: server.headersOf("owner"),
    });
    const { result } = (await study.json()) as { result: Comparison };
    const [{ name, ownership }] = result.cases as [Comparison["cases"][0]];
    const { gainCentsPerYear, interval95, ownershipCentsPerYear, verdict } = ownership!;
    const said = await page.locator(".verdict").textContent();
    expect(said).toContain(verdict === "pays" ? `Most is left by “${name}”` : `comes “${name}”`);
    const euros = (cents: number) => {
      const amount = Math.round(Math.abs(cents) / 100).toLocaleString("en-GB");
      return `${cents < 0 && amount !== "0" ? "−" : ""}${amount}`;
    };
    const [low, high] = interval95!.map((cents) => euros(cents - ownershipCentsPerYear));
    expect(said).toContain(`: ${euros(gainCentsPerYear)} EUR (95 %: ${low} to ${high} EUR) a year`);
    expect(said).toMatch(/number \d|up to number \d/);
    expect(await violations(page)).toEqual([]);

    const [download] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name: "Download as CSV: What each case brings" }).click(),
    ]);
    const rows = parse(await readFile(await download.path(), "utf8"), { bom: true }) as string[][];
    expect(rows).toHaveLength(2);
    const shown = page.locator(".figures", { hasText: "What each case brings" }).first();
    expect(await shown.locator("tbody tr").count()).toBe(1);
    expect(Number(rows[1]![rows[0]!.indexOf("Left, a year, EUR")])).toBe(Math.round(gainCentsPerYear / 100));

    // All of it in other units, everywhere.
    await page.locator("details.account summary").click();
    await page.getByLabel("Units").selectOption("us");
    expect(await page.locator("tbody").first().textContent()).not.toContain(" ha");
    await page.getByText(/\d ac/).first().waitFor();

    const address = page.url();
    await page.reload();
    await page.getByRole("heading", { name: "What each case brings" }).waitFor();
    expect(page.url()).toBe(address);
    await page.getByRole("link", { name: "All sets and runs" }).click();
    await page.locator(".runList a").first().click();
    await page.locator(".chart canvas").first().waitFor();
    expect(troubles).toEqual([]);
  });

  it("keeps versions, and copies a set under another name", async () => {
    const page = await opened("owner", "#cases");
    await page.getByRole("link", { name: "One more aircraft", exact: true }).first().click();
    await page.getByLabel("Interest, % a year").fill("7");
    await page.getByText("Not saved yet.").waitFor();
    await page.getByRole("button", { name: "Save", exact: true }).click();
    await page.getByText("is saved as version 2.").waitFor();
    await page.getByLabel("Version").selectOption("1");
    await page.getByText("This is an older version.").waitFor();
    expect(await page.getByLabel("Interest, % a year").inputValue()).toBe("5");
    await page.goto(`${server.origin}/#cases`);
    await page.getByRole("link", { name: "Copy: One more aircraft" }).click();
    expect(await page.getByLabel("Name of the set").inputValue()).toBe("One more aircraft, copy");
    await page.getByRole("button", { name: "Save", exact: true }).click();
    await page.getByText("One more aircraft, copy is saved as version 1.").waitFor();
    // The copy is a set of its own with all that the other has.
    await page.goto(`${server.origin}/#cases`);
    await page.getByRole("link", { name: "One more aircraft, copy", exact: true }).first().click();
    expect(await page.getByLabel("Interest, % a year").inputValue()).toBe("7");
    await page.locator("details.caseForm summary").first().click();
    expect(await page.getByLabel("Price, EUR").inputValue()).toBe("95000.5");
    await page.getByText("Nothing has been run yet.").waitFor();
    expect(troubles).toEqual([]);
  });

  it("takes figures in the units that are chosen, and keeps them in its own", async () => {
    const page = await opened("owner", "#cases");
    await page.locator("details.account summary").click();
    await page.getByLabel("Units").selectOption("us");
    await page.getByRole("link", { name: "New set of cases" }).click();
    await page.getByLabel("Name of the set").fill("A bigger tank");
    await page.getByRole("button", { name: "Add a case" }).click();
    await page.getByRole("combobox", { name: "What changes" }).selectOption("changeType");
    await page.locator(".moreFields:not([open]) summary").first().click();
    await page.getByLabel("Spray tank, gal").fill("10,5");
    await page.getByLabel("Swath when spraying, ft").fill("21.5");
    await page.getByRole("button", { name: "Save", exact: true }).click();
    await page.getByText("A bigger tank is saved as version 1.").waitFor();
    const headers = server.headersOf("owner");
    const told = async (path: string) => (await fetch(`${server.origin}/api/${path}`, { headers })).json();
    const { caseSets } = (await told(`operations/${server.operationId}/case-sets`)) as {
      caseSets: { id: string; name: string }[];
    };
    const set = (await told(`case-sets/${caseSets.find(({ name }) => name === "A bigger tank")!.id}`)) as {
      document: { cases: { cases: { changes: { set: { liquid: { tankL: number; swathM: number } } }[] }[] } };
    };
    const { swathM, tankL } = set.document.cases.cases[0]!.changes[0]!.set.liquid;
    // NIST Handbook 44, appendix C: a gallon is 3.785 412 L, a foot 0.3048 m.
    expect(tankL).toBeCloseTo(10.5 * 3.785412, 4);
    expect(swathM).toBeCloseTo(21.5 * 0.3048, 6);
    await page.reload();
    await page.locator("details.caseForm summary").first().click();
    expect(await page.getByLabel("Spray tank, gal").inputValue()).toBe("10.5");
    expect(await page.getByLabel("Swath when spraying, ft").inputValue()).toBe("21.5");
    expect(troubles).toEqual([]);
  });

  it("lets a run be cancelled, and says what became of it", async () => {
    const page = await opened("owner", "#cases");
    await page.getByRole("link", { name: "One more aircraft", exact: true }).first().click();
    await page.getByLabel("Plans of each case").fill("100");
    await page.getByLabel("How long each plan is searched for").selectOption("long");
    await page.getByRole("button", { name: "Run", exact: true }).click();
    await page.getByRole("button", { name: "Cancel this run" }).click();
    await page.getByText("It was cancelled before it had a result.").waitFor();
    expect(troubles).toEqual([]);
  });

  it("is read by a dispatcher, who changes nothing and asks where a plan is tight; on a phone, too", async () => {
    const page = await opened("dispatcher", "#cases", 390);
    await page.getByRole("link", { name: "One more aircraft", exact: true }).first().waitFor();
    expect(await page.getByRole("link", { name: "New set of cases" }).count()).toBe(0);
    await page.locator(".setList a").first().click();
    await page.getByText("You can read this set.").waitFor();
    expect(await page.getByRole("button", { name: "Save", exact: true }).count()).toBe(0);
    expect(await page.getByRole("button", { name: "Run", exact: true }).count()).toBe(0);
    await page.getByRole("link", { name: "All sets and runs" }).click();
    await page.getByLabel("Things to try out by planning again").selectOption("0");
    await page.getByRole("button", { name: "Find out" }).click();
    await page.getByRole("heading", { name: "Crews, day by day" }).waitFor({ timeout: 150_000 });
    await page.locator(".chart canvas").first().waitFor();
    expect(await violations(page)).toEqual([]);
    // Wide tables are scrolled within themselves.
    const widths = "[document.documentElement.scrollWidth, window.innerWidth]";
    const [scroll, inner] = (await page.evaluate(widths)) as [number, number];
    expect(scroll).toBeLessThanOrEqual(inner);
    expect(troubles).toEqual([]);
  });
});
