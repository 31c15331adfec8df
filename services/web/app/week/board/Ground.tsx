import type { ReactNode } from "react";
import type { LaidDay } from "./layout.ts";

/** What everything of a day is drawn on: the night, the tide of what is open, full hours, and when the chosen order may be worked. */
export function Ground({
  children,
  day,
  heightPx,
  open,
  tide,
  widthPx,
}: {
  readonly day: LaidDay;
  readonly tide: string;
  readonly widthPx: number;
  readonly heightPx: number;
  /** When the chosen order may be worked, as a path that is as high as a stroke. */
  readonly open: string;
  readonly children?: ReactNode;
}) {
  return (
    <svg className="ground" width={widthPx} height={heightPx} aria-hidden="true">
      {day.nights.map(({ leftPx, widthPx: nightPx }) => (
        <rect key={leftPx} className="night" x={leftPx} width={nightPx} height={heightPx} />
      ))}
      {tide && <path className="tide" d={tide} />}
      {day.ticks.map(({ leftPx }) => (
        <line key={leftPx} className="tick" x1={leftPx} x2={leftPx} y1="0" y2={heightPx} />
      ))}
      {open && <path className="chosenOpen" d={open} />}
      {children}
    </svg>
  );
}

/** Patterns that everything on the board is filled with, once for the page. */
export function Patterns() {
  return (
    <svg width="0" height="0" className="patterns" aria-hidden="true">
      <defs>
        <pattern id="board-night" width="12" height="12" patternUnits="userSpaceOnUse">
          <rect width="12" height="12" className="nightFill" />
          <circle cx="3" cy="3" r="0.9" className="star" />
          <circle cx="9" cy="8" r="0.6" className="star" />
        </pattern>
        <pattern id="board-water" width="4" height="4" patternUnits="userSpaceOnUse">
          <rect width="4" height="4" className="panelFill" />
          <path d="M0 1h4" className="inkLine" />
        </pattern>
        <pattern id="board-clean" width="6" height="6" patternUnits="userSpaceOnUse">
          <rect width="6" height="6" className="panelFill" />
          <path d="M0 0l6 6M6 0l-6 6" className="inkLine" />
        </pattern>
      </defs>
    </svg>
  );
}
