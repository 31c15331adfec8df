import { useEffect, useRef } from "react";
import uPlot from "uplot";
import "uplot/dist/uPlot.min.css";
import { type Chart, type Ink, type Line, rangeOf, type Spread, shortNumber } from "./chart.ts";

const dashes: Readonly<Record<Line["stroke"], number[]>> = { solid: [], dashed: [9, 6], dotted: [2, 5], none: [] };
const signPx = 5;
const heightPx = { wide: 340, narrow: 280 };
const narrowPx = 480;
const mostNarrowTicks = 8;

/** The chart as a picture; what it shows stands in words and in a table beside it. */
export default function Plot({ chart }: { readonly chart: Chart }) {
  const frame = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const element = frame.current!;
    let plot: uPlot | null = null;
    const draw = () => {
      plot?.destroy();
      plot = new uPlot(optionsOf(chart, element), dataOf(chart), element);
    };
    draw();
    // Colours are those of the look, which may be changed while the chart is seen.
    const looks = new MutationObserver(draw);
    looks.observe(document.documentElement, { attributeFilter: ["data-look"] });
    const isDark = matchMedia("(prefers-color-scheme: dark)");
    isDark.addEventListener("change", draw);
    let widthPx = element.clientWidth;
    const sizes = new ResizeObserver(() => {
      if (element.clientWidth === widthPx) return;
      widthPx = element.clientWidth;
      draw();
    });
    sizes.observe(element);
    return () => {
      looks.disconnect();
      sizes.disconnect();
      isDark.removeEventListener("change", draw);
      plot?.destroy();
    };
  }, [chart]);
  return <div ref={frame} className="plot" aria-hidden="true" />;
}

function dataOf({ lines, spreads, xs }: Chart): uPlot.AlignedData {
  const sides = spreads.flatMap(({ highs, lows }) => [[...lows], [...highs]]);
  return [[...xs], ...sides, ...lines.map(({ ys }) => [...ys])];
}

function optionsOf(chart: Chart, element: HTMLElement): uPlot.Options {
  const { lines, marks, spreads, xNames, xs, xTitle, yTitle } = chart;
  const style = getComputedStyle(element);
  const colour = (ink: Ink | "line") => style.getPropertyValue(`--${ink}`).trim();
  const font = `15px ${style.fontFamily}`;
  const width = element.clientWidth;
  const isNarrow = width < narrowPx;
  const range = rangeOf(chart);
  const pair = ([low, high]: readonly [number, number]): uPlot.Range.MinMax => [low, high];
  const grid = { stroke: colour("line"), width: 1 };
  const axis = { stroke: colour("ink"), font, labelFont: font, grid, ticks: grid };
  const firstOfSpread = (at: number) => 1 + 2 * at;
  const none: uPlot.Series = { show: true, stroke: "", width: 0, points: { show: false } };
  return {
    width,
    height: isNarrow ? heightPx.narrow : heightPx.wide,
    legend: { show: false },
    cursor: { show: false },
    scales: { x: { time: false, range: () => pair(range.x) }, y: { range: () => pair(range.y) } },
    axes: [
      {
        ...axis,
        label: xTitle,
        splits: () => (isNarrow && xs.length > mostNarrowTicks ? xs.filter((_, at) => at % 2 === 0) : [...xs]),
        values: (_, splits) => splits.map((value) => xName(xNames, xs, value, isNarrow)),
        grid: { show: false },
      },
      { ...axis, label: yTitle, size: 70, values: (_, splits) => splits.map(shortNumber) },
    ],
    series: [
      {},
      ...spreads.flatMap(() => [none, none]),
      ...lines.map(
        ({ ink, stroke }): uPlot.Series => ({
          stroke: colour(ink),
          width: stroke === "none" ? 0 : 2.5,
          dash: dashes[stroke],
          points: { show: false },
          spanGaps: false,
        }),
      ),
    ],
    bands: spreads.flatMap(({ as, ink }, at) =>
      as === "area"
        ? [{ series: [firstOfSpread(at) + 1, firstOfSpread(at)], fill: `${colour(ink)}33` } as uPlot.Band]
        : [],
    ),
    hooks: {
      draw: [
        (plot) => {
          for (const spread of spreads) drawSpread(plot, xs, spread, colour(spread.ink));
          for (const { words, x } of marks) drawMark(plot, x, words, colour("ink"), font);
          for (const line of lines) drawSigns(plot, xs, line, colour(line.ink));
        },
      ],
    },
  };
}

