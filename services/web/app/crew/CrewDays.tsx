import { useEffect, useState } from "react";
import type { CrewKey } from "../../../../shared/contracts/access.ts";
import { shortDayWords } from "../kit/dates.ts";
import { Empty, Failure } from "../kit/states.tsx";
import { addressOf, go } from "../place.ts";
import { common } from "../strings/common.ts";
import { crewWords as words } from "../strings/crew.ts";
import { CrewDay } from "./CrewDay.tsx";
import { type DaySummary, dayToShow, isToday } from "./dayChoice.ts";
import { SendingLine } from "./SendingLine.tsx";
import { useDays } from "./useDay.ts";

/** The days that a crew was told, and the chosen one of them. */
export function CrewDays({
  crew,
  date,
  isOwn,
}: {
  readonly crew: CrewKey;
  /** Null: the one that is on. */
  readonly date: string | null;
  readonly isOwn: boolean;
}) {
  const days = useDays(crew, isOwn);
  // Asked to keep it even when the device gets full (Storage Standard, persistence): reports lie there until they are sent.
  useEffect(() => {
    if (isOwn) void navigator.storage?.persist?.().catch(() => undefined);
  }, [isOwn]);
  const [openedAtMs] = useState(() => Date.now());
  const { error, isOpen, value } = days;
  const shown = date ?? (value && dayToShow(value.days, openedAtMs)?.date) ?? null;

  if (value === null) {
    if (isOpen) return <p className="empty">{common.loading}</p>;
    return error ? <Failure error={error} onAgain={days.again} /> : <Empty>{words.nothingPublished}</Empty>;
  }
  const { publication } = value;
  if (publication === null || shown === null) {
    return (
      <>
        {isOwn && <SendingLine aheadMs={days.aheadMs} staleSinceMs={null} timeZone={null} />}
        <Empty>{publication === null ? words.nothingPublished : words.noDays(publication.number)}</Empty>
      </>
    );
  }
  return (
    <CrewDay
      key={shown}
      crew={crew}
      date={shown}
      isOwn={isOwn}
      isOnPlan={value.days.some((day) => day.date === shown)}
      latest={publication.number}
      aheadMs={days.aheadMs}
      isOffline={error !== null}
      dayChoice={<DayChoice crew={crew} days={value.days} present={shown} nowMs={openedAtMs} />}
    />
  );
}

function DayChoice({
  crew,
  days,
  nowMs,
  present,
}: {
  readonly crew: CrewKey;
  readonly days: readonly DaySummary[];
  readonly present: string;
  readonly nowMs: number;
}) {
  const dates = days.map(({ date }) => date);
  const listed = dates.includes(present) ? dates : [...dates, present].sort();
  return (
    <label>
      <span className="visuallyHidden">{words.chooseDay}</span>
      <select
        value={present}
        onChange={({ target }) => go(addressOf("day", crew.operationId, crew.crewId, target.value))}
      >
        {listed.map((date) => {
          const day = days.find((one) => one.date === date);
          return (
            <option key={date} value={date}>
              {day && isToday(day, nowMs) ? `${words.today}, ` : ""}
              {shortDayWords(date)}
            </option>
          );
        })}
      </select>
    </label>
  );
}
