import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { AxeResults, RunOptions } from "axe-core";
import type { Page } from "playwright-core";

const source = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");

const asked = {
  /** Levels A and AA of WCAG 2.0, 2.1 and 2.2, and what axe calls best practice. */
  everything: {
    runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"],
    // Addresses of our screens begin with #, which axe takes for places on the page.
    rules: { "skip-link": { enabled: false } },
    resultTypes: ["violations"],
  },
  contrast: { runOnly: { type: "rule", values: ["color-contrast"] }, resultTypes: ["violations"] },
} satisfies Record<string, RunOptions>;

const mostOfARule = 3;

/** Once in a page, before it is asked about. */
export const readyForAxe = (page: Page) => page.evaluate(source);

/** What axe has against the page in a look. */
export async function violationsOf(page: Page, look: string, what: keyof typeof asked): Promise<string[]> {
  await page.evaluate(`document.documentElement.dataset.look = ${JSON.stringify(look)}`);
  const { violations } = (await page.evaluate(`axe.run(document, ${JSON.stringify(asked[what])})`)) as AxeResults;
  return violations.flatMap(({ help, id, nodes }) =>
    nodes
      .slice(0, mostOfARule)
      .map(({ html, any }) => `${id}: ${help}: ${html.slice(0, 160)} ${any[0]?.message ?? ""}`.trim()),
  );
}
