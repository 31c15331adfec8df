import type { Browser, BrowserContext, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { CrewDayList } from "../../../../shared/contracts/plans.ts";
import type { KeptReport } from "../../../../shared/done/workReport.ts";
import { worksOf } from "../../../../shared/plan/totals.ts";
import { type DemoServer, launchBrowser, startDemoServer } from "../../../support/demoServer.ts";
import { isInstalled, nameNeeding } from "../../../support/needs.ts";
import { eventually } from "../../../support/servers.ts";

/** As many as the tests report, and one more. */
const loadsLeast = 4;
const phoneSize = { viewport: { width: 390, height: 844 } };

/** A crew's phone in a browser against the whole service: the network goes and comes, and the server has every report once and in order. */
describe.runIf(isInstalled("chromium"))(nameNeeding("chromium", "a crew's phone"), () => {
  let demo: DemoServer;
  let browser: Browser;
  let crewId: string;
  let date: string;
  const daysPath = () => `/api/operations/${demo.operationId}/crews/${crewId}/days`;
  const call = async <Body>(path: string, body?: object): Promise<Body> => {
    const response = await fetch(`${demo.origin}${path}`, {
      method: body ? "POST" : "GET",
      headers: { ...demo.headersOf("dispatcher"), ...(body ? { "content-type": "application/json" } : {}) },
      ...(body ? { body: JSON.stringify(body) } : {}),
    });
    expect(response.ok, await response.clone().text()).toBe(true);
    return (await response.json()) as Body;
  };
  const stored = async () => (await call<{ reports: KeptReport[] }>(`${daysPath()}/${date}/reports?limit=500`)).reports;
  const storedKinds = async () => (await stored()).map(({ report }) => report.kind);
  const arrive = (count: number) => eventually(async () => ((await stored()).length >= count ? true : null));

  beforeAll(async () => {
    demo = await startDemoServer({ iterations: 200 });
    browser = await launchBrowser();
    // A day of the week on which the two plans begin otherwise, of a crew that has reported nothing there.
    const startsOf = (plan: typeof demo.plan) =>
      new Map(plan.crewDays.map((day) => [`${day.crewId} ${day.date}`, JSON.stringify(day.activities)]));
    const draft = startsOf((await demo.store.plan(demo.draftId))!.plan);
    const other = demo.plan.crewDays.find((day) => {
      const key = `${day.crewId} ${day.date}`;
      return (
        !(day.crewId === demo.crewId && day.date === demo.date) &&
        draft.has(key) &&
        draft.get(key) !== JSON.stringify(day.activities) &&
        worksOf(day)[0]!.detail.loads >= loadsLeast
      );
    })!;
    ({ crewId, date } = other);
  }, 120_000);
  afterAll(async () => {
    await browser?.close();
    await demo?.close();
  });

  const newLink = async () =>
    (
      await call<{ address: string }>(`/api/operations/${demo.operationId}/crews/${crewId}/links`, { note: "phone" })
    ).address.replace(/^https?:\/\/[^/]+/, demo.origin);
  const dayAddress = () => `${demo.origin}/#day/${demo.operationId}/${crewId}/${date}`;

  /** A phone on which the link was opened; its screens are kept and its days fetched. */
  async function opened(): Promise<{ context: BrowserContext; page: Page }> {
    const context = await browser.newContext(phoneSize);
    const page = await context.newPage();
    await page.goto(await newLink());
    await page.getByRole("heading", { level: 1 }).waitFor();
    await page.goto(dayAddress());
    await page.getByRole("region", { name: "Report" }).waitFor();
    await page.evaluate("navigator.serviceWorker.ready.then(() => undefined)");
    return { context, page };
  }
  const bar = (page: Page) => page.getByRole("region", { name: "Report" });
  const tap = async (page: Page, name: string | RegExp, said: string) => {
    await bar(page).getByRole("button", { name }).first().click();
    await page
      .locator(".said")
      .filter({ hasText: `${said}, ` })
      .waitFor();
  };
  const measure = async (page: Page, wind: string) => {
    await bar(page).getByRole("button", { name: "Log conditions" }).click();
    await page.getByLabel("Mean wind, km/h").fill(wind);
  };
  const report = async (page: Page) => {
    await page.getByRole("button", { name: "Report it" }).click();
    await page.getByRole("dialog").waitFor({ state: "detached" });
  };
  const waits = (page: Page, count: number) => page.locator(`[data-waiting="${count}"]`).waitFor();

  it("works through a cut of the network, a reload and a closed page, and loses and doubles nothing", async () => {
    const { context, page } = await opened();
    await tap(page, "Arrived", "Arrived");
    await arrive(1);
    await page.getByText("Everything has been sent.").waitFor();

    await context.setOffline(true);
    await tap(page, "Started", "Started");
    await tap(page, /^Load 1 of/, "Load done");
    await waits(page, 2);
    await page.reload();
    await waits(page, 2);
    await page.getByText(/What you see is from/).waitFor();
    await tap(page, /^Load 2 of/, "Load done");
    await measure(page, "61,5");
    await page.getByRole("dialog").getByText("Stop the work.").waitFor();
    await report(page);
    await bar(page).getByRole("button", { name: "Stop", exact: true }).click();
    await page.getByLabel("Wind", { exact: true }).check();
    await page.getByLabel("In words, for the dispatcher").fill("Gusts over the ridge");
    await report(page);
    await page.close();

    // Two tabs, and both of them would send.
    const [one, two] = [await context.newPage(), await context.newPage()];
    for (const tab of [one, two]) {
      await tab.goto(dayAddress());
      await waits(tab, 5);
    }
    expect(await storedKinds()).toEqual(["arrived"]);
    await tap(two, "Resume", "Resumed");
    await waits(one, 6);
    await context.setOffline(false);
    await arrive(7);
    for (const tab of [one, two]) await tab.getByText("Everything has been sent.").waitFor();
    const reports = await stored();
    expect(reports.map(({ report }) => report.kind)).toEqual([
      "arrived",
      "started",
      "loadDone",
      "loadDone",
      "conditions",
      "stopped",
      "goesOn",
    ]);
    expect(new Set(reports.map(({ report }) => report.id)).size).toBe(7);
    const times = reports.map(({ report }) => Date.parse(report.at));
    expect(times).toEqual([...times].sort((a, b) => a - b));
    expect(reports[4]!.report).toMatchObject({ air: { windKph: 61.5 } });
    expect(reports[5]!.report).toMatchObject({ reason: "wind", words: "Gusts over the ridge" });

    // A wrong tap.
    await bar(one).getByRole("button", { name: "Take back" }).click();
    await one.getByRole("dialog").getByRole("button", { name: "Take back" }).click();
    await arrive(8);
    const [goesOn, correction] = (await stored()).slice(-2);
    expect(correction!.report).toMatchObject({ kind: "correction", withdraws: goesOn!.report.id });
    await bar(one).getByText("stopped").waitFor();
    await context.close();
  }, 120_000);

  it("shows what was refused with its reason until somebody has seen it, and sends the rest", async () => {
    const before = (await stored()).length;
    const { context, page } = await opened();
    await context.setOffline(true);
    await tap(page, "Resume", "Resumed");
    // As of a phone that was told something that nobody has published.
    await page.evaluate(`new Promise((done, fail) => {
      const opening = indexedDB.open("calmhour-phone");
      opening.onsuccess = () => {
        const change = opening.result.transaction("outbox", "readwrite");
        const all = change.objectStore("outbox").getAll();
        all.onsuccess = () => {
          const { place, ...last } = all.result.at(-1);
          const id = crypto.randomUUID();
          change.objectStore("outbox").add({ ...last, id, report: { ...last.report, id, publication: 999 } });
        };
        change.oncomplete = done;
        change.onerror = fail;
      };
    })`);
    await tap(page, /^Load 3 of/, "Load done");
    await context.setOffline(false);
    await page.getByText("1 report was refused.", { exact: false }).waitFor();
    await page.getByText("No plan was published as number 999.").waitFor();
    await arrive(before + 2);
    expect((await storedKinds()).slice(before)).toEqual(["goesOn", "loadDone"]);
    await page.getByRole("button", { name: "I have seen it" }).click();
    await page.getByText("Everything has been sent.").waitFor();
    await context.close();
  }, 120_000);

  it("keeps reports through the end of a session until the crew opens a new link, and warns before signing out", async () => {
    const before = (await stored()).length;
    const { context, page } = await opened();
    await context.setOffline(true);
    await measure(page, "4");
    await report(page);
    await waits(page, 1);
    const { crewLinks } = await call<{ crewLinks: { id: string }[] }>(`/api/operations/${demo.operationId}/crew-links`);
    await fetch(`${demo.origin}/api/crew-links/${crewLinks[0]!.id}`, {
      method: "DELETE",
      headers: demo.headersOf("dispatcher"),
    });
    await context.setOffline(false);
    await page.getByText("1 report on this phone has not been sent.", { exact: false }).waitFor();
    await page.getByRole("heading", { name: "Sign in" }).waitFor();
    // Nobody who finds the phone reads the day; the report is still there.
    expect(await keptOnPhone(page)).toEqual({ kept: 0, waiting: 1 });
    expect(await stored()).toHaveLength(before);

    await page.goto("about:blank");
    await page.goto(await newLink());
    await arrive(before + 1);
    expect((await stored()).at(-1)!.report.kind).toBe("conditions");

    await page.goto(dayAddress());
    await bar(page).waitFor();
    // A line on which reports do not get through.
    await context.route("**/reports", (route) =>
      route.request().method() === "POST" ? route.abort() : route.continue(),
    );
    await measure(page, "5");
    await report(page);
    await waits(page, 1);
    await page.locator(".account summary").click();
    await page.getByRole("button", { name: "Sign out" }).click();
    await page.getByRole("heading", { name: "Not everything has been sent" }).waitFor();
    await page.getByRole("button", { name: "Sign out all the same" }).click();
    await page.getByRole("heading", { name: "Sign in" }).waitFor();
    expect(await keptOnPhone(page)).toEqual({ kept: 0, waiting: 1 });
    await context.close();
  }, 120_000);

  it("is told that its day has changed, and reports on by the plan that it was told", async () => {
    const { context, page } = await opened();
    const { publication } = await call<CrewDayList>(daysPath());
    await eventually(
      () => call(`/api/plans/${demo.draftId}/publish`, { after: publication!.number }).catch(() => null),
      60_000,
    );
    await page.reload();
    const changed = page.getByRole("alert").filter({ hasText: "Your day has changed" });
    await changed.waitFor();
    await page.reload();
    await changed.waitFor();
    await changed.getByRole("button", { name: "I have read it" }).click();
    await changed.waitFor({ state: "detached" });
    const before = (await stored()).length;
    await measure(page, "6");
    await report(page);
    await arrive(before + 1);
    expect((await stored()).at(-1)!.report.publication).toBe(publication!.number + 1);
    await page.reload();
    await bar(page).waitFor();
    await page.waitForTimeout(500);
    expect(await changed.count()).toBe(0);
    await context.close();
  }, 120_000);
});

/** What lies in the phone's own store. */
const keptOnPhone = (page: Page) =>
  page.evaluate(`new Promise((done) => {
    const opening = indexedDB.open("calmhour-phone");
    opening.onsuccess = () => {
      const read = opening.result.transaction(["kept", "outbox"]);
      const kept = read.objectStore("kept").count();
      const outbox = read.objectStore("outbox").getAll();
      read.oncomplete = () =>
        done({ kept: kept.result, waiting: outbox.result.filter(({ state }) => state === "waiting").length });
    };
  })`);
