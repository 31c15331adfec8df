import type { CrewSheet } from "../../../../shared/plan/crewSheet.ts";

export interface StripRow {
  readonly number: number;
  readonly blockId: string;
  /** Shares of the width from leaving to being back. */
  readonly calm: { readonly from: number; readonly to: number } | null;
  /** The stretches of work, pauses left out. */
  readonly work: readonly { readonly from: number; readonly to: number }[];
}

export interface Strip {
  readonly rows: readonly StripRow[];
  /** Null: before leaving or after being back. */
  readonly now: number | null;
  readonly hours: readonly { readonly at: number; readonly clock: string }[];
}

const hourMin = 60;
/** Our choice: on a phone the clocks of every other hour of a long day would run into each other. */
const hoursMost = 6;

/** Where on the strip of the day what is drawn, from leaving to being back. */
export function stripOf({ backAt, leaveBy, stops }: CrewSheet, nowMs: number): Strip {
  const spanMin = Math.max(1, backAt.min - leaveBy.min);
  const at = (min: number) => Math.min(1, Math.max(0, (min - leaveBy.min) / spanMin));
  const rows = stops.map(({ blockId, end, number, pauses, start, window }): StripRow => {
    const edges = [start.min, ...pauses.flatMap((pause) => [pause.start.min, pause.end.min]), end.min];
    const work = edges.flatMap((from, edge) => (edge % 2 === 0 ? [{ from: at(from), to: at(edges[edge + 1]!) }] : []));
    return {
      number,
      blockId,
      calm: window === null ? null : { from: at(window.from.min), to: at(window.to.min) },
      work,
    };
  });
  const [clockHours, clockMinutes] = leaveBy.clock.split(":").map(Number) as [number, number];
  const firstMin = leaveBy.min + ((hourMin - clockMinutes) % hourMin);
  const firstHour = clockMinutes === 0 ? clockHours : clockHours + 1;
  const hoursInAll = Math.floor((backAt.min - firstMin) / hourMin) + 1;
  const step = Math.max(1, Math.ceil(hoursInAll / hoursMost));
  const hours = [];
  for (let hour = 0; hour < hoursInAll; hour += step) {
    hours.push({ at: at(firstMin + hour * hourMin), clock: `${String((firstHour + hour) % 24).padStart(2, "0")}:00` });
  }
  const now = (nowMs - Date.parse(leaveBy.iso)) / 60_000 / spanMin;
  return { rows, now: now >= 0 && now <= 1 ? now : null, hours };
}
