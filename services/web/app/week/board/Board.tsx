import { type CSSProperties, type KeyboardEvent, useEffect, useMemo, useRef, useState } from "react";
import type { CalmHours } from "../../../../../shared/plan/calmHours.ts";
import type { WeekView } from "../../../../../shared/plan/weekView.ts";
import { weekWords as words } from "../../strings/week.ts";
import { useUnits } from "../../units/units.ts";
import type { LocksOfWeek } from "../locks.ts";
import type { OnSelect, Selected } from "../selected.ts";
import { DayRows } from "./DayRows.tsx";
import { Patterns } from "./Ground.tsx";
import { Legend } from "./Legend.tsx";
import { boardScale, layWeek } from "./layout.ts";
import type { Moving } from "./moving.ts";
import { nextPlace } from "./nextPlace.ts";
import { type OpenSpans, openPath } from "./openPath.ts";
import { SideScroll } from "./SideScroll.tsx";
import { useMoving } from "./useMoving.ts";
import "./board.css";

/** Of the crews' names, as board.css has it (10rem). */
const headPx = 170;
const leastPx = 320;

/** The week as a picture of its calm hours: what each crew does drawn on what may be worked. */
export function Board({
  calm,
  chosenWindows,
  locks,
  onMove,
  onSelect,
  selected,
  week,
}: {
  readonly week: WeekView;
  /** Null: not known yet. */
  readonly calm: CalmHours | null;
  /** When the chosen order may be worked; null: none is chosen, or it is not known yet. */
  readonly chosenWindows: OpenSpans | null;
  readonly locks: LocksOfWeek;
  readonly selected: Selected;
  /** Kept between drawings, so that nothing is drawn anew but what shows the choice. */
  readonly onSelect: OnSelect;
  /** Null: who looks may not change the plan. */
  readonly onMove: ((moving: Moving) => void) | null;
}) {
  const units = useUnits();
  const board = useRef<HTMLElement>(null);
  const roomPx = useRoomPx(board);
  const scale = useMemo(() => boardScale(week, roomPx), [week, roomPx]);
  const days = useMemo(() => layWeek(week, calm, scale), [week, calm, scale]);
  const priorityOf = useMemo(() => new Map(week.orders.map(({ id, priority }) => [id, priority])), [week]);
  const rows = useMemo(() => {
    let row = 0;
    return days.map(({ lanes }) => {
      const first = row;
      row += 1 + lanes.length;
      return first;
    });
  }, [days]);
  const [tabStop, setTabStop] = useState<string | null>(null);
  const moves = useMoving(week, days, scale, onMove);
  const firstKey = useMemo(() => {
    const lane = days.flatMap(({ lanes }) => lanes).find(({ crewDay }) => crewDay !== null);
    return lane === undefined ? null : `day ${lane.crewId} ${lane.date}`;
  }, [days]);

  const onKeyDown = (event: KeyboardEvent) => {
    if (moves.onKey(event)) return;
    const next = nextPlace(board.current!, event.target, event.key);
    if (next === null) return;
    event.preventDefault();
    setTabStop(next.dataset.key!);
    next.focus();
    next.scrollIntoView({ block: "nearest", inline: "nearest" });
  };
  return (
    <section
      ref={board}
      className={moves.moving === null ? "board" : "board movesOne"}
      aria-label={words.board}
      style={{ "--roomPx": `${roomPx}px` } as CSSProperties}
      onKeyDown={onKeyDown}
      onFocus={({ target }) => setTabStop((target as HTMLElement).dataset.key ?? tabStop)}
    >
      <Patterns />
      <Legend mayMove={onMove !== null} />
      {moves.words !== "" && (
        // Read out already where it is said.
        <p className="movingWords" aria-hidden="true">
          {moves.words}
        </p>
      )}
      {calm === null && <p className="quiet">{words.calmReading}</p>}
      <SideScroll>
        {days.map((day, at) => (
          <DayRows
            key={day.date}
            day={day}
            scale={scale}
            firstRow={rows[at]!}
            ableHa={calm?.ableHa ?? null}
            selected={selected}
            locks={locks}
            chosenOpen={chosenWindows === null ? "" : openPath(chosenWindows, day, scale)}
            tabStop={tabStop ?? firstKey}
            moving={moves.moving}
            units={units}
            priorityOf={priorityOf}
            onSelect={onSelect}
          />
        ))}
      </SideScroll>
    </section>
  );
}

/** How wide a day may be, beside its crews' names. */
function useRoomPx(board: { readonly current: HTMLElement | null }): number {
  const [roomPx, setRoomPx] = useState(leastPx);
  useEffect(() => {
    const measure = () => {
      const wholePx = board.current!.clientWidth;
      const isNarrow = window.matchMedia("(max-width: 40rem)").matches;
      setRoomPx(Math.max(leastPx, wholePx - (isNarrow ? 0 : headPx)));
    };
    const observer = new ResizeObserver(measure);
    observer.observe(board.current!);
    measure();
    return () => observer.disconnect();
  }, [board]);
  return roomPx;
}
