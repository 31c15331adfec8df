import { readdirSync, readFileSync } from "node:fs";
import { basename } from "node:path";
import { fileURLToPath } from "node:url";
import type { Browser, BrowserContext, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { OperationSummary } from "../../shared/contracts/operations.ts";
import type { WeekView } from "../../shared/plan/weekView.ts";
import { type DemoServer, launchBrowser, startDemoServer } from "../support/demoServer.ts";
import { isInstalled, nameNeeding } from "../support/needs.ts";

const folder = fileURLToPath(new URL("../../scenarios/small", import.meta.url));
const fileOf = (name: string) => readFileSync(`${folder}/${name}`, "utf8");
const files = readdirSync(folder).map((name) => ({ name, text: fileOf(name) }));
const operationName = (JSON.parse(fileOf("operation.json")) as { name: string }).name;

/** A week from the files of an operation to a plan made anew for the weather, by the hands of two people who see each other's work; steps of one story. */
describe.runIf(isInstalled("chromium"))(nameNeeding("chromium", "a first week"), { timeout: 120_000 }, () => {
  let demo: DemoServer;
  let browser: Browser;
  let office: Page;
  let phoneContext: BrowserContext;
  let phone: Page;
  let operationId: string;
  let crewLink: string;
  let worked: { readonly crewId: string; readonly date: string; readonly blockId: string; readonly fieldName: string };
  beforeAll(async () => {
    [demo, browser] = [await startDemoServer({ iterations: 1 }), await launchBrowser()];
    const context = await demo.signedIn(browser, "dispatcher", { viewport: { width: 1440, height: 900 } });
    phoneContext = await browser.newContext({ viewport: { width: 390, height: 844 } });
    for (const one of [context, phoneContext]) one.setDefaultTimeout(40_000);
    [office, phone] = [await context.newPage(), await phoneContext.newPage()];
  });
  afterAll(async () => {
    await browser?.close();
    await demo?.close();
  });

  const button = (name: string | RegExp) => office.getByRole("button", { name, exact: typeof name === "string" });
  /** Plans of few seconds may leave out what must be done, of which is asked once more. */
  const publishAs = async (number: number) => {
    await button(`Publish as number ${number}`).click();
    const sure = button("Publish all the same");
    if ((await sure.count()) > 0) await sure.click();
  };
  const told = async <Body>(path: string): Promise<Body> =>
    (await (await fetch(`${demo.origin}${path}`, { headers: demo.headersOf("dispatcher") })).json()) as Body;
  const publishedWeek = () => told<WeekView>(`/api/operations/${operationId}/published/week`);

  it("is taken in from dropped files, once their faults are mended", async () => {
    await office.goto(`${demo.origin}/#orders/files`);
    const faulty = files.map(({ name, text }) => ({ name, text: text.replace(",normal,", ",whenever,") }));
    await drop(office, faulty);
    await office.getByText("Nothing was stored.").waitFor();
    await office.getByRole("table", { name: "In orders.csv" }).waitFor();
    await drop(office, files);
    await office.getByText(`This is a new operation: ${operationName}.`).waitFor();
    await button("Take it in").click();
    await office.getByText(`${operationName} is stored, version 1.`).waitFor();
    const { operations } = await told<{ operations: OperationSummary[] }>("/api/operations");
    operationId = operations.find(({ name }) => name === operationName)!.id;
  });

  it("is planned, a stop is moved by keyboard, and the draft is published", async () => {
    await office.goto(`${demo.origin}/#week`);
    await button("Make a plan").click();
    await office.getByLabel("10 seconds").check();
    await button("Begin").click();
    await button("Show it").click({ timeout: 90_000 });
    const board = office.getByRole("region", { name: "The week, day by day and crew by crew" });
    const stop = board.locator("[data-block]").first();
    await stop.focus();
    const field = (await stop.getAttribute("aria-label"))!;
    await office.keyboard.press("m");
    await office.getByRole("status").getByText("Moving. It stands with").waitFor();
    await office.keyboard.press("ArrowDown");
    await office.keyboard.press("Enter");
    const verdict = office.getByRole("dialog", { name: /^Move / });
    await verdict.getByText(/It goes\. Every rule holds\.|It does not go\./).waitFor();
    // Either way it is told why; what goes is kept.
    const goes = (await verdict.getByText("It goes. Every rule holds.").count()) > 0;
    await verdict.getByRole("button", { name: goes ? "Keep it as a draft" : "Leave it as it is" }).click();
    await verdict.waitFor({ state: "detached" });
    expect(field).not.toBe("");
    await button("Publish").click();
    await office.getByLabel("Note for the crews").fill("Keys are in the blue box.");
    await publishAs(1);
    await office.getByText("Published as number 1.").first().waitFor();

    const { crews } = await publishedWeek();
    const day = crews
      .flatMap(({ days, id }) => days.map(({ crewDay, date }) => ({ id, date, stops: crewDay?.stops ?? [] })))
      .find(({ stops }) => stops.length > 0)!;
    const [first] = day.stops;
    worked = { crewId: day.id, date: day.date, blockId: first!.blockId, fieldName: first!.fieldName };
    await button("Give crews their links").click();
    const crew = crews.find(({ id }) => id === worked.crewId)!;
    await office.getByRole("combobox", { name: "Crew" }).selectOption({ label: crew.name });
    await button("Make a link").click();
    crewLink = await office.getByRole("textbox", { name: `Link for ${crew.name}` }).inputValue();
    await office.keyboard.press("Escape");
  });

  it("is worked by phone with the network cut in the middle, and the office sees it", async () => {
    await phone.goto(crewLink);
    await phone.getByText("Keys are in the blue box.").waitFor();
    await phone.goto(`${demo.origin}/#day/${operationId}/${worked.crewId}/${worked.date}`);
    const bar = phone.getByRole("region", { name: "Report", exact: true });
    await bar.getByText(worked.fieldName).waitFor();
    await bar.getByRole("button", { name: "Arrived" }).click();
    await phoneContext.setOffline(true);
    await bar.getByRole("button", { name: "Started" }).click();
    await bar.getByRole("button", { name: "Finished" }).click();
    await phone.getByRole("button", { name: "Report it" }).click();
    await phone.getByText(/reports? waits? on this device|reports wait on this device/).waitFor();
    await phoneContext.setOffline(false);
    await phone.getByText("Everything has been sent.").waitFor();
    const path = `/api/operations/${operationId}/crews/${worked.crewId}/days/${worked.date}/reports`;
    const { reports } = await told<{ reports: { report: { kind: string; blockId: string } }[] }>(path);
    expect(reports.map(({ report }) => report.kind)).toEqual(["arrived", "started", "finished"]);
    expect(new Set(reports.map(({ report }) => report.blockId))).toEqual(new Set([worked.blockId]));

    await office.goto(`${demo.origin}/#week`);
    await office
      .getByText(/How the work goes: 1 of \d+ stops done/)
      .first()
      .waitFor();
    await office.goto(`${demo.origin}/#records`);
    await office.getByRole("table").getByRole("link", { name: worked.fieldName }).waitFor();
  });

  it("is planned again for a new forecast, and what is done stays done", async () => {
    await office.goto(`${demo.origin}/#week`);
    await button("Report a change").click();
    await office.getByText("New forecast", { exact: true }).click();
    const dialog = office.getByRole("dialog");
    await drop(office, [{ name: "weather.csv", text: warmer(fileOf("weather.csv")) }]);
    await dialog.getByRole("button", { name: "Take it in" }).click();
    await office.getByText("A new forecast is stored.").first().waitFor();
    const from = dialog.getByRole("group", { name: "Replan from" });
    await from.getByRole("combobox").selectOption(worked.date);
    await from.getByRole("textbox").fill("2300");
    await dialog.getByLabel("10 seconds").check();
    await dialog.getByRole("button", { name: "Plan again", exact: true }).click();
    await button("See what changes").click({ timeout: 90_000 });
    await office.getByText("Compared with the live plan (number 1").waitFor();
    await publishAs(2);
    await office.getByText("Published as number 2.").first().waitFor();
    const { publication } = await told<{ publication: { number: number } }>(`/api/operations/${operationId}/published`);
    expect(publication.number).toBe(2);
    const { stops } = await told<{ stops: { blockId: string; state: string }[] }>(
      `/api/operations/${operationId}/progress`,
    );
    // It is done, so nothing of it stands in the new plan to be begun again.
    expect(stops.filter(({ blockId, state }) => blockId === worked.blockId && state !== "finished")).toEqual([]);
  });
});

/** As somebody drops them on the page. */
async function drop(page: Page, dropped: readonly { readonly name: string; readonly text: string }[]): Promise<void> {
  const given = JSON.stringify(dropped.map(({ name, text }) => ({ name: basename(name), text })));
  const transfer = await page.evaluateHandle(`(() => {
    const data = new DataTransfer();
    for (const { name, text } of ${given}) data.items.add(new File([text], name));
    return data;
  })()`);
  await page.locator(".dropArea").dispatchEvent("drop", { dataTransfer: transfer });
}

/** One degree more at every hour. */
function warmer(table: string): string {
  const [head, ...rows] = table.trim().split("\n");
  const at = head!.split(",").indexOf("temperatureC");
  const more = rows.map((row) =>
    row.split(",").map((cell, column) => (column === at ? String(Number(cell) + 1) : cell)),
  );
  return [head, ...more.map((cells) => cells.join(","))].join("\n");
}
