import type { CrewDayList } from "../../../../shared/contracts/plans.ts";

export type DaySummary = CrewDayList["days"][number];

const msPerMin = 60_000;

/** Local date where and when the ISO time with its offset was written, of another instant. */
function dateAt(isoWithOffset: string, instantMs: number): string {
  const [, sign, hours, minutes] = /([+-])(\d\d):(\d\d)$/.exec(isoWithOffset) ?? [];
  const offsetMin = sign === undefined ? 0 : Number(`${sign}1`) * (Number(hours) * 60 + Number(minutes));
  return new Date(instantMs + offsetMin * msPerMin).toISOString().slice(0, 10);
}

/** By the time of the operation, wherever the phone believes to be: each day's own leaving tells the offset. */
export const isToday = ({ date, leave }: DaySummary, nowMs: number): boolean => dateAt(leave, nowMs) === date;

const isOut = ({ back, leave }: DaySummary, nowMs: number) => Date.parse(leave) <= nowMs && nowMs < Date.parse(back);

/** The day that is shown unless another one is asked for: the one that the crew is out on (past midnight still yesterday's), today's, else the next one, else the last one. */
export function dayToShow(days: readonly DaySummary[], nowMs: number): DaySummary | null {
  return (
    days.find((day) => isOut(day, nowMs)) ??
    days.find((day) => isToday(day, nowMs)) ??
    days.find(({ leave }) => Date.parse(leave) > nowMs) ??
    days.at(-1) ??
    null
  );
}
