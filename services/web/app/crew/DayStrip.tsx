import type { CrewSheet } from "../../../../shared/plan/crewSheet.ts";
import { crewWords as words } from "../strings/crew.ts";
import { stripOf } from "./strip.ts";

const widthPx = 360;
const rowPx = 22;
const barPx = 14;
const hoursPx = 16;

/** The day as a picture: for each stop its calm hours on the dark of the others, and the work in them. The list of stops says the same in words. */
export function DayStrip({
  nowMs,
  only = null,
  present,
  sheet,
}: {
  readonly sheet: CrewSheet;
  readonly present: string | null;
  readonly nowMs: number;
  /** The block of the one stop that is drawn; null: all of them, with what the picture means. */
  readonly only?: string | null;
}) {
  const { hours, now, rows: all } = stripOf(sheet, nowMs);
  const rows = all.filter(({ blockId }) => only === null || blockId === only);
  const x = (share: number) => 1 + share * (widthPx - 2);
  const heightPx = rows.length * rowPx;
  return (
    <figure className="dayPicture">
      <svg
        className="dayStrip"
        viewBox={`0 0 ${widthPx} ${heightPx + hoursPx}`}
        role="img"
        aria-label={only === null ? words.strip : words.stripOfStop}
      >
        <rect className="dark" width={widthPx} height={heightPx} />
        {rows.map(({ blockId, calm, number, work }, row) => {
          const top = row * rowPx;
          const [first] = work;
          return (
            <g key={blockId}>
              {calm && (
                <rect className="calm" x={x(calm.from)} y={top} width={x(calm.to) - x(calm.from)} height={rowPx} />
              )}
              {work.map(({ from, to }) => (
                <rect
                  key={from}
                  className={blockId === present ? "work present" : "work"}
                  x={x(from)}
                  y={top + (rowPx - barPx) / 2}
                  width={Math.max(2, x(to) - x(from))}
                  height={barPx}
                />
              ))}
              <text className="number" x={numberAt(x(first!.from))} y={top + rowPx / 2 + 5} textAnchor="end">
                {number}
              </text>
            </g>
          );
        })}
        {hours.map(({ at, clock }) => (
          <g key={at}>
            <line className="hour" x1={x(at)} x2={x(at)} y1={0} y2={heightPx} />
            <text
              className="clock"
              x={Math.min(widthPx - 18, Math.max(18, x(at)))}
              y={heightPx + 13}
              textAnchor="middle"
            >
              {clock}
            </text>
          </g>
        ))}
        {now !== null && <line className="now" x1={x(now)} x2={x(now)} y1={0} y2={heightPx} />}
      </svg>
      {only === null && <figcaption className="quiet">{words.stripKey}</figcaption>}
    </figure>
  );
}

/** Before its bar, and within the picture. */
const numberAt = (barPx: number) => Math.max(12, barPx - 3);
