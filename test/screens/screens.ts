import { readFileSync } from "node:fs";
import type { Browser, BrowserContext, Page } from "playwright-core";
import type { UnitSystem } from "../../shared/units/units.ts";
import type { DemoCaller, DemoServer } from "../support/demoServer.ts";
import { casesScreens } from "./casesScreens.ts";

/** One screen as somebody sees it: pictures are made of all of them, and all are held to be accessible. */
export interface Screen {
  /** As its pictures are called. */
  readonly name: string;
  readonly by: DemoCaller | "nobody";
  /** What stands behind the address of the server, as #week. */
  readonly address: (demo: DemoServer) => string;
  /** What is told otherwise to this page than the server would. */
  readonly before?: (page: Page, demo: DemoServer) => Promise<unknown>;
  /** What has to be there before anybody looks; the words "Reading." have gone by then anyway. */
  readonly ready?: (page: Page) => Promise<unknown>;
  /** Another screen that is made of the same parts and held in its place: of this one there are pictures only. */
  readonly isLike?: string;
  /** What is opened or chosen on the way to it. */
  readonly enter?: (page: Page, demo: DemoServer) => Promise<unknown>;
  /** Whatever can have the focus stands on another screen likewise, which is walked by Tab; a long walk takes seconds. */
  readonly isWalkedElsewhere?: true;
}

const heading = (name: string | RegExp) => (page: Page) => page.getByRole("heading", { name, level: 1 }).waitFor();
const press = (name: string) => (page: Page) => page.getByRole("button", { name, exact: true }).click();
const openFirst = (page: Page) => page.getByRole("table").getByRole("rowheader").getByRole("link").first().click();
const plain = (room: string) => () => `#${room}`;

const crewDay = ({ crewId, date, operationId }: DemoServer) => `#day/${operationId}/${crewId}/${date}`;
/** The line on which reports would go. */
const cutReports = (page: Page) =>
  page.route("**/reports", (route) => (route.request().method() === "POST" ? route.abort() : route.continue()));

