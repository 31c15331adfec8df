import { cpSync, readFileSync, writeFileSync } from "node:fs";
import { createServer, type Server } from "node:http";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Browser, Page } from "playwright-core";
import sirv from "sirv";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { contentSecurityPolicy } from "../../../../services/api/security.ts";
import { nameFilesOfBuild } from "../../../../services/web/build.ts";
import { builtScreens } from "../../../support/builtScreens.ts";
import { launchBrowser } from "../../../support/demoServer.ts";
import { isInstalled, nameNeeding } from "../../../support/needs.ts";
import { eventually, freePort, temporaryFolder } from "../../../support/servers.ts";

const workerSource = fileURLToPath(new URL("../../../../services/web/public/sw.js", import.meta.url));

/** The service worker under builds that replace each other; nobody answers for the API. */
describe.runIf(isInstalled("chromium"))(nameNeeding("chromium", "the screens that a device keeps"), () => {
  const { folder, remove } = temporaryFolder();
  let server: Server;
  let browser: Browser;
  let page: Page;
  let origin: string;

  /** Another build: the page says which one it is. */
  async function release(build: number, { isNamed = true } = {}): Promise<void> {
    const file = join(folder, "index.html");
    const text = readFileSync(file, "utf8").replace(/<meta name="build"[^>]*>/, "");
    writeFileSync(file, text.replace("<head>", `<head><meta name="build" content="${build}">`));
    if (!isNamed) return;
    writeFileSync(join(folder, "sw.js"), readFileSync(workerSource));
    await nameFilesOfBuild(folder);
  }
  const buildShown = () => page.locator('meta[name="build"]').getAttribute("content");
  const update = () => page.evaluate("navigator.serviceWorker.ready.then((one) => one.update()).catch(() => null)");

  beforeAll(async () => {
    cpSync(await builtScreens(), folder, { recursive: true });
    await release(1);
    const files = sirv(folder, { dev: true });
    server = createServer((request, response) => {
      response.setHeader("content-security-policy", contentSecurityPolicy);
      if (request.url!.startsWith("/api/")) {
        response.writeHead(401, { "content-type": "application/json" }).end('{"title":"Not signed in"}');
        return;
      }
      files(request, response, () => {
        response.writeHead(404).end();
      });
    });
    const port = await freePort();
    await new Promise<void>((resolve) => server.listen(port, "127.0.0.1", resolve));
    origin = `http://127.0.0.1:${port}`;
    browser = await launchBrowser();
    page = await (await browser.newContext()).newPage();
    await page.goto(origin);
    // As the page of a crew does.
    await page.evaluate('navigator.serviceWorker.register("/sw.js", { updateViaCache: "none" })');
    await page.evaluate("navigator.serviceWorker.ready.then(() => undefined)");
  }, 120_000);
  afterAll(async () => {
    await browser?.close();
    await new Promise((resolve) => server?.close(resolve));
    remove();
  });

  it("open without a network, every file of them, and nothing of the API is among them", async () => {
    await page.context().setOffline(true);
    await page.reload();
    await page.getByText("The server does not answer.", { exact: false }).waitFor();
    const kept = (await page.evaluate(`caches.keys().then(async ([name]) => {
      const requests = await (await caches.open(name)).keys();
      return requests.map(({ url }) => new URL(url).pathname);
    })`)) as string[];
    expect(kept).toContain("/index.html");
    expect(kept.filter((path) => /^[/]assets[/]DayRoom.*[.]js$/.test(path))).toHaveLength(1);
    expect(kept.filter((path) => path.startsWith("/api"))).toEqual([]);
    await page.context().setOffline(false);
  }, 60_000);

  it("stay those of their build until the reader says so, and are then those of the next", async () => {
    await page.reload();
    await page.getByRole("heading", { name: "Sign in" }).waitFor();
    expect(await buildShown()).toBe("1");
    await release(2);
    await update();
    const offer = page.getByRole("button", { name: "Use it now" });
    await offer.waitFor();
    await page.reload();
    expect(await buildShown()).toBe("1");
    await offer.waitFor();
    await Promise.all([page.waitForEvent("load"), offer.click()]);
    await page.getByRole("heading", { name: "Sign in" }).waitFor();
    expect(await buildShown()).toBe("2");
    expect(await page.evaluate("caches.keys().then((names) => names.length)")).toBe(1);
    expect(await offer.count()).toBe(0);
  }, 60_000);

  it("are never mixed: files that are not what the worker was told are not taken", async () => {
    await release(3);
    // The page is of yet another build than its worker, as while a server is being replaced.
    await release(4, { isNamed: false });
    await update();
    await page.waitForFunction("navigator.serviceWorker.ready.then((one) => one.installing === null)");
    await page.reload();
    await page.getByRole("heading", { name: "Sign in" }).waitFor();
    expect(await buildShown()).toBe("2");
    expect(await page.getByRole("button", { name: "Use it now" }).count()).toBe(0);
    expect(await page.evaluate("navigator.serviceWorker.ready.then((one) => one.waiting === null)")).toBe(true);
    // What was begun of it is gone; every look at the page tries it again.
    await eventually(async () =>
      (await page.evaluate("caches.keys().then((names) => names.length)")) === 1 ? true : null,
    );
  }, 60_000);
});
