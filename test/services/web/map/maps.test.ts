import { existsSync } from "node:fs";
import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { extname, join } from "node:path";
import { fileURLToPath } from "node:url";
import react from "@vitejs/plugin-react";
import { type Browser, chromium, type Page } from "playwright-core";
import { build } from "vite";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import { contentSecurityPolicy } from "../../../../services/api/security.ts";
import { areaM2 } from "../../../../shared/geo/area.ts";
import { planeOf, toAreaXY } from "../../../../shared/geo/convert.ts";
import type { AreaGeometry } from "../../../../shared/model/field.ts";
import { areaGeometrySchema } from "../../../../shared/model/field.ts";
import { dayMap } from "../../../../shared/plan/dayMap.ts";
import { weekMap } from "../../../../shared/plan/weekMap.ts";
import { isInstalled, nameNeeding } from "../../../support/needs.ts";
import { viewOperation, viewPlan } from "../../../support/viewPlan.ts";

const operation = viewOperation();
const plan = viewPlan(operation);
const week = weekMap(operation, plan);
const [first] = plan.crewDays;
const day = dayMap(operation, plan, first!.crewId, first!.date)!;
const types: Readonly<Record<string, string>> = { ".js": "text/javascript", ".css": "text/css", ".html": "text/html" };
/** The machine may be busy. */
const soon = { timeout: 10_000 };
const axe = fileURLToPath(import.meta.resolve("axe-core"));

