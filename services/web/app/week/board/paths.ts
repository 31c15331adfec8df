import type { SpanView } from "../../../../../shared/plan/weekView.ts";

export type SpanKind = Exclude<SpanView["kind"], "work">;
export const spanKinds = [
  "drive",
  "setup",
  "packup",
  "refill",
  "cleanOut",
  "methodChange",
  "wait",
] as const satisfies readonly SpanKind[];

export type Bars = readonly { readonly leftPx: number; readonly widthPx: number }[];

const short = (px: number) => Math.round(px * 10) / 10;

/** Steps from hour to hour, as high as the share of it that is open; where all is, as near to the top as `highestPx`. */
export function tidePath(
  hours: readonly { leftPx: number; widthPx: number; share: number }[],
  heightPx: number,
  highestPx = 0,
): string {
  if (hours.length === 0) return "";
  const first = hours[0]!;
  const steps = hours.map(
    ({ leftPx, share, widthPx }) =>
      `V${short(heightPx - (heightPx - highestPx) * Math.min(1, share))}H${short(leftPx + widthPx)}`,
  );
  return `M${short(first.leftPx)} ${heightPx}${steps.join("")}V${heightPx}Z`;
}

/** Top and height of what is drawn for each kind: told apart by shape first, by pattern second. */
const shapes: Record<SpanKind, { readonly topPx: number; readonly heightPx: number }> = {
  drive: { topPx: 24, heightPx: 4 },
  setup: { topPx: 21, heightPx: 17 },
  packup: { topPx: 21, heightPx: 17 },
  refill: { topPx: 15, heightPx: 23 },
  cleanOut: { topPx: 15, heightPx: 23 },
  methodChange: { topPx: 15, heightPx: 23 },
  wait: { topPx: 37, heightPx: 1 },
};

export function barsPath(kind: SpanKind, bars: Bars): string {
  const { heightPx, topPx } = shapes[kind];
  return bars
    .map(({ leftPx, widthPx }) => `M${short(leftPx)} ${topPx}h${short(widthPx)}v${heightPx}h${short(-widthPx)}z`)
    .join("");
}