/** On a narrow screen the days of a week stand by their first word. */
function xName(names: readonly string[] | undefined, xs: readonly number[], value: number, isNarrow: boolean): string {
  const name = names?.[xs.indexOf(value)] ?? String(value);
  return isNarrow && names ? name.split(/[ ,]/)[0]! : name;
}

const placeX = (plot: uPlot, x: number) => plot.valToPos(x, "x", true);
const placeY = (plot: uPlot, y: number) => plot.valToPos(y, "y", true);

function drawSpread(plot: uPlot, xs: readonly number[], { as, highs, lows }: Spread, colour: string): void {
  if (as === "area") return;
  const { ctx } = plot;
  const px = uPlot.pxRatio;
  ctx.save();
  ctx.strokeStyle = colour;
  ctx.lineWidth = (as === "thick" ? 16 : 2) * px;
  ctx.setLineDash([]);
  ctx.globalAlpha = as === "thick" ? 0.4 : 1;
  for (const [at, x] of xs.entries()) {
    const [low, high] = [lows[at], highs[at]];
    if (low === null || high === null || low === undefined || high === undefined) continue;
    const [left, top, bottom] = [placeX(plot, x), placeY(plot, high), placeY(plot, low)];
    ctx.beginPath();
    ctx.moveTo(left, top);
    ctx.lineTo(left, bottom);
    if (as === "thin")
      for (const end of [top, bottom]) {
        ctx.moveTo(left - 5 * px, end);
        ctx.lineTo(left + 5 * px, end);
      }
    ctx.stroke();
  }
  ctx.restore();
}

function drawSigns(plot: uPlot, xs: readonly number[], { sign, ys }: Line, colour: string): void {
  const { ctx } = plot;
  const size = signPx * uPlot.pxRatio;
  ctx.save();
  ctx.fillStyle = colour;
  // Dashes of neighbours stay apart.
  const apart = xs.length < 2 ? Number.POSITIVE_INFINITY : placeX(plot, xs[1]!) - placeX(plot, xs[0]!);
  const reach = Math.min(2.4 * size, 0.38 * apart);
  for (const [at, x] of xs.entries()) {
    const y = ys[at];
    if (y === null || y === undefined) continue;
    const [left, top] = [placeX(plot, x), placeY(plot, y)];
    ctx.beginPath();
    if (sign === "disc") ctx.arc(left, top, size, 0, 2 * Math.PI);
    if (sign === "square") ctx.rect(left - size, top - size, 2 * size, 2 * size);
    if (sign === "dash") ctx.rect(left - reach, top - size / 2.5, 2 * reach, (2 * size) / 2.5);
    ctx.fill();
  }
  ctx.restore();
}

function drawMark(plot: uPlot, x: number, words: string, colour: string, font: string): void {
  const { bbox, ctx } = plot;
  const px = uPlot.pxRatio;
  const left = placeX(plot, x);
  ctx.save();
  ctx.strokeStyle = colour;
  ctx.fillStyle = colour;
  ctx.lineWidth = px;
  ctx.setLineDash([3 * px, 4 * px]);
  ctx.beginPath();
  ctx.moveTo(left, bbox.top);
  ctx.lineTo(left, bbox.top + bbox.height);
  ctx.stroke();
  ctx.font = font.replace("15px", `${15 * px}px`);
  ctx.textBaseline = "bottom";
  ctx.textAlign = "left";
  ctx.fillText(words, left + 5 * px, bbox.top + bbox.height - 4 * px);
  ctx.restore();
}
