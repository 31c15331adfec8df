import { cp, mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Operation } from "../../../../shared/model/operation.ts";
import { builtScreens } from "../../../support/builtScreens.ts";
import { launchBrowser } from "../../../support/demoServer.ts";
import { isInstalled, nameNeeding } from "../../../support/needs.ts";
import { type Shown, serveAccess } from "../../access/serveAccess.ts";

const { call, origin, person, store } = serveAccess(async (folder) =>
  cp(await builtScreens(), folder, { recursive: true }),
);
const small = join(import.meta.dirname, "../../../../scenarios/small");

/** A dispatcher who begins with nothing but files. Each part goes on from where the one before has ended. */
describe.runIf(isInstalled("chromium"))(nameNeeding("chromium", "orders, fleet and weather"), () => {
  let browser: Browser;
  let page: Page;
  let shown: Shown;
  let folder: string;
  const errors: string[] = [];
  beforeAll(async () => {
    browser = await launchBrowser();
    shown = await (await person("dispatcher", ["dispatcher"])).session();
    const context = await browser.newContext({ timezoneId: "America/Denver" });
    const [name, value] = shown.cookie!.split("=") as [string, string];
    await context.addCookies([{ name, value, url: origin(), httpOnly: true, sameSite: "Strict" }]);
    page = await context.newPage();
    page.on("pageerror", (error) => errors.push(error.message));
    page.setDefaultTimeout(20_000);
    folder = await mkdtemp(join(tmpdir(), "files-"));
    await cp(small, folder, { recursive: true });
  }, 60_000);
  afterAll(async () => {
    await browser.close();
    await rm(folder, { recursive: true, force: true });
    expect(errors).toEqual([]);
  });

  const filesOf = async () => (await readdir(folder)).map((name) => join(folder, name));
  const change = async (file: string, from: string, to: string) => {
    const text = await readFile(join(folder, file), "utf8");
    expect(text).toContain(from);
    await writeFile(join(folder, file), text.replace(from, to));
  };
  const choose = async (files: readonly string[]) =>
    page.locator('input[type="file"][multiple]').setInputFiles([...files]);
  const stored = async (): Promise<{ id: string; document: Operation; version: number }> => {
    const [summary] = await store().listOperations();
    return (await store().latestOperation(summary!.id))!;
  };

  it("takes in no file with a fault, tells every one by its place, and takes in the mended ones after a look", async () => {
    await change("orders.csv", ",normal,", ",urgent,");
    await change("products.json", '"method": "granular"', '"method": "thrown"');
    await page.goto(`${origin()}/#orders`);
    await page.getByRole("heading", { name: "Take in your first operation" }).waitFor();
    await choose(await filesOf());
    const alert = page.getByRole("alert");
    await alert.waitFor();
    const told = (await alert.textContent())!;
    for (const place of ["In orders.csv", "row 2, column priority", "urgent", "In products.json", "thrown"]) {
      expect(told).toContain(place);
    }
    expect(await store().listOperations()).toEqual([]);

    await change("orders.csv", ",urgent,", ",normal,");
    await change("products.json", '"method": "thrown"', '"method": "granular"');
    await choose(await filesOf());
    await page.getByText("This is a new operation").waitFor();
    expect(await store().listOperations()).toEqual([]);
    await page.getByRole("button", { name: "Take it in" }).click();
    await page.getByRole("table", { name: "Orders" }).waitFor();
    expect((await stored()).document.orders).toHaveLength(5);
  });

  it("finds an order by its words and sorts", async () => {
    const rows = page.getByRole("table", { name: "Orders" }).getByRole("row");
    await page.getByRole("button", { name: "Order", exact: true }).click();
    await page
      .getByRole("button", { name: /^Order/ })
      .first()
      .click();
    await page
      .getByRole("columnheader", { name: /^Order/ })
      .first()
      .waitFor();
    expect(await rows.nth(1).getByRole("rowheader").textContent()).toBe("O-005");
    await page.getByLabel("Search").fill("azoxystrobin grower wrote");
    await page.getByText("1 of 5").waitFor();
    await page.getByLabel("Search").fill("no such thing");
    await page.getByText("Nothing fits this search.").waitFor();
    await page.getByRole("button", { name: "Show all again" }).click();
    await page.getByText("5 in all").waitFor();
  });

  it("changes an order in the units that people have chosen, and leaves all else to the digit", async () => {
    const before = (await stored()).document;
    const [order] = before.orders;
    await page.evaluate("localStorage.setItem('calmhour.units', 'us')");
    await page.goto(`${origin()}/#orders/${order!.id}`);
    await page.reload();
    await page.getByRole("button", { name: "Change" }).click();
    const volume = page.getByLabel(/^Spray volume in all/);
    await volume.fill("-4");
    await page.getByRole("button", { name: "Save" }).click();
    await page.getByText("Nothing was stored.").waitFor();
    expect(await volume.getAttribute("aria-invalid")).toBe("true");
    await volume.fill("4");
    // Looked at, and typed over with the same.
    const price = page.getByLabel(/^Price/);
    const priceText = await price.inputValue();
    await price.fill("");
    await price.fill(priceText);
    await page.getByRole("button", { name: "Save" }).click();
    await page.getByRole("button", { name: "Change" }).waitFor();
    const { document } = await stored();
    const { carrierLPerHa, ...rest } = document.orders[0]!;
    const { carrierLPerHa: _, ...restBefore } = order!;
    // 1 gal/ac (US) = 9.353956 L/ha: NIST Special Publication 811 (2008), appendix B.8, from its gallon and acre.
    expect(Math.abs(carrierLPerHa! / (4 * 9.353956) - 1)).toBeLessThan(1e-5);
    expect(rest).toEqual(restBefore);
    expect({ ...document, orders: [] }).toEqual({ ...before, orders: [] });
    await page.evaluate("localStorage.removeItem('calmhour.units')");
  });

  it("shows what somebody else has changed meanwhile, and lets one choose", async () => {
    const { document, id } = await stored();
    const order = document.orders[2]!;
    await page.goto(`${origin()}/#orders/${order.id}`);
    await page.reload();
    await page.getByRole("button", { name: "Change" }).click();
    await page.getByLabel("Notes for the crew").fill("mine");
    const address = `/api/operations/${id}/orders/${order.id}`;
    const read = await call(`GET`, address, shown);
    const theirs = { ...order, notes: "theirs" };
    await call("PUT", address, { ...shown, "if-match": read.headers.get("etag")! }, theirs);
    await page.getByRole("button", { name: "Save" }).click();
    await page.getByRole("heading", { name: "Somebody has changed this meanwhile" }).waitFor();
    const row = page.getByRole("row", { name: /Notes for the crew/ });
    expect(await row.getByRole("cell").allTextContents()).toEqual(["nothing", "theirs", "mine"]);
    expect((await stored()).document.orders[2]!.notes).toBe("theirs");
    await page.getByRole("button", { name: "Store mine over it" }).click();
    await page.getByRole("button", { name: "Change" }).waitFor();
    expect((await stored()).document.orders[2]!.notes).toBe("mine");
  });

  it("names what depends on a field before it is removed, and adds and removes a charger", async () => {
    const { document } = await stored();
    const { fieldId } = document.orders[0]!;
    await page.goto(`${origin()}/#orders/fields/${fieldId}`);
    await page.getByRole("button", { name: "Remove" }).click();
    const dialog = page.getByRole("dialog");
    expect(await dialog.getByRole("listitem").first().textContent()).toContain(document.orders[0]!.id);
    await dialog.getByRole("button", { name: "Keep it" }).click();

    await page.goto(`${origin()}/#fleet/chargers`);
    await page.getByRole("link", { name: "Add a charger" }).click();
    await page.getByLabel("Short name (id)").fill("charger-new");
    await page.getByLabel("Base").selectOption(document.settings.bases[0]!.id);
    await page.getByLabel("Bays").fill("2");
    await page.getByLabel(/^Power/).fill("18");
    await page.getByRole("button", { name: "Save" }).click();
    await page.getByRole("heading", { name: "charger-new" }).waitFor();
    const made = (await stored()).document.fleet.chargers.find(({ id }) => id === "charger-new");
    expect(made).toEqual({ id: "charger-new", baseId: document.settings.bases[0]!.id, bays: 2, kw: 18 });
    await page.getByRole("button", { name: "Remove" }).click();
    await page.getByRole("dialog").getByRole("button", { name: "Remove it" }).click();
    await page.getByText("The charger charger-new has been removed.").waitFor();
    expect((await stored()).document.fleet.chargers).toEqual(document.fleet.chargers);
  });

  it("looks at a new forecast that was pasted, and takes it in with its hour", async () => {
    const { document, version } = await stored();
    const text = await readFile(join(folder, "weather.csv"), "utf8");
    const forecast = text.replace(/\n([^,]+,[^,]+,[^,]+,[^,]+,[^,]+),[^,]+/, "\n$1,0.5");
    await page.goto(`${origin()}/#weather`);
    await page.getByRole("table", { name: /^Hours at/ }).waitFor();
    await page.getByRole("img", { name: /^Wind at/ }).waitFor();
    await page.getByText("Take in a new forecast").click();
    await page.getByText("Or paste the lines of a table").click();
    await page.getByLabel("Lines, the header first").fill(forecast);
    await page.getByRole("button", { name: "See what would change" }).click();
    await page
      .getByRole("table", { name: /^What would change in/ })
      .getByRole("rowheader", { name: "Weather, by station" })
      .waitFor();
    expect((await stored()).version).toBe(version);
    await page.getByLabel("When the forecast was issued").fill(`${document.settings.firstDay}T04:30`);
    await page.getByRole("button", { name: "Take it in" }).click();
    await page.getByText("The forecast was issued on").filter({ hasText: "04:30" }).waitFor();
    const after = await stored();
    expect(after.version).toBe(version + 1);
    expect(after.document.settings.forecastIssued).toBe(`${document.settings.firstDay}T04:30`);
    expect(after.document.weather[0]!.windKph).toBe(0.5);
    expect(after.document.weather.slice(1)).toEqual(document.weather.slice(1));
  });

  it("makes a token whose secret is shown once, and withdraws it", async () => {
    await page.locator(".account summary").click();
    await page.getByRole("button", { name: "Tokens for programs" }).click();
    const dialog = page.getByRole("dialog");
    await dialog.getByText("You have no token.").waitFor();
    await dialog.getByLabel("What it is for").fill("Yard screen");
    await dialog.getByRole("button", { name: "Make a token" }).click();
    const secret = await dialog.getByLabel("Token", { exact: true }).inputValue();
    const asked = () => fetch(`${origin()}/api/operations`, { headers: { authorization: `Bearer ${secret}` } });
    expect((await asked()).status).toBe(200);
    await dialog.getByRole("button", { name: "Close" }).click();
    await page.getByRole("button", { name: "Tokens for programs" }).click();
    await dialog.getByRole("rowheader", { name: "Yard screen" }).waitFor();
    expect(await page.content()).not.toContain(secret);
    await dialog.getByRole("button", { name: /^Withdraw/ }).click();
    await dialog.getByRole("row", { name: /Yard screen.*Withdrawn/ }).waitFor();
    expect((await asked()).status).toBe(401);
  });
});
