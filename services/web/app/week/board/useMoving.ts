import { type KeyboardEvent, useCallback, useEffect, useMemo, useRef, useState } from "react";
import type { WeekView } from "../../../../../shared/plan/weekView.ts";
import { dayWords } from "../../kit/dates.ts";
import { say } from "../../kit/Say.tsx";
import { moveWords as words } from "../../strings/moves.ts";
import type { BoardScale, LaidDay } from "./layout.ts";
import { across, along, atMinute, isSameTarget, laneOf, type Moving, moveLanes, takeUp } from "./moving.ts";

/** Further than a hand trembles. */
const dragFromPx = 6;

interface Drag {
  readonly blockId: string;
  readonly x: number;
  readonly y: number;
}

/** A stop on its way to another place, by hand or by keys. It is only asked about where it is let go. */
export function useMoving(
  week: WeekView,
  days: readonly LaidDay[],
  scale: BoardScale,
  onMove: ((moving: Moving) => void) | null,
) {
  const lanes = useMemo(() => moveLanes(week), [week]);
  const [moving, setMoving] = useState<Moving | null>(null);
  const drag = useRef<Drag | null>(null);
  /** A click may follow where the stop is let go; it chooses nothing. */
  const isClickMute = useRef(false);

  const placeWords = useCallback(
    ({ to }: Moving) => {
      const lane = laneOf(lanes, to);
      const before = lane?.stops.find(({ blockId }) => blockId === to.after);
      return words.place(lane?.crewName ?? to.crewId, dayWords(to.date), before?.fieldName ?? null);
    },
    [lanes],
  );
  const leave = useCallback(() => {
    drag.current = null;
    setMoving(null);
    say(words.left);
  }, []);
  const letGo = useCallback(
    (moved: Moving) => {
      drag.current = null;
      setMoving(null);
      const from = takeUp(lanes, moved.blockId);
      if (from !== null && isSameTarget(from.to, moved.to)) say(words.sameplace);
      else onMove?.(moved);
    },
    [lanes, onMove],
  );

  const onKey = (event: KeyboardEvent): boolean => {
    if (onMove === null) return false;
    const { key, target } = event;
    if (moving === null) {
      const blockId = target instanceof HTMLElement ? target.dataset.block : undefined;
      if (blockId === undefined || key.toLowerCase() !== "m" || event.ctrlKey || event.metaKey || event.altKey)
        return false;
      const taken = takeUp(lanes, blockId);
      setMoving(taken);
      if (taken !== null) say(words.taken(placeWords(taken)));
      return true;
    }
    const next = moveByKey(key, moving);
    if (next === null) return false;
    event.preventDefault();
    event.stopPropagation();
    if (next === "leave") leave();
    else if (next === "ask") letGo(moving);
    else {
      setMoving(next);
      say(placeWords(next));
    }
    return true;
  };
  const moveByKey = (key: string, now: Moving): Moving | "leave" | "ask" | null => {
    switch (key) {
      case "ArrowRight":
        return along(lanes, now, 1);
      case "ArrowLeft":
        return along(lanes, now, -1);
      case "ArrowDown":
        return across(lanes, now, 1);
      case "ArrowUp":
        return across(lanes, now, -1);
      case "Enter":
      case " ":
        return "ask";
      case "Escape":
      case "Tab":
        return "leave";
      default:
        return null;
    }
  };

  const mayMove = onMove !== null;
  useEffect(() => {
    if (!mayMove) return;
    // What is not planned is dragged from beside the board, so that the whole page is listened to.
    const onPointerDown = (event: globalThis.PointerEvent) => {
      isClickMute.current = false;
      // A finger scrolls; there is a form for moving, too.
      if (event.button !== 0 || event.pointerType === "touch" || !(event.target instanceof Element)) return;
      const block = event.target.closest<HTMLElement>("[data-block]");
      if (block !== null) drag.current = { blockId: block.dataset.block!, x: event.clientX, y: event.clientY };
    };
    const onClick = (event: MouseEvent) => {
      if (!isClickMute.current) return;
      isClickMute.current = false;
      event.preventDefault();
      event.stopPropagation();
    };
    const dragged = (event: globalThis.PointerEvent): Moving | null => {
      const held = drag.current;
      if (held === null) return null;
      const ground = document
        .elementsFromPoint(event.clientX, event.clientY)
        .map((element) => element.closest<HTMLElement>("[data-crew]"))
        .find((element) => element !== null);
      if (!ground) return null;
      const { crew = "", date = "" } = ground.dataset;
      const lane = lanes.find((one) => one.crewId === crew && one.date === date);
      const day = days.find((one) => one.date === date);
      if (lane === undefined || day === undefined) return null;
      const px = event.clientX - ground.getBoundingClientRect().left;
      return {
        blockId: held.blockId,
        to: atMinute(lane, held.blockId, day.startMin + scale.fromMin + px / scale.pxPerMin),
      };
    };
    const onPointerMove = (event: globalThis.PointerEvent) => {
      const held = drag.current;
      if (held === null) return;
      if (!isClickMute.current && Math.hypot(event.clientX - held.x, event.clientY - held.y) < dragFromPx) return;
      isClickMute.current = true;
      event.preventDefault();
      const next = dragged(event);
      if (next !== null) setMoving((before) => (before !== null && isSameTarget(before.to, next.to) ? before : next));
    };
    const onPointerUp = (event: globalThis.PointerEvent) => {
      if (drag.current === null) return;
      const moved = isClickMute.current ? dragged(event) : null;
      drag.current = null;
      if (moved !== null) letGo(moved);
      else setMoving(null);
    };
    window.addEventListener("pointerdown", onPointerDown);
    window.addEventListener("click", onClick, true);
    window.addEventListener("pointermove", onPointerMove);
    window.addEventListener("pointerup", onPointerUp);
    window.addEventListener("pointercancel", onPointerUp);
    return () => {
      window.removeEventListener("pointerdown", onPointerDown);
      window.removeEventListener("click", onClick, true);
      window.removeEventListener("pointermove", onPointerMove);
      window.removeEventListener("pointerup", onPointerUp);
      window.removeEventListener("pointercancel", onPointerUp);
    };
  }, [lanes, days, scale, letGo, mayMove]);
  return { moving, words: moving === null ? "" : placeWords(moving), onKey };
}
