import type { BoardScale, LaidDay } from "./layout.ts";

export type OpenSpans = readonly { readonly startMin: number; readonly endMin: number }[];

const strokePx = 4;

/** A stroke along the top of a day wherever the windows are open. */
export function openPath(windows: OpenSpans, { startMin }: Pick<LaidDay, "startMin">, scale: BoardScale): string {
  const pxOf = (min: number) =>
    Math.round(Math.min(scale.widthPx, Math.max(0, (min - startMin - scale.fromMin) * scale.pxPerMin)) * 10) / 10;
  return windows
    .map((window) => [pxOf(window.startMin), pxOf(window.endMin)] as const)
    .filter(([fromPx, toPx]) => toPx > fromPx)
    .map(([fromPx, toPx]) => `M${fromPx} 0H${toPx}V${strokePx}H${fromPx}Z`)
    .join("");
}