/** The maps on a page of their own, under the policy that the server sends, with answers at hand. */
describe.runIf(isInstalled("chromium"))(nameNeeding("chromium", "maps in a browser"), () => {
  let browser: Browser;
  let folder: string;
  let page: Page;
  const troubles: string[] = [];
  /** Whether a style that the policy refuses is nothing to mind. */
  let refusedStyles = false;
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), "maps-"));
    await build({
      root: fileURLToPath(new URL("./page", import.meta.url)),
      configFile: false,
      logLevel: "error",
      plugins: [react()],
      build: { outDir: folder, target: "es2022", assetsInlineLimit: 0, minify: false },
    });
    browser = await chromium.launch({
      executablePath: "/usr/bin/chromium",
      args: ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"],
    });
  }, 60_000);
  afterAll(async () => {
    await browser.close();
    await rm(folder, { recursive: true, force: true });
  });
  afterEach(async () => {
    await page.context().close();
    refusedStyles = false;
    expect(troubles.splice(0)).toEqual([]);
  });

  const open = async (
    screen: string,
    given: unknown = null,
    { phone = false, answers = true, hasMap = true, bounds = week.bounds } = {},
  ) => {
    const viewport = phone ? { width: 390, height: 844 } : { width: 1440, height: 900 };
    const context = await browser.newContext({
      viewport,
      hasTouch: phone,
      geolocation: { latitude: 51.02, longitude: 11.02, accuracy: 25 },
      permissions: ["geolocation"],
    });
    page = await context.newPage();
    page.on("pageerror", ({ message }) => troubles.push(message));
    page.on("console", (message) => {
      const text = message.text();
      const isMinded = !refusedStyles || !text.startsWith("Applying inline style");
      if (text.includes("Content Security Policy") && isMinded) troubles.push(text);
    });
    await page.addInitScript((value) => Object.assign(globalThis, { given: value }), given);
    await page.route("**/*", async (route) => {
      const { pathname } = new URL(route.request().url());
      const body =
        pathname === "/api/plans/p/map" ? { ...week, bounds } : pathname.startsWith("/api/plans/p/crews/") ? day : null;
      if (body !== null)
        return answers
          ? route.fulfill({ json: body })
          : route.fulfill({ status: 404, json: { title: "There is no such plan." } });
      const file = join(folder, pathname === "/" ? "index.html" : pathname);
      if (!existsSync(file) || (!hasMap && pathname.includes("Leaflet"))) return route.fulfill({ status: 404 });
      return route.fulfill({
        body: await readFile(file),
        contentType: types[extname(file)] ?? "application/octet-stream",
        headers: { "content-security-policy": contentSecurityPolicy },
      });
    });
    await page.goto(`http://localhost/#look=day&screen=${screen}`);
  };
  const told = <Told>() => page.evaluate<Told>("told");
  const isTold = async (expected: unknown) => expect.poll(() => told(), soon).toEqual(expected);
  /** In the first look by all rules; what another changes is the colours. */
  const violations = async (rules: "all" | "colours") => {
    // Beside the page's policy, which lets no other script in.
    await page.evaluate(await readFile(axe, "utf8"));
    const options = rules === "all" ? "{}" : '{ runOnly: ["color-contrast"] }';
    const found = await page.evaluate<{ id: string; nodes: string[] }[]>(
      `axe.run(${options}).then(({ violations }) => violations.map(({ id, nodes }) => ({ id, nodes: nodes.map((node) => node.html) })))`,
    );
    // Of a whole page, which this is not.
    return found.filter(({ id }) => !["page-has-heading-one", "region"].includes(id));
  };
  const field = week.fields.find(({ orders }) => orders.length > 0)!;

  it("choose a field's order by the mouse, and show a crew-day's numbers", async () => {
    await open("week", [{ id: first!.crewId, name: "Early birds" }]);
    await page.locator("path.mapArea.planned, path.mapArea.partly").first().click();
    await expect.poll(() => told<{ kind: string } | null>(), soon).toMatchObject({ kind: "order" });
    const { orderId } = await told<{ orderId: string }>();
    const chosen = week.fields.find(({ orders }) => orders.includes(orderId as never))!;
    expect(chosen.crewDays.map(({ crewId }) => crewId)).toContain(first!.crewId);
    await page.locator(".mapChosen button").filter({ hasText: "Early birds" }).first().click();
    await isTold({ kind: "crewDay", crewId: first!.crewId, date: first!.date });
    await page.locator(".mapGround .mapSign.stopNumbers").first().waitFor();
    const numbers = (await page.locator(".mapGround .mapSign.stopNumbers").allTextContents()).flatMap((text) =>
      text.split(" "),
    );
    expect(numbers.map(Number).sort()).toEqual(day.stops.map(({ number }) => number));
    const shares = async () => {
      const boxes = await page.evaluate<{ ground: number; field: number }>(`(() => {
        const [ground, field] = [".mapGround", "path.mapArea.treated"].map((one) => document.querySelector(one).getBoundingClientRect());
        return { ground: ground.width, field: field.width };
      })()`);
      return boxes.field / boxes.ground;
    };
    const near = await shares();
    await page.getByRole("button", { name: "Whole week" }).click();
    await expect.poll(shares, soon).toBeLessThan(near);
    await page.getByRole("button", { name: "Chosen", exact: true }).click();
    await expect.poll(shares, soon).toBeCloseTo(near, 2);
  });

  it("are reached and chosen from by the keyboard alone", async () => {
    await open("week", []);
    await page.getByRole("application", { name: "Map of the week" }).waitFor();
    const stops: string[] = [];
    const focused = "[document.activeElement.getAttribute('aria-label') ?? document.activeElement.textContent][0]";
    for (let at = 0; at < 5; at++) {
      await page.keyboard.press("Tab");
      stops.push(await page.evaluate<string>(focused));
    }
    expect(stops).toEqual([
      "Map of the week",
      "Nearer",
      "Farther",
      "Show all",
      `Fields as a list (${week.fields.length})`,
    ]);
    await page.keyboard.press("Enter");
    await page.getByLabel("Search fields").waitFor();
    await page.keyboard.press("Tab");
    await page.keyboard.type(field.name.slice(0, 5));
    await expect.poll(() => page.locator(".mapList li").count(), soon).toBe(1);
    await page.keyboard.press("Tab");
    await page.keyboard.press("Enter");
    await isTold({ kind: "order", orderId: field.orders[0] });
    expect(await page.locator('.mapList button[aria-pressed="true"]').textContent()).toContain(field.orders[0]);
    expect(await page.locator("path.mapArea.chosen").count()).toBe(1);
  });

  it("say in words what does not come", async () => {
    await open("week", [], { answers: false });
    await page.getByText("There is no such plan.").waitFor();
    await page.getByRole("button", { name: "Try again" }).waitFor();
    await page.context().close();
    await open("week", [], { hasMap: false });
    await page.getByText("The map cannot be drawn here. Everything that it shows stands in the lists, too.").waitFor();
    await page.getByText("Fields as a list").click();
    await page.locator(".mapList button").first().click();
    await isTold({ kind: "order", orderId: expect.any(String) });
  });

  it("are never wider than the screen, however long the valley", async () => {
    await open("week", [], { phone: true, bounds: [10.9, 51, 12.5, 51.02] });
    await page.locator("path.mapArea").first().waitFor({ state: "attached" });
    expect(await page.evaluate("document.documentElement.scrollWidth <= innerWidth")).toBe(true);
    await page.context().close();
    await open("draw", drawn, { phone: true });
    await page.locator("path.mapSketch").first().waitFor();
    expect(await page.evaluate("document.documentElement.scrollWidth <= innerWidth")).toBe(true);
  });

  it("bring what is chosen elsewhere into view", async () => {
    await open("week", []);
    await page.locator("path.mapArea").first().waitFor();
    for (let press = 0; press < 6; press++) await page.getByRole("button", { name: "Nearer" }).click();
    const box = (await page.locator(".mapGround").boundingBox())!;
    await page.mouse.move(box.x + 50, box.y + 50);
    await page.mouse.down();
    await page.mouse.move(box.x + 700, box.y + 200, { steps: 5 });
    await page.mouse.up();
    await page.getByText("Fields as a list").click();
    for (const { fieldId, orders } of week.fields.filter((one) => one.orders.length > 0)) {
      await page
        .getByRole("button", { name: `Order ${orders[0]}`, exact: true })
        .first()
        .click();
      await isTold({ kind: "order", orderId: orders[0] });
      const within = `(() => {
        const [ground, field] = [".mapGround", "path.mapArea.chosen"].map((one) => document.querySelector(one).getBoundingClientRect());
        return field.right > ground.left && field.left < ground.right && field.bottom > ground.top && field.top < ground.bottom;
      })()`;
      await expect.poll(async () => [fieldId, await page.evaluate(within)], soon).toEqual([fieldId, true]);
    }
  });

  it("of a day choose its stops and show where one is", async () => {
    await open("day", day, { phone: true });
    await page.locator(".mapGround .mapSign.stopNumbers").first().click();
    await isTold(Number((await page.locator(".mapGround .mapSign.stopNumbers").first().textContent())!.split(" ")[0]));
    // What is flown is seen at the scale that the stop is fitted to, be it pass by pass or by the heading.
    const flown = `[...document.querySelectorAll(".mapGround .mapLine:is(.pass, .heading):not(.unseen)")].map((one) => one.getBoundingClientRect()).filter(({ height, width }) => height + width > 40).length`;
    await expect.poll(() => page.evaluate<number>(flown), soon).toBeGreaterThan(0);
    await page.getByRole("button", { name: "Show where I am" }).click();
    await page.getByText("You are within 25 m of the dot.").waitFor();
    expect(await page.locator(".mapGround .mapSign.me").count()).toBe(1);
    await page.getByRole("button", { name: "Stop showing where I am" }).click();
    await expect.poll(() => page.locator(".mapGround .mapSign.me").count(), soon).toBe(0);
  });

  const square = [
    [11, 51],
    [11.004, 51],
    [11.004, 51.003],
    [11, 51.003],
    [11, 51],
  ];
  const drawn = { geometry: { type: "Polygon", coordinates: [square] }, pads: [] };
  const areaHa = (geometry: AreaGeometry) => areaM2(toAreaXY(planeOf(geometry), geometry)) / 10_000;

  it("draw with the mouse: corners, an obstacle, a pad, a corner dragged, and back again", async () => {
    await open("draw", drawn);
    await page.getByText("Area: 9.4 ha").waitFor();
    await page.getByRole("button", { name: "Add an obstacle" }).click();
    const box = (await page.locator("path.mapSketch.outline").boundingBox())!;
    const at = (x: number, y: number) => [box.x + box.width * x, box.y + box.height * y] as const;
    for (const [x, y] of [
      [0.3, 0.3],
      [0.6, 0.3],
      [0.6, 0.6],
    ] as const)
      await page.mouse.click(...at(x, y));
    await expect
      .poll(async () => (await told<{ geometry: AreaGeometry | null }>()).geometry?.coordinates.length, soon)
      .toBe(2);
    const withHole = (await told<{ geometry: AreaGeometry }>()).geometry;
    expect(areaGeometrySchema.safeParse(withHole).success).toBe(true);
    // A triangle of 0.3 by 0.3 of the square, up to the pixel.
    expect(areaHa(withHole) / areaHa(drawn.geometry as AreaGeometry)).toBeCloseTo(1 - 0.3 * 0.3 * 0.5, 2);

    await page.getByRole("button", { name: "Add a pad" }).click();
    await expect
      .poll(async () => (await told<{ pads: { id: string }[] }>()).pads.map(({ id }) => id), soon)
      .toEqual(["P1"]);

    await page.getByRole("button", { name: "Each click or tap adds a corner" }).click();
    await page.getByLabel("What is being drawn").selectOption("Outline");
    const handle = (await page.locator(".mapHandle:not(.between)").nth(2).boundingBox())!;
    await page.mouse.move(handle.x + 14, handle.y + 14);
    await page.mouse.down();
    await page.mouse.move(...at(0.5, 0.9), { steps: 4 });
    await page.mouse.up();
    await page.getByText(/^Outline: the edge|^Obstacle must be a hole/).waitFor();
    expect((await told<{ geometry: null }>()).geometry).toBeNull();
    await page.getByRole("button", { name: "Undo" }).click();
    await expect.poll(async () => (await told<{ geometry: AreaGeometry | null }>()).geometry, soon).toEqual(withHole);
    await page.getByRole("button", { name: "Undo" }).click();
    for (let step = 0; step < 4; step++) await page.getByRole("button", { name: "Undo" }).click();
    await isTold(drawn);
  });

  it("draw by touch on a phone: corners by taps, taken back and set again, one dragged, and nothing to scroll sideways for", async () => {
    await open("draw", drawn, { phone: true });
    await page.getByText("Area: 9.4 ha").waitFor();
    await page.getByRole("button", { name: "Add an obstacle" }).tap();
    await page.locator(".mapGround").scrollIntoViewIfNeeded();
    const ground = (await page.locator("path.mapSketch.outline").boundingBox())!;
    const at = (x: number, y: number) => [ground.x + ground.width * x, ground.y + ground.height * y] as const;
    for (const [x, y] of [
      [0.2, 0.3],
      [0.8, 0.3],
      [0.5, 0.8],
    ] as const)
      await page.touchscreen.tap(...at(x, y));
    const obstacle = async () => {
      const { geometry } = await told<{ geometry: { coordinates: number[][][] } | null }>();
      return geometry?.coordinates[1] ?? [];
    };
    await expect.poll(async () => (await obstacle()).length, soon).toBe(4);
    const before = await obstacle();
    await page.getByRole("button", { name: "Undo" }).tap();
    await page.getByText("Obstacle: one more corner is needed.").waitFor();
    await page.getByRole("button", { name: "Redo" }).tap();
    await expect.poll(obstacle, soon).toEqual(before);
    // Dragged beside what is drawn of the handle, as fingers do, right after it was tapped.
    const touch = await page.context().newCDPSession(page);
    const send = (type: "touchStart" | "touchMove" | "touchEnd", ...touchPoints: { x: number; y: number }[]) =>
      touch.send("Input.dispatchTouchEvent", { type, touchPoints });
    const handle = (await page.locator(".mapHandle:not(.between)").nth(2).boundingBox())!;
    const [x, y] = [handle.x + handle.width / 2 + 18, handle.y + handle.height / 2];
    await send("touchStart", { x, y });
    for (const step of [10, 20, 30, 40]) await send("touchMove", { x: x + step, y });
    await send("touchEnd");
    await expect.poll(obstacle, soon).not.toEqual(before);
    expect(await obstacle()).toHaveLength(4);
    await page.getByRole("button", { name: "Undo" }).tap();
    await expect.poll(obstacle, soon).toEqual(before);
    // As wide as a finger (WCAG 2.2, 2.5.8 asks for 24 pixels at least), with what is not drawn of it.
    const reaches = `(() => { const { left, top, width, height } = [...document.querySelectorAll(".mapHandle:not(.between)")].at(-1).getBoundingClientRect(); return document.elementFromPoint(left + width / 2 + 20, top + height / 2)?.classList.contains("mapHandle"); })()`;
    expect(await page.evaluate(reaches)).toBe(true);
    const isWider = `[...document.querySelectorAll(".drawField, .drawField *")].filter((one) => one.scrollWidth > one.clientWidth + 1 && ["auto", "scroll"].includes(getComputedStyle(one).overflowX)).map(({ className }) => className)`;
    expect(await page.evaluate(isWider)).toEqual([]);
    expect(await page.evaluate("document.documentElement.scrollWidth <= innerWidth")).toBe(true);
  });

  it("draw with the keyboard alone", async () => {
    await open("draw", { geometry: null, pads: [] }, { phone: true });
    await page.getByText("Nothing is drawn yet.").waitFor();
    const press = async (name: string) => {
      await page.getByRole("button", { name, exact: true }).focus();
      await page.keyboard.press("Enter");
    };
    for (const [at, [lonDeg, latDeg]] of square.slice(0, 4).entries()) {
      await press("Add a corner");
      for (const [label, angleDeg] of [
        ["Latitude", latDeg],
        ["Longitude", lonDeg],
      ] as const) {
        await page.getByLabel(`${label} of corner ${at + 1}`).focus();
        await page.keyboard.press("Control+A");
        await page.keyboard.type(String(angleDeg));
      }
    }
    await page.getByText("Area: 9.4 ha").waitFor();
    expect((await told<{ geometry: AreaGeometry }>()).geometry).toEqual(drawn.geometry);
    // A step of an arrow key is about a metre: a hundred-thousandth of a degree (1.11 m of latitude).
    await page.getByLabel("Latitude of corner 1").focus();
    await page.keyboard.press("ArrowUp");
    const { geometry } = await told<{ geometry: AreaGeometry }>();
    expect(geometry.coordinates[0]![0]).toEqual([11, 51.00001]);
    await press("Remove corner 1");
    await press("Remove corner 1");
    await page.getByText("Outline: one more corner is needed.").waitFor();
    await press("Undo");
    await page.getByText(/^Area: 4[.]/).waitFor();
  });

  it("take ground from KML and GeoJSON as a browser reads them", async () => {
    await open("draw", { geometry: null, pads: [] });
    const input = page.locator('input[type="file"]');
    const ring = (positions: readonly (readonly number[])[]) => positions.map((one) => one.join(",")).join("\n ");
    const placemark = (name: string, positions: readonly (readonly number[])[]) =>
      `<Placemark><name>${name}</name><Polygon><outerBoundaryIs><LinearRing><coordinates>${ring(positions)}</coordinates></LinearRing></outerBoundaryIs></Polygon></Placemark>`;
    const kml = (...within: string[]) =>
      Buffer.from(
        `<?xml version="1.0" encoding="UTF-8"?><kml xmlns="http://www.opengis.net/kml/2.3"><Document>${within.join("")}</Document></kml>`,
      );
    const other = square.map(([lonDeg, latDeg]) => [lonDeg! + 1, latDeg!]);
    const file = (name: string, buffer: Buffer) => ({ name, mimeType: "application/octet-stream", buffer });
    await input.setInputFiles(file("two.kml", kml(placemark("Øst &amp; vest", square), placemark("Far", other))));
    await page.getByLabel("The file has 2 pieces of ground. Which is the field?").selectOption("Øst & vest");
    await page.getByRole("button", { name: "Take it" }).click();
    await page.getByText("Taken from the file: Øst & vest.").waitFor();
    await isTold(drawn);
    // The browser's own words for malformed XML have a style of their own, which the policy keeps out.
    refusedStyles = true;
    await input.setInputFiles(file("broken.kml", Buffer.from("<kml><Document>")));
    await page.getByText("The file is not sound KML: it breaks off or is malformed.").waitFor();
    await input.setInputFiles(file("packed.kmz", Buffer.from("PK\u0003\u0004 and more")));
    await page.getByText("This is a packed KMZ file.").waitFor();
    await isTold(drawn);
    const bowTie = [square[0], square[2], square[1], square[3], square[0]];
    await input.setInputFiles(
      file("bow.geojson", Buffer.from(JSON.stringify({ type: "Polygon", coordinates: [bowTie] }))),
    );
    await page
      .getByText("Outline: the edge from corner 1 to 2 crosses or touches the edge from corner 3 to 4.")
      .waitFor();
    await page.getByRole("button", { name: "Undo" }).click();
    await isTold(drawn);
  });

  it("have no fault that axe finds, in any look", async () => {
    const looks = ["day", "night", "sun"];
    const inAllLooks = async () => {
      for (const [at, look] of looks.entries()) {
        await page.evaluate(`document.documentElement.dataset.look = "${look}"`);
        expect({ look, found: await violations(at === 0 ? "all" : "colours") }).toEqual({ look, found: [] });
      }
    };
    await open("week", []);
    await page.locator("path.mapArea").first().waitFor();
    await page.getByText("Fields as a list").click();
    await page.getByText("Key to the map").click();
    await inAllLooks();
    await page.context().close();
    await open("draw", drawn, { phone: true });
    await page.locator("path.mapSketch").first().waitFor();
    await page.getByRole("button", { name: "Add a pad" }).click();
    await inAllLooks();
  });
});
