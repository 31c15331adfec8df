import type { Page } from "playwright-core";

/** In the page: what the focus has come to, in order. */
interface Walked {
  readonly what: string;
  readonly isSeen: boolean;
  readonly isMarked: boolean;
}

const pressesAtOnce = 25;
/** More than any screen has; a table of fifty rows with three buttons each is the most. */
const pressesMost = 600;

/**
 * Presses Tab from the beginning until the focus comes round. Tells what is wrong: a trap, or a thing with the focus that nobody can see or that does not look as if it had it.
 */
export async function walkByTab(page: Page): Promise<string[]> {
  await page.evaluate(watchFocus);
  for (let pressed = 0; pressed < pressesMost; pressed += pressesAtOnce) {
    for (let at = 0; at < pressesAtOnce; at++) await page.keyboard.press("Tab");
    const { cameBackTo, walked } = await walk(page);
    if (cameBackTo === null) continue;
    if (cameBackTo > 0) return [`the focus comes back to ${walked[cameBackTo]!.what} before it has been everywhere`];
    return walked.flatMap(({ isMarked, isSeen, what }) => [
      ...(isSeen ? [] : [`has the focus and cannot be seen: ${what}`]),
      ...(isMarked ? [] : [`has the focus and does not show it: ${what}`]),
    ]);
  }
  const { walked } = await walk(page);
  return [`the focus does not come round within ${pressesMost} presses; last: ${walked.at(-1)?.what}`];
}

interface Walk {
  readonly walked: readonly Walked[];
  /** The place in the walk that had the focus again first: 0 is the beginning, as it should be. */
  readonly cameBackTo: number | null;
}
const walk = (page: Page): Promise<Walk> => page.evaluate("globalThis.focusWalk()");

const watchFocus = `(() => {
  document.activeElement?.blur?.();
  const walked = [];
  const known = [];
  let cameBackTo = null;
  document.addEventListener("focusin", ({ target }) => {
    if (cameBackTo !== null) return;
    if (known.includes(target)) {
      cameBackTo = known.indexOf(target);
      return;
    }
    known.push(target);
    const box = target.getBoundingClientRect();
    const style = getComputedStyle(target);
    const outline = style.outlineStyle !== "none" && parseFloat(style.outlineWidth) >= 2;
    walked.push({
      what: target.outerHTML.slice(0, 140),
      isSeen: box.width > 0 && box.height > 0 && box.right > 0 && box.bottom > 0 && box.left < innerWidth && box.top < innerHeight,
      isMarked: outline || style.boxShadow !== "none",
    });
  });
  globalThis.focusWalk = () => ({ cameBackTo, walked });
})()`;