/** Rooms add theirs here. */
export const screens: readonly Screen[] = [
  { name: "sign-in", by: "nobody", address: () => "", ready: heading("Sign in") },
  { name: "week", by: "dispatcher", address: plain("week") },
  {
    name: "week-crew-day",
    isWalkedElsewhere: true,
    by: "dispatcher",
    address: ({ crewId, date, planId }) => `#week/${planId}/day/${crewId}/${date}`,
  },
  {
    name: "week-order",
    by: "dispatcher",
    address: ({ plan, planId }) => `#week/${planId}/order/${plan.conflicts[0]?.orderId ?? plan.blocks[0]!.orderId}`,
  },
  { name: "week-owner", isWalkedElsewhere: true, by: "owner", address: plain("week") },
  {
    name: "week-publish",
    by: "dispatcher",
    address: ({ draftId }) => `#week/${draftId}`,
    enter: press("Publish"),
    ready: (page) => page.getByText("Compared with the live plan").waitFor(),
  },
  {
    name: "week-changed",
    by: "dispatcher",
    address: plain("week"),
    async enter(page) {
      await press("Report a change")(page);
      // The last first: each that is opened is out of the list.
      for (const kind of (await page.locator(".changeKind:not([open]) > summary").all()).reverse()) await kind.click();
    },
    ready: (page) => page.getByLabel("What is unavailable").waitFor(),
  },
  {
    name: "week-phones",
    by: "dispatcher",
    address: plain("week"),
    enter: press("Crews' phones"),
    ready: (page) => page.getByRole("list", { name: "Links given out" }).waitFor(),
  },
  { name: "orders", by: "dispatcher", address: plain("orders") },
  { name: "order", isLike: "field", by: "dispatcher", address: ({ plan }) => `#orders/${plan.blocks[0]!.orderId}` },
  {
    name: "order-faults",
    by: "dispatcher",
    address: ({ plan }) => `#orders/${plan.blocks[0]!.orderId}`,
    async enter(page) {
      await press("Change")(page);
      await page.getByLabel(/^Price/).fill("-4");
      await press("Save")(page);
    },
    ready: (page) => page.getByText("Nothing was stored.").waitFor(),
  },
  {
    name: "order-meanwhile",
    by: "dispatcher",
    address: ({ plan }) => `#orders/${plan.blocks[0]!.orderId}`,
    async enter(page) {
      await press("Change")(page);
      await page.getByLabel("Notes for the crew").fill("Gate code from the grower");
      // As if somebody had stored another version since.
      await page.route("**/orders/*", (route) =>
        route.request().method() === "PUT" ? route.fulfill({ status: 412, json: {} }) : route.continue(),
      );
      await press("Save")(page);
    },
    ready: (page) => page.getByRole("heading", { name: "Somebody has changed this meanwhile" }).waitFor(),
  },
  { name: "field", by: "dispatcher", address: plain("orders/fields"), enter: openFirst },
  { name: "product", isLike: "field", by: "dispatcher", address: plain("orders/products"), enter: openFirst },
  {
    name: "files-faults",
    by: "dispatcher",
    address: plain("orders/files"),
    enter: (page) =>
      page.locator('input[type="file"][multiple]').setInputFiles({
        name: "orders.csv",
        mimeType: "text/csv",
        buffer: Buffer.from("id,field\nO-001,nowhere\n"),
      }),
    ready: (page) => page.getByText("Nothing was stored.").waitFor(),
  },
  { name: "fleet", by: "dispatcher", address: plain("fleet") },
  { name: "aircraft-add", isLike: "order-faults", by: "dispatcher", address: plain("fleet/aircraft/+") },
  {
    name: "aircraft-type",
    isLike: "field",
    by: "dispatcher",
    address: plain("fleet/aircraft-types"),
    enter: openFirst,
  },
  {
    name: "aircraft-type-remove",
    by: "dispatcher",
    address: plain("fleet/aircraft-types"),
    async enter(page) {
      await openFirst(page);
      await press("Remove")(page);
    },
  },
  { name: "settings", isLike: "field", by: "dispatcher", address: plain("fleet/settings") },
  { name: "weather", by: "dispatcher", address: plain("weather") },
  {
    name: "weather-forecast",
    by: "dispatcher",
    address: plain("weather"),
    async enter(page) {
      await page.getByText("Import a new forecast").click();
      await page.locator('input[type="file"][multiple]').setInputFiles({
        name: "tuesday.csv",
        mimeType: "text/csv",
        buffer: Buffer.from(readFileSync("scenarios/demo/weather.csv", "utf8").replace(/,0,/g, ",0.2,")),
      });
    },
    ready: (page) => page.getByLabel("When the forecast was issued").waitFor(),
  },
  {
    name: "fleet-away",
    by: "dispatcher",
    address: plain("fleet"),
    async enter(page) {
      await page.route("**/api/**", (route) => route.abort());
      await page.reload();
    },
    ready: (page) => page.getByRole("alert").first().waitFor(),
  },
  { name: "records", by: "dispatcher", address: plain("records"), ready: heading("Records") },
  {
    name: "record",
    by: "dispatcher",
    address: plain("records"),
    enter: (page) => page.getByRole("table").getByRole("link").first().click(),
    ready: (page) => page.getByRole("heading", { name: "Versions" }).waitFor(),
  },
  {
    name: "record-change",
    by: "dispatcher",
    address: plain("records"),
    async enter(page) {
      await page.getByRole("table").getByRole("link").first().click();
      await press("Complete or correct")(page);
    },
    ready: (page) => page.getByRole("dialog").getByRole("button", { name: "Save" }).waitFor(),
  },
  {
    name: "cases",
    by: "owner",
    address: plain("cases"),
    ready: (page) => page.locator(".runList li").first().waitFor(),
  },
  ...casesScreens,
  { name: "people", by: "administrator", address: plain("people"), ready: heading("People") },
  { name: "people-add", by: "administrator", address: plain("people"), enter: press("Add a person") },
  { name: "changes", by: "owner", address: plain("changes"), ready: heading("Changes") },
  {
    name: "tokens",
    by: "dispatcher",
    address: plain("records"),
    async enter(page) {
      await page.locator(".account summary").click();
      await press("Tokens for programs")(page);
    },
    ready: (page) => page.getByRole("dialog").getByText("You have no token.").waitFor(),
  },
  { name: "crew-day", by: "phone", address: crewDay },
  {
    name: "crew-map",
    by: "phone",
    address: crewDay,
    async enter(page) {
      const map = page.locator("details", { has: page.locator("summary", { hasText: /^Map$/ }) });
      await map.locator("summary").first().click();
      await map.scrollIntoViewIfNeeded();
    },
    ready: (page) => page.locator(".leaflet-container").waitFor(),
  },
  {
    name: "crew-measured",
    by: "phone",
    address: crewDay,
    async enter(page) {
      await press("Log conditions")(page);
      await page.getByLabel("Mean wind, km/h").fill("61");
    },
    ready: (page) => page.getByRole("dialog").getByText("Stop the work.").waitFor(),
  },
  // The last ones of the phone: what they report stays in its outbox.
  {
    name: "crew-not-sent",
    by: "phone",
    address: crewDay,
    async enter(page) {
      await cutReports(page);
      await press("Resume")(page);
      await page.getByText("Reports of this day").first().click();
    },
    ready: (page) => page.getByText("waits for the network").first().waitFor(),
  },
  {
    name: "crew-stopped",
    by: "phone",
    address: crewDay,
    async enter(page) {
      await cutReports(page);
      await page.locator(".stopCard:not(.present) summary").last().click();
      await press("Report on this stop")(page);
      await press("Started")(page);
      await press("Stop")(page);
    },
    ready: (page) => page.getByRole("dialog").getByText("People near").waitFor(),
  },
];

