import { lazy, Suspense } from "react";
import { common } from "../../strings/common.ts";
import type { Chart, Line, Spread } from "./chart.ts";

const Plot = lazy(() => import("./Plot.tsx"));

/** A chart with what its signs mean; the same figures stand in the table that follows it. */
export function ChartFigure({ chart, says }: { readonly chart: Chart; readonly says: string }) {
  return (
    <figure className="chart" aria-label={`${chart.title}. ${says}`}>
      <figcaption>{chart.title}</figcaption>
      <ul className="signs">
        {chart.lines.map((line) => (
          <li key={line.name}>
            <LineSign line={line} />
            {line.name}
          </li>
        ))}
        {chart.spreads.map((spread) => (
          <li key={spread.name}>
            <SpreadSign spread={spread} />
            {spread.name}
          </li>
        ))}
      </ul>
      <Suspense fallback={<p className="plot quiet">{common.loading}</p>}>
        <Plot chart={chart} />
      </Suspense>
    </figure>
  );
}

const dashArrays = { solid: undefined, dashed: "7 4", dotted: "1.5 4", none: undefined } as const;

function LineSign({ line: { ink, sign, stroke } }: { readonly line: Line }) {
  return (
    <svg className={`sign in-${ink}`} viewBox="0 0 32 16" aria-hidden="true">
      {stroke !== "none" && <path d="M0 8H32" strokeWidth="2.5" strokeDasharray={dashArrays[stroke]} />}
      {sign === "disc" && <circle cx="16" cy="8" r="5" />}
      {sign === "square" && <rect x="11" y="3" width="10" height="10" />}
      {sign === "dash" && <rect x="5" y="6" width="22" height="4" />}
    </svg>
  );
}

function SpreadSign({ spread: { as, ink } }: { readonly spread: Spread }) {
  return (
    <svg className={`sign in-${ink}`} viewBox="0 0 32 16" aria-hidden="true">
      {as === "area" && <rect x="0" y="1" width="32" height="14" opacity="0.25" />}
      {as === "thick" && <rect x="10" y="0" width="12" height="16" opacity="0.4" />}
      {as === "thin" && <path d="M16 1V15M11 1H21M11 15H21" strokeWidth="2" />}
    </svg>
  );
}
