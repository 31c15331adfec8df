import { readFileSync } from "node:fs";
import type { Browser, BrowserContext, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type DemoServer, launchBrowser, startDemoServer } from "../../../support/demoServer.ts";
import { isInstalled, nameNeeding } from "../../../support/needs.ts";

/** So much that a busy machine fails nothing. */
const patienceMs = 60_000;
const testMs = 180_000;
const forecastFile = new URL("../../../../scenarios/demo/weather.csv", import.meta.url);

/** The dispatcher's ways with plans, in a browser before the whole service: one after the other, as on one morning. */
describe.runIf(isInstalled("chromium"))(nameNeeding("chromium", "plans on the week's screen"), () => {
  let demo: DemoServer;
  let browser: Browser;
  let context: BrowserContext;
  let page: Page;
  beforeAll(async () => {
    demo = await startDemoServer({ iterations: 300 });
    browser = await launchBrowser();
    context = await demo.signedIn(browser, "dispatcher");
    context.setDefaultTimeout(patienceMs);
    page = await context.newPage();
    await page.goto(demo.origin);
  });
  afterAll(async () => {
    await browser?.close();
    await demo?.close();
  });

  const bar = () => page.getByRole("region", { name: "The plan", exact: true });
  const button = (name: string) => page.getByRole("button", { name, exact: true });
  const api = async <Body>(path: string): Promise<Body> =>
    (await (await fetch(`${demo.origin}${path}`, { headers: demo.headersOf("dispatcher") })).json()) as Body;
  /** Plans of few iterations may leave out what must be done, of which is asked once more. */
  const publishAs = async (number: number) => {
    await button(`Publish as number ${number}`).click();
    const sure = button("Publish all the same");
    if ((await sure.count()) > 0) await sure.click();
  };
  const latestPublication = async () =>
    (
      await api<{ publication: { number: number; planId: string; note: string } }>(
        `/api/operations/${demo.operationId}/published`,
      )
    ).publication;

  it(
    "says which plan is shown, what it comes to, and what it leaves out and why",
    async () => {
      await bar().getByText("Live plan, number 1").waitFor();
      const { score, conflicts } = demo.plan;
      await bar()
        .getByText(`${hectares(score.servedHa)} of ${hectares(score.orderedHa)}`)
        .waitFor();
      const unplanned = page.getByRole("region", { name: "Not planned" });
      await unplanned
        .getByText(`${new Set(conflicts.map(({ orderId }) => orderId)).size} order`)
        .first()
        .waitFor();
      const { orderId } = conflicts[0]!;
      await unplanned.getByLabel("Search order, field, grower or reason").fill(orderId);
      const chosen = unplanned.getByRole("button", { name: new RegExp(`^${orderId}, .*: show it$`) }).first();
      await chosen.click();
      await expect.poll(() => page.url()).toContain(`/order/${orderId}`);
      expect(await chosen.getAttribute("aria-pressed")).toBe("true");
    },
    testMs,
  );

  it(
    "makes a plan that others see being made, and stops it with its best so far",
    async () => {
      await button("Make a plan").click();
      await page.getByLabel("5 minutes").check();
      await button("Begin").click();
      await page.getByText("Best so far:").waitFor();
      const other = await context.newPage();
      await other.goto(demo.origin);
      await other.getByText("Best so far:").waitFor();
      await other.close();
      const before = page.url();
      await button("Stop and keep the best").click();
      await page.getByText("The best plan so far is kept as a draft.").waitFor();
      expect(page.url()).toBe(before);
      await button("Show it").click();
      await bar().getByText("A draft, made by planning").waitFor();
      await bar().getByText("Crews do not see it.").waitFor();
    },
    testMs,
  );

  it(
    "publishes a draft after a look at what changes, and tells who was quicker",
    async () => {
      await button("Publish").click();
      await page.getByText("Compared with the live plan (number 1").waitFor();
      const draftId = page.url().split("/").at(-1)!;
      // Somebody else publishes another draft while this one looks.
      const told = await fetch(`${demo.origin}/api/plans/${demo.draftId}/publish`, {
        method: "POST",
        headers: {
          ...demo.headersOf("dispatcher"),
          "content-type": "application/json",
          "idempotency-key": "somebody-else-was-quicker",
        },
        body: JSON.stringify({ after: 1, note: "" }),
      });
      expect(told.status).toBe(200);
      await page.getByLabel("Note for the crews").fill("The west pads are wet.");
      await publishAs(2);
      await page.getByText("Somebody has published meanwhile.").waitFor();
      await publishAs(3);
      await page.getByText("Published as number 3.").first().waitFor();
      expect(await latestPublication()).toMatchObject({ number: 3, planId: draftId, note: "The west pads are wet." });

      await button("Give crews their links").click();
      const crew = demo.operation.fleet.crews[0]!;
      await page.getByRole("combobox", { name: "Crew" }).selectOption({ label: crew.name });
      await page.getByLabel("Whose phone").fill("the truck's");
      await button("Make a link").click();
      const address = await page.getByLabel(`Link for ${crew.name}`, { exact: true }).inputValue();
      const phone = await (await browser.newContext()).newPage();
      await phone.goto(address);
      const sessionOfPhone = async () => (await phone.request.get(`${demo.origin}/api/session`)).status();
      await expect.poll(sessionOfPhone, { timeout: patienceMs }).toBe(200);
      await page.getByRole("button", { name: `Withdraw the link of ${crew.name}, the truck's` }).click();
      await page.getByText("The link is withdrawn.").waitFor();
      expect(await sessionOfPhone()).toBe(401);
      await phone.context().close();
      await page.keyboard.press("Escape");
    },
    testMs,
  );

  it(
    "plans again with a new forecast and an aircraft out, and accepts what comes of it",
    async () => {
      await bar().getByText("Live plan, number 3").waitFor();
      await bar().getByRole("button", { name: "Report a change" }).click();
      await page.getByText("New forecast", { exact: true }).click();
      await page
        .locator("dialog input[type=file]")
        .first()
        .setInputFiles({
          name: "weather.csv",
          mimeType: "text/csv",
          buffer: Buffer.from(windier(readFileSync(forecastFile, "utf8"))),
        });
      await page.getByRole("dialog").getByRole("button", { name: "Import" }).click();
      await page.getByText("A new forecast is stored.").first().waitFor();

      const aircraft = demo.operation.fleet.aircraft[0]!;
      await page.getByLabel("Which one").selectOption(aircraft.id);
      await button("Mark unavailable").click();
      await page.getByText(`${aircraft.id} is unavailable on`).first().waitFor();
      const stored = await api<{ outOfService: unknown[] }>(
        `/api/operations/${demo.operationId}/aircraft/${aircraft.id}`,
      );
      expect(stored.outOfService.length).toBeGreaterThan(aircraft.outOfService.length);

      await page.getByLabel("10 seconds").check();
      await page.getByRole("dialog").getByRole("button", { name: "Plan again", exact: true }).click();
      await button("See what changes").click({ timeout: 2 * patienceMs });
      await page.getByText("Compared with the live plan (number 3").waitFor();
      const roles = page.locator(".crewDayDifference .role");
      expect(await roles.count()).toBeGreaterThan(0);
      const [line] = await page.locator(".crewDayDifference li").allTextContents();
      expect(line).toMatch(/[.]$/);
      await publishAs(4);
      await page.getByText("Published as number 4.").first().waitFor();
      const { planId } = await latestPublication();
      await button("Show it").click();
      await bar().getByText("Live plan, number 4").waitFor();
      expect(page.url()).toContain(planId);
    },
    testMs,
  );

  it(
    "puts what would help into the operation, once the grower has agreed",
    async () => {
      const order = demo.operation.orders[0]!;
      const latest = `${demo.operation.settings.firstDay.slice(0, 4)}-12-01T00:00`;
      const { planId } = await latestPublication();
      // What a search comes to is another test's; here it is what the screen makes of it.
      const study = {
        id: "00000000-0000-4000-8000-0000000000aa",
        kind: "remedies",
        planId,
        ask: {},
        status: "done",
        progress: { parts: 1, ended: 1, failed: 0, share: 1 },
        failure: null,
      };
      const remedy = {
        changes: [{ kind: "changeOrder", orderId: order.id, set: { latest } }],
        sentence: `Ask the grower whether ${order.id} may wait: 7.0 ha more (${order.id}), 1 stop moves`,
        askGrower: true,
        haWon: 7,
        haWonInAll: 7,
        orderIdsWon: [order.id],
        stopsMoved: 1,
        stopsDropped: 0,
        costCents: 1000,
        hireCents: 0,
        earnedCents: 20_000,
        valueCents: 20_000,
        netCents: 19_000,
      };
      const group = { kind: "noWindow", orderIds: [order.id], areaHa: 7, sentence: "wind" };
      const groups = [{ group, remedies: [remedy], tried: 3, screened: 0, leftOut: 0 }];
      await page.route("**/studies?kind=remedies*", (route) =>
        route.fulfill({ json: { studies: [study], next: null } }),
      );
      await page.route(`**/api/studies/${study.id}`, (route) =>
        route.fulfill({ json: { ...study, result: { operationName: "", seed: 1, iterations: 1, groups } } }),
      );
      await page.reload();
      const found = page.getByRole("region", { name: "What would help", exact: true });
      await found.getByText("7.0 ha more planned").waitFor();
      await found.getByRole("button", { name: /^Put into the operation/ }).click();
      const put = page.getByRole("dialog").getByRole("button", { name: "Put into the operation", exact: true });
      expect(await put.isDisabled()).toBe(true);
      await page.getByLabel("The grower has agreed").check();
      await put.click();
      await found.getByText("It is in the operation now.").waitFor();
      const stored = await api<{ latest: string }>(`/api/operations/${demo.operationId}/orders/${order.id}`);
      expect(stored.latest).toBe(latest);
      await bar().getByText("The operation has been changed since this plan was made.").waitFor();
    },
    testMs,
  );

  it(
    "shows an owner the plans, and offers nothing that is the dispatcher's",
    async () => {
      const owners = await demo.signedIn(browser, "owner");
      owners.setDefaultTimeout(patienceMs);
      const other = await owners.newPage();
      await other.goto(`${demo.origin}/#week`);
      await other.getByRole("button", { name: "Compare", exact: true }).waitFor();
      for (const name of ["Make a plan", "Report a change", "Publish", "Crews' phones"]) {
        expect(await other.getByRole("button", { name, exact: true }).count(), name).toBe(0);
      }
      await owners.close();
    },
    testMs,
  );
});

const hectares = (areaHa: number) =>
  `${areaHa.toLocaleString("en-GB", { minimumFractionDigits: 1, maximumFractionDigits: 1 })} ha`;

/** Every third day blows 12 km/h more, at every hour. */
function windier(table: string): string {
  const [head, ...rows] = table.trim().split("\n");
  const columns = head!.split(",");
  const [start, wind, gust] = ["start", "windKph", "gustKph"].map((name) => columns.indexOf(name));
  return [
    head,
    ...rows.map((row) => {
      const cells = row.split(",");
      if (Number(cells[start!]!.slice(8, 10)) % 3 !== 0) return row;
      for (const at of [wind!, gust!]) cells[at] = String(Number(cells[at]) + 12);
      return cells.join(",");
    }),
  ].join("\n");
}