export const widths = { desk: { width: 1440, height: 900 }, phone: { width: 390, height: 844 } } as const;
export type Width = keyof typeof widths;

/** Contexts of the callers, each opened once. */
export function openContexts(demo: DemoServer, browser: Browser, units: UnitSystem = "metric") {
  const opened = new Map<string, Promise<BrowserContext>>();
  async function open(by: Screen["by"], viewport: (typeof widths)[Width]): Promise<BrowserContext> {
    const context = await (by === "nobody"
      ? browser.newContext({ viewport })
      : demo.signedIn(browser, by, { viewport }));
    if (units !== "metric") await context.addInitScript(`localStorage.setItem("calmhour.units", "${units}")`);
    return context;
  }
  return {
    of(by: Screen["by"], width: Width): Promise<BrowserContext> {
      const key = `${by} ${width}`;
      if (!opened.has(key)) opened.set(key, open(by, widths[width]));
      return opened.get(key)!;
    },
    async close() {
      for (const context of opened.values()) await (await context).close();
    },
  };
}

/** The screen in a page of its own, when all that it asked for has come. */
export async function openScreen(
  demo: DemoServer,
  context: BrowserContext,
  { address, before, enter, ready }: Screen,
): Promise<Page> {
  const page = await context.newPage();
  await before?.(page, demo);
  await page.goto(`${demo.origin}/${address(demo)}`);
  await page.getByRole("main").waitFor();
  await settled(page);
  await enter?.(page, demo);
  await settled(page);
  await ready?.(page);
  return page;
}

async function settled(page: Page): Promise<void> {
  for (const words of ["Reading.", "Working out the calm hours."]) {
    await page.getByText(words, { exact: true }).first().waitFor({ state: "detached" });
  }
  await page.waitForFunction("document.fonts.status === 'loaded'");
}
