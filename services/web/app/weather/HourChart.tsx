import { useEffect, useRef } from "react";
import uPlot from "uplot";
import "uplot/dist/uPlot.min.css";
import type { ChartFacts, ChartLine } from "./chartOf.ts";

const heightPx = 240;

/** Told apart without colours, too. */
const dashes: Readonly<Partial<Record<ChartLine["sign"], number[]>>> = {
  dashes: [8, 5],
  dots: [2, 4],
  limit: [14, 4, 3, 4],
};

/** Hours along the week. What is drawn is told by its words, too; the numbers stand in a table elsewhere. */
export default function HourChart({
  chart,
  description,
  timeZone,
}: {
  readonly chart: ChartFacts;
  readonly description: string;
  readonly timeZone: string;
}) {
  const place = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const within = place.current!;
    let plot = drawn(chart, timeZone, within);
    const again = () => {
      plot.destroy();
      plot = drawn(chart, timeZone, within);
    };
    const width = new ResizeObserver(() => plot.setSize({ width: within.clientWidth, height: heightPx }));
    width.observe(within);
    // Colours are read when it is drawn.
    const look = new MutationObserver(again);
    look.observe(document.documentElement, { attributeFilter: ["data-look"] });
    const dark = window.matchMedia("(prefers-color-scheme: dark)");
    dark.addEventListener("change", again);
    return () => {
      width.disconnect();
      look.disconnect();
      dark.removeEventListener("change", again);
      plot.destroy();
    };
  }, [chart, timeZone]);
  return (
    <figure className="hourChart">
      <figcaption>{chart.title}</figcaption>
      <ul className="chartKey">
        {chart.lines.map(({ scale, sign, title }) => (
          <li key={title}>
            <svg viewBox="0 0 40 12" width="40" height="12" aria-hidden="true" className={`keySign ${sign}`}>
              {sign === "bars" ? (
                <rect x="12" y="1" width="16" height="10" />
              ) : (
                <line x1="0" y1="6" x2="40" y2="6" strokeDasharray={dashes[sign]?.join(" ")} />
              )}
            </svg>
            {title} ({chart.units[scale]})
          </li>
        ))}
      </ul>
      <div ref={place} role="img" aria-label={description} />
    </figure>
  );
}

function drawn({ lines, shaded, timesS, title: _, units }: ChartFacts, timeZone: string, within: HTMLElement): uPlot {
  const style = getComputedStyle(document.documentElement);
  const colour = (name: string) => style.getPropertyValue(`--${name}`).trim();
  const [ink, quiet, line] = [colour("ink"), colour("quiet"), colour("line")];
  const scales = [...new Set(lines.map(({ scale }) => scale))];
  const signs: Readonly<Record<ChartLine["sign"], Partial<uPlot.Series>>> = {
    line: { stroke: ink, width: 2.5 },
    dashes: { stroke: colour("liquidSign"), width: 2, dash: dashes.dashes! },
    dots: { stroke: quiet, width: 2, dash: dashes.dots! },
    limit: { stroke: colour("bad"), width: 2, dash: dashes.limit! },
    bars: {
      stroke: colour("liquidSign"),
      fill: colour("liquid"),
      width: 1,
      paths: uPlot.paths.bars!({ size: [0.8, 24] }),
    },
  };
  const axis = {
    stroke: ink,
    grid: { stroke: line, width: 1 },
    ticks: { stroke: line, width: 1 },
    font: "13px sans-serif",
  };
  return new uPlot(
    {
      width: within.clientWidth,
      height: heightPx,
      tzDate: (seconds) => uPlot.tzDate(new Date(seconds * 1000), timeZone),
      legend: { show: false },
      cursor: { show: false },
      scales: Object.fromEntries(scales.map((scale) => [scale, { range: fromZero }])),
      series: [
        {},
        ...lines.map(({ scale, sign, title }) => ({
          label: title,
          scale,
          points: { show: false },
          ...signs[sign],
        })),
      ],
      axes: [
        {
          ...axis,
          // Two lines: the day of the week, and its date.
          size: 54,
          values: [
            [86_400, "{WWW}\n{D} {MMM}", null, null, null, null, null, null, 1],
            [3600, "{HH}:{mm}", "\n{WWW} {D} {MMM}", null, null, null, null, null, 1],
          ],
        },
        ...scales.map((scale, at) => ({
          ...axis,
          scale,
          side: at === 0 ? 3 : 1,
          size: 62,
          label: units[scale] ?? "",
          labelSize: 20,
          labelFont: "13px sans-serif",
          ...(at === 0 ? {} : { grid: { show: false } }),
        })),
      ],
      hooks: {
        drawClear: [
          (plot) => {
            plot.ctx.fillStyle = colour("calm");
            for (const { fromS, toS } of shaded) {
              const [left, right] = [plot.valToPos(fromS, "x", true), plot.valToPos(toS, "x", true)];
              plot.ctx.fillRect(left, plot.bbox.top, right - left, plot.bbox.height);
            }
          },
        ],
      },
    },
    [[...timesS], ...lines.map(({ values }) => [...values])],
    within,
  );
}

/** Wind, rain and humidity begin at nothing; frost goes below. */
const fromZero: uPlot.Range.Function = (_plot, least, most) => [
  Math.min(0, least ?? 0),
  Math.max((most ?? 0) * 1.08, 1),
];
