import { type Browser, chromium, type Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { hashOf, randomSecret } from "../../../services/access/secrets.ts";
import { buildPage } from "../../../services/web/build.ts";
import { acting } from "../../support/acting.ts";
import { isInstalled, nameNeeding } from "../../support/needs.ts";
import { serveAccess } from "../access/serveAccess.ts";

const { operation, origin, store, call, person } = serveAccess(buildPage);
const password = "calm at five in the morning";

/** The page and the API as they are served, in a browser that has never been here. */
describe.runIf(isInstalled("chromium"))(nameNeeding("chromium", "signing in on the page"), () => {
  let browser: Browser;
  let page: Page;
  beforeAll(async () => {
    browser = await chromium.launch({
      executablePath: "/usr/bin/chromium",
      args: ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"],
    });
    await operation("of the page");
  });
  afterAll(() => browser.close());
  beforeEach(async () => {
    page = await (await browser.newContext()).newPage();
  });
  afterEach(() => page.context().close());

  const signIn = async (given: string) => {
    await page.getByLabel("Name", { exact: true }).fill("ada");
    await page.getByLabel("Password").fill(given);
    await page.getByRole("button", { name: "Sign in" }).click();
  };

  it("begins with the first person, who is then known by name and password", async () => {
    const link = randomSecret();
    await store().addFirstLink(hashOf(link), 60);
    await page.goto(`${origin()}/#first/${link}`);
    await page.getByLabel("Your name").fill("Ada Berg");
    await page.getByLabel("Name to sign in with").fill("ada");
    await page.getByLabel("Password").fill("short");
    await page.getByRole("button", { name: "Begin" }).click();
    await page.getByText("The password needs at least 12 characters.").waitFor();
    await page.getByLabel("Password").fill(password);
    await page.getByRole("button", { name: "Begin" }).click();
    await page.getByRole("link", { name: "Week" }).waitFor();
    expect(page.url()).not.toContain(link);
    expect(await page.locator(".account summary").textContent()).toBe("Ada Berg");
    // What a script of another's could read is nothing that lets it in.
    expect(await page.evaluate("document.cookie")).toBe("");

    await page.getByText("Ada Berg").click();
    await page.getByRole("button", { name: "Sign out" }).click();
    await page.getByRole("heading", { name: "Sign in" }).waitFor();
    expect(await page.getByRole("navigation").count()).toBe(0);
    await signIn("not the password");
    await page.getByText("The name or the password is wrong.").waitFor();
    await signIn(password);
    await page.getByText("Ada Berg").waitFor();
    await page.reload();
    await page.getByText("Ada Berg").waitFor();
  });

  it("is asked for again when the session has ended in between", async () => {
    await page.goto(origin());
    await signIn(password);
    await page.getByRole("link", { name: "Week" }).waitFor();
    const [ada] = await store().people();
    await store().endSessionsOf(ada!.id, acting);
    // The room may notice by itself before anybody clicks; then there is no such link any more.
    await page
      .getByRole("link", { name: "Orders" })
      .click({ timeout: 5_000 })
      .catch(() => undefined);
    await page.getByText("You have been signed out. Sign in again.").waitFor();
    await signIn(password);
    await page.getByRole("link", { name: "Week" }).waitFor();
    expect(await page.locator(".said").textContent()).toBe("");
  });

  it("sets a password by a link, and opens a link for a crew's phone", async () => {
    const { id } = await person("bo", ["owner"]);
    const link = randomSecret();
    await store().addPasswordLink(id, { hash: hashOf(link), forS: 60 }, acting);
    await page.goto(`${origin()}/#password/${link}`);
    await page.getByLabel("New password").fill(password);
    await page.getByRole("button", { name: "Set it and sign in" }).click();
    await page.getByText("Shown bo").waitFor();

    const dispatcher = await (await person("cy", ["dispatcher"])).session();
    const operationId = (await store().listOperations())[0]!.id;
    const { crews } = (await store().latestOperation(operationId))!.document.fleet;
    const made = await call<{ address: string }>(
      "POST",
      `/api/operations/${operationId}/crews/${crews[0]!.id}/links`,
      dispatcher,
      {},
    );
    await page.goto("about:blank");
    await page.goto(made.body.address);
    await page.getByText(`${crews[0]!.id}, phone`).waitFor();
    expect(page.url()).not.toContain("crew/");
  });
});
