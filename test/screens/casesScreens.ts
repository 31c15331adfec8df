import type { Page } from "playwright-core";
import type { Study } from "../../shared/contracts/studies.ts";
import type { DemoServer } from "../support/demoServer.ts";
import type { Screen } from "./screens.ts";

const button = (page: Page, name: string) => page.getByRole("button", { name, exact: true });
const studyOf = (name: keyof NonNullable<DemoServer["studies"]>) => (demo: DemoServer) =>
  `#cases/run/${demo.studies![name]}`;
const drawn = (charts: number) => (page: Page) =>
  page.waitForFunction(`document.querySelectorAll(".chart canvas").length >= ${charts}`);

/** The owner's room: sets as they are written, runs under way, and what came of them. */
export const casesScreens: readonly Screen[] = [
  {
    name: "cases-set",
    by: "owner",
    address: ({ caseSetId }) => `#cases/set/${caseSetId}`,
    enter: (page) => page.locator("details.caseForm > summary").first().click(),
    ready: (page) => page.getByLabel("Price, EUR").first().waitFor(),
  },
  {
    name: "cases-refused",
    by: "owner",
    address: () => "#cases/set/new",
    async enter(page) {
      await button(page, "Add a case").click();
      await page.getByLabel("How many", { exact: true }).fill("none");
      await button(page, "Save").click();
    },
    ready: (page) => page.getByText("It cannot be saved like this:").waitFor(),
  },
  {
    name: "cases-kinds",
    isWalkedElsewhere: true,
    by: "owner",
    address: () => "#cases/set/new",
    async enter(page) {
      await button(page, "Add a case").click();
      const kinds = page.getByRole("combobox", { name: "What changes" });
      const all = await kinds.first().locator("option").count();
      for (let at = 0; at < all; at++) {
        if (at > 0) await button(page, "Add another change").click();
        const value = await kinds.nth(at).locator("option").nth(at).getAttribute("value");
        await kinds.nth(at).selectOption(value);
      }
      await page.evaluate("document.querySelectorAll('.moreFields').forEach((more) => { more.open = true; })");
    },
  },
  {
    name: "cases-running",
    by: "owner",
    address: studyOf("season"),
    before: (page, { studies }) => asIfRunning(page, studies!.season),
    ready: (page) => button(page, "Cancel this run").waitFor(),
  },
  { name: "cases-run-week", by: "owner", address: studyOf("week"), ready: drawn(2) },
  { name: "cases-run-season", isWalkedElsewhere: true, by: "owner", address: studyOf("season"), ready: drawn(3) },
  { name: "cases-tight", isWalkedElsewhere: true, by: "owner", address: studyOf("bottlenecks"), ready: drawn(1) },
];

/** The study as it was before it ended: to have one under way takes a worker that is busy for as long as somebody looks. */
async function asIfRunning(page: Page, studyId: string): Promise<void> {
  const progress: Study["progress"] = { parts: 180, ended: 66, failed: 1, share: 0.38 };
  // A stream that tells nothing more and does not end either.
  await page.addInitScript("EventSource = class extends EventTarget { readyState = 1; close() {} }");
  await page.route(`**/api/studies/${studyId}`, async (route) => {
    const told = (await (await route.fetch()).json()) as Study;
    await route.fulfill({ json: { ...told, status: "running", endedAt: null, result: null, progress } });
  });
}
