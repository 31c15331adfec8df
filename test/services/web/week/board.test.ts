import type { Browser, BrowserContext, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import type { ListedPlan } from "../../../../shared/contracts/plans.ts";
import type { CalmHours } from "../../../../shared/plan/calmHours.ts";
import type { StopView } from "../../../../shared/plan/weekOrders.ts";
import type { WeekView } from "../../../../shared/plan/weekView.ts";
import { type DemoServer, launchBrowser, startDemoServer } from "../../../support/demoServer.ts";
import { isInstalled, nameNeeding } from "../../../support/needs.ts";
import { eventually } from "../../../support/servers.ts";

/** The week's board in a browser before the whole service: seen, chosen from, moved on by keys and by hand, locked. */
describe.runIf(isInstalled("chromium"))(nameNeeding("chromium", "the week's board"), { timeout: 180_000 }, () => {
  let demo: DemoServer;
  let browser: Browser;
  let context: BrowserContext;
  let page: Page;
  let week: WeekView;
  beforeAll(async () => {
    demo = await startDemoServer({ iterations: 300 });
    browser = await launchBrowser();
    context = await demo.signedIn(browser, "dispatcher", { viewport: { width: 1440, height: 900 } });
    context.setDefaultTimeout(60_000);
    page = await context.newPage();
    await page.goto(`${demo.origin}/#week/${demo.planId}`);
    week = await api<WeekView>(`/api/plans/${demo.planId}/week`);
  });
  afterAll(async () => {
    await browser?.close();
    await demo?.close();
  });

  afterEach(async () => {
    if ((await page.getByRole("dialog").count()) > 0) await page.keyboard.press("Escape");
    await page.goto(`${demo.origin}/#week/${demo.planId}`);
    await board().locator("[data-block]").first().waitFor();
  });

  /** A machine with much else to do answers that it is busy. */
  const api = async <Body>(path: string): Promise<Body> => {
    const answer = await eventually(async () => {
      const one = await fetch(`${demo.origin}${path}`, { headers: demo.headersOf("dispatcher") });
      return one.status === 503 ? null : one;
    });
    return (await answer.json()) as Body;
  };
  const board = () => page.getByRole("region", { name: "The week, day by day and crew by crew" });
  const chosen = () => page.getByRole("region", { name: "What is chosen" });
  const stopButton = ({ blockId }: Pick<StopView, "blockId">) => board().locator(`[data-block="${blockId}"]`);
  const says = (words: string) => page.locator(".said", { hasText: words }).waitFor();
  const days = () =>
    week.crews.flatMap((crew) =>
      crew.days.flatMap((cell) => (cell.crewDay ? [{ crew, ...cell, crewDay: cell.crewDay }] : [])),
    );
  const plans = async () => (await api<{ plans: ListedPlan[] }>(`/api/plans?operationId=${demo.operationId}`)).plans;

  it("shows every stop of the plan where its time is, on its crew's row", async () => {
    await board().locator(".hour").first().waitFor();
    const stops = days().flatMap(({ crewDay }) => crewDay.stops);
    expect(await board().locator("[data-block]").count()).toBe(stops.length);
    const { crewDay, crew, date } = days().find((day) => day.crewDay.stops.length >= 2)!;
    const [first, second] = crewDay.stops;
    const ground = (await board().locator(`[data-crew="${crew.id}"][data-date="${date}"]`).boundingBox())!;
    const boxOf = async (stop: StopView) => (await stopButton(stop).locator("..").boundingBox())!;
    const [a, b] = [await boxOf(first!), await boxOf(second!)];
    expect(a.y).toBeGreaterThanOrEqual(ground.y);
    expect(a.y + a.height).toBeLessThanOrEqual(ground.y + ground.height + 1);
    // As far apart as the clock says, by the width of the first as the measure.
    const pxPerMin = (a.width + 1) / (first!.end.min - first!.start.min);
    expect(Math.abs((b.x - a.x) / pxPerMin - (second!.start.min - first!.start.min))).toBeLessThan(4);
  });

  it("begins high on the page, and on a phone the later hours can be come to", async () => {
    const firstDayPx = async () => (await board().locator(".boardDay h2").first().boundingBox())!.y;
    await board().locator(".hour").first().waitFor();
    // With work going on and a day that needs a look, which stays in sight.
    await page.getByRole("list", { name: "What needs attention" }).getByText("needs attention").waitFor();
    expect(await firstDayPx()).toBeLessThanOrEqual(250);
    expect(await page.getByRole("button", { name: "Later hours" }).count()).toBe(0);
    await page.setViewportSize({ width: 390, height: 844 });
    await page.getByRole("button", { name: "Later hours" }).waitFor();
    expect(await firstDayPx()).toBeLessThanOrEqual(480);
    while ((await page.getByRole("button", { name: "Later hours" }).count()) > 0) {
      const before = await board().locator(".boardScroller").evaluate(leftOf);
      await page.getByRole("button", { name: "Later hours" }).click();
      await expect.poll(() => board().locator(".boardScroller").evaluate(leftOf)).toBeGreaterThan(before);
      await page.waitForTimeout(400);
    }
    await page.getByRole("button", { name: "Earlier hours" }).waitFor();
    await page.setViewportSize({ width: 1440, height: 900 });
  });

  it("keeps in sight what is chosen on the last day, and the map", async () => {
    const { crewDay } = days()
      .toSorted((a, b) => a.date.localeCompare(b.date))
      .at(-1)!;
    const stop = crewDay.stops.at(-1)!;
    await stopButton(stop).click();
    await chosen().getByRole("heading", { name: stop.fieldName }).waitFor();
    for (const seen of [
      stopButton(stop),
      chosen().getByRole("heading", { name: stop.fieldName }),
      page.getByRole("button", { name: "Whole week" }),
    ]) {
      const { height, y } = (await seen.boundingBox())!;
      expect(y).toBeGreaterThanOrEqual(0);
      // Scrolling ends on whole pixels, boxes do not.
      expect(y + height).toBeLessThan(901);
    }
    await chosen().getByRole("button", { name: "Close" }).click();
    await chosen().getByText("Choose a stop, a crew's day").waitFor();
    expect(await stopButton(stop).evaluate((element) => element === document.activeElement)).toBe(true);
  });

  it("tells of an hour how much of it may be worked and what closes the rest", async () => {
    const calm = await api<CalmHours>(`/api/plans/${demo.planId}/calm`);
    const hour = calm.days[1]!.hours[14]!;
    expect(hour.closedBy.length).toBeGreaterThan(0);
    const button = board().locator(`[data-key="hour ${calm.days[1]!.date} 14"]`);
    expect(await button.getAttribute("aria-label")).toContain("14:00");
    await button.click();
    await board().getByText(hour.closedBy[0]!.sentence).waitFor();
    await button.click();
    expect(await board().getByText(hour.closedBy[0]!.sentence).count()).toBe(0);
  });

  it("chooses an order by keys alone, and walks through its hours with the limits of each", async () => {
    const { crewDay } = days().find((day) => day.crewDay.stops.length >= 2)!;
    const [first, second] = crewDay.stops;
    await stopButton(first!).focus();
    await page.keyboard.press("ArrowRight");
    expect(await stopButton(second!).evaluate((element) => element === document.activeElement)).toBe(true);
    await page.keyboard.press("Enter");
    await chosen().getByRole("heading", { name: second!.fieldName }).waitFor();
    expect(page.url()).toContain(encodeURIComponent(second!.blockId));
    expect(await stopButton(second!).getAttribute("aria-pressed")).toBe("true");

    const cells = chosen().locator(".hourCell");
    await cells.first().waitFor();
    expect(await cells.count()).toBe(24 * week.days.length);
    await chosen().locator('.hourCell[tabindex="0"]').focus();
    await page.keyboard.press("Home");
    const night = chosen().locator(".hourWords");
    await chosen().locator(".hourWords", { hasText: "00:00 to 01:00: closed." }).waitFor();
    await page.keyboard.press("ArrowDown");
    const nextDay = new Date(`${second!.start.date}T00:00:00Z`).toLocaleDateString("en-GB", {
      timeZone: "UTC",
      month: "long",
    });
    expect(await night.textContent()).toContain(nextDay);
    // Back to the board and out again: one place that Tab comes to.
    expect(await board().locator('[tabindex="0"]').count()).toBe(1);
  });

  it("moves a stop by keys alone, says whether it goes, and keeps it as a draft", async () => {
    const before = (await plans()).length;
    const { crew, crewDay, date } = days().find((day) => day.crewDay.stops.length >= 2)!;
    const [first] = crewDay.stops;
    await stopButton(first!).focus();
    await page.keyboard.press("m");
    await says(`${crew.name}, `);
    await page.keyboard.press("Escape");
    await says("Nothing was moved.");

    // Nothing is asked where it would stay.
    await page.keyboard.press("m");
    await page.keyboard.press("Enter");
    await says("It stands there already.");

    // Taken out by the form: it always goes, whatever the week is like.
    await page.keyboard.press("Enter");
    await chosen().getByRole("button", { name: "Take it out of the plan" }).click();
    const dialog = page.getByRole("dialog");
    await dialog.getByText("It goes. Every rule holds.").waitFor();
    await dialog.getByText(/The plan then costs .* EUR more|costs .* less/).waitFor();
    expect((await plans()).length).toBe(before);
    await dialog.getByRole("button", { name: "Leave it as it is" }).click();

    // By keys to the next place, whose verdict may be either.
    await stopButton(first!).focus();
    await page.keyboard.press("m");
    await page.keyboard.press("ArrowRight");
    await says(`after ${crewDay.stops[1]!.fieldName}`);
    await page.keyboard.press("Enter");
    const verdict = dialog.locator(".verdict");
    await verdict.waitFor();
    const isAllowed = (await verdict.textContent()) === "It goes. Every rule holds.";
    const keep = dialog.getByRole("button", { name: "Keep it as a draft" });
    expect(await keep.count()).toBe(isAllowed ? 1 : 0);
    if (!isAllowed) expect(await dialog.locator("li").count()).toBeGreaterThan(0);
    await page.keyboard.press("Escape");
    await dialog.waitFor({ state: "detached" });

    await stopButton(first!).click();
    await chosen().getByRole("button", { name: "Take it out of the plan" }).click();
    await keep.click();
    await says("kept as a draft");
    await page.waitForURL((url) => !url.hash.includes(demo.planId));
    const [draft] = await plans();
    expect(draft).toMatchObject({ origin: "moved", parentId: demo.planId, state: "draft" });
    expect(page.url()).toContain(draft!.id);
    await board().locator("[data-block]").first().waitFor();
    await stopButton(first!).waitFor({ state: "detached" });
    expect(date).toBe(first!.start.date);
  });

  it("asks about a stop that is dragged to another crew", async () => {
    const from = days().find((day) => day.crewDay.stops.length >= 2)!;
    const to = days().find((day) => day.date === from.date && day.crew.id !== from.crew.id)!;
    const stop = stopButton(from.crewDay.stops[0]!);
    // Both rows are on the screen then.
    await stop.evaluate((element) => element.closest(".boardDay")!.scrollIntoView());
    const a = (await stop.boundingBox())!;
    const b = (await board().locator(`[data-crew="${to.crew.id}"][data-date="${to.date}"]`).boundingBox())!;
    await page.mouse.move(a.x + 4, a.y + 8);
    await page.mouse.down();
    await page.mouse.move(a.x + 30, b.y + b.height / 2, { steps: 4 });
    await page.mouse.move(b.x + 2, b.y + b.height / 2, { steps: 4 });
    await page.mouse.up();
    const dialog = page.getByRole("dialog");
    await dialog.getByText(`To: ${to.crew.name}, `).waitFor();
    await dialog.getByText("as the first stop").waitFor();
    await dialog.locator(".verdict").waitFor();
    await page.keyboard.press("Escape");
  });

  it("puts what is not planned into a crew's day by hand, and says which rule is against it", async () => {
    const conflict = week.conflicts.find(({ because, blocks }) => because !== null && blocks.length > 0)!;
    await page.goto(`${demo.origin}/#week/${demo.planId}/order/${encodeURIComponent(conflict.orderId)}`);
    const putIn = chosen().getByRole("button", { name: /^Put (it|part \d+ of \d+) into a day/ });
    // What comes in late moves nothing any more.
    await board().locator(".hour").first().waitFor();
    await page.getByRole("button", { name: "Whole week" }).waitFor();
    await putIn.first().hover({ position: { x: 8, y: 8 } });
    await page.mouse.down();
    const seen = [];
    for (const day of days()) {
      const box = (await board().locator(`[data-crew="${day.crew.id}"][data-date="${day.date}"]`).boundingBox())!;
      if (box.y > 0 && box.y + box.height < 900) seen.push({ ...day, box });
    }
    const { box: b, ...lane } = seen[0]!;
    await page.mouse.move(b.x + 200, b.y + b.height / 2, { steps: 4 });
    await page.mouse.move(b.x + 2, b.y + b.height / 2, { steps: 4 });
    await page.mouse.up();
    const dialog = page.getByRole("dialog");
    await dialog.getByRole("heading", { name: new RegExp(`^Put ${conflict.fieldName}.* into the plan$`) }).waitFor();
    await dialog.getByText(`To: ${lane.crew.name}, `).waitFor();
    await dialog.getByText("It does not go.").waitFor();
    expect(await dialog.locator("li").count()).toBeGreaterThan(0);
    await page.keyboard.press("Escape");

    // What was taken out of a full day goes back into it.
    const { crewDay } = days().find((day) => day.crewDay.stops.length >= 3)!;
    const { blockId, fieldName, orderId } = crewDay.stops[1]!;
    const taken = await fetch(`${demo.origin}/api/plans/${demo.planId}/moves`, {
      method: "POST",
      headers: {
        ...demo.headersOf("dispatcher"),
        "content-type": "application/json",
        "idempotency-key": "taken-out-to-be-put-back",
      },
      body: JSON.stringify({ moves: [{ blockId, to: null }], keep: true }),
    });
    expect(taken.status).toBe(201);
    const { plan: draft } = (await taken.json()) as { plan: ListedPlan };
    await page.goto(`${demo.origin}/#week/${draft.id}/order/${encodeURIComponent(orderId)}`);
    await putIn.first().focus();
    await page.keyboard.press("m");
    await dialog.getByRole("heading", { name: new RegExp(`^Put ${fieldName}.* into the plan$`) }).waitFor();
    await dialog.getByRole("button", { name: "Ask whether it goes" }).click();
    await dialog.getByText("It goes. Every rule holds.").waitFor();
    await dialog.getByRole("button", { name: "Keep it as a draft" }).click();
    await says("kept as a draft");
    await page.waitForURL((url) => !url.hash.includes(draft.id));
    await stopButton({ blockId }).waitFor();
  });

  it("tells a crew's day in words, locks it and unlocks it", async () => {
    const { crew, crewDay, date } = days()[0]!;
    await board().locator(`[data-key="day ${crew.id} ${date}"]`).click();
    await chosen().getByText(`Leave ${crew.base} at ${crewDay.leave.clock}`).waitFor();
    for (const { fieldName } of crewDay.stops) await chosen().getByText(fieldName).first().waitFor();
    await chosen().getByRole("button", { name: "Lock its stops to this day" }).click();
    await chosen().getByText("its stops are locked to this day.").waitFor();
    const locks = async () =>
      (await api<{ total: number }>(`/api/operations/${demo.operationId}/locks?crew=${crew.id}&date=${date}`)).total;
    expect(await locks()).toBe(1);
    const head = board().locator(`[data-key="day ${crew.id} ${date}"]`);
    await head.getByText("stops locked").waitFor();
    expect(await head.getAttribute("aria-label")).toContain("stops locked");
    const signs = board().locator(".stopPlace .lockSign");
    expect(await signs.count()).toBe(crewDay.stops.length);
    expect(await stopButton(crewDay.stops[0]!).getAttribute("aria-label")).toMatch(/, locked$/);
    await chosen().getByRole("button", { name: "Unlock" }).click();
    await chosen().getByText("Nothing of this day is locked.").waitFor();
    expect(await locks()).toBe(0);
    await signs.first().waitFor({ state: "detached" });
  });

  it("is read by an owner, who moves and locks nothing", async () => {
    const other = await demo.signedIn(browser, "owner", { viewport: { width: 390, height: 844 } });
    const own = await other.newPage();
    await own.goto(`${demo.origin}/#week/${demo.planId}`);
    const stop = own.locator("[data-block]").first();
    await stop.click();
    const panel = own.getByRole("region", { name: "What is chosen" });
    await panel.locator(".hourCell").first().waitFor();
    expect(await panel.getByRole("button", { name: "Move this stop" }).count()).toBe(0);
    await stop.focus();
    await own.keyboard.press("m");
    expect(await own.locator(".movingWords").count()).toBe(0);
    const { orderId } = week.conflicts.find(({ blocks }) => blocks.length > 0)!;
    await own.goto(`${demo.origin}/#week/${demo.planId}/order/${encodeURIComponent(orderId)}`);
    await panel.getByRole("button", { name: "See what would help" }).waitFor();
    expect(await own.getByRole("button", { name: /into a day/ }).count()).toBe(0);
    await other.close();
  });
});

const leftOf = ({ scrollLeft }: Element) => scrollLeft;
