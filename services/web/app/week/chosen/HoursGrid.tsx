import { type KeyboardEvent, useRef, useState } from "react";
import type { OrderWindows } from "../../../../../shared/contracts/windows.ts";
import { inUnits } from "../../../../../shared/units/inUnits.ts";
import { dayWords, shortDayWords } from "../../kit/dates.ts";
import { chosenWords as words } from "../../strings/chosen.ts";
import { weekWords } from "../../strings/week.ts";
import { useUnits } from "../../units/units.ts";
import { nextPlace } from "../board/nextPlace.ts";
import { byDay, closingLimits, type HoursOfDay, type ShownHour } from "./orderHours.ts";

interface At {
  readonly day: number;
  readonly hour: number;
}

const hoursOfPlainDay = Array.from({ length: 24 }, (_, hour) => hour);

/** An order's week hour by hour: how much of each is open, and of one day what closes it. */
export function HoursGrid({
  date,
  hours,
}: {
  readonly hours: OrderWindows["hours"];
  /** That is told first; null: the first that is open. */
  readonly date: string | null;
}) {
  const days = byDay(hours);
  const grid = useRef<HTMLTableElement>(null);
  const [at, setAt] = useState<At>(() => firstOpen(days, date));
  const day = days[at.day] ?? days[0]!;
  const hour = day.hours[at.hour] ?? day.hours[0]!;
  const onKeyDown = (event: KeyboardEvent) => {
    const next = nextPlace(grid.current!, event.target, event.key);
    if (next === null) return;
    event.preventDefault();
    next.focus();
  };
  return (
    <>
      <table ref={grid} className="hoursGrid" onKeyDown={onKeyDown}>
        <caption>{words.hoursCaption}</caption>
        <thead>
          <tr>
            <th scope="col">{words.day}</th>
            {hoursOfPlainDay.map((one) => (
              <th key={one} scope="col">
                {one % 6 === 0 ? one : <span className="visuallyHidden">{one}</span>}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {days.map(({ date, hours: ofDay }, dayAt) => (
            <tr key={date}>
              <th scope="row">{shortDayWords(date)}</th>
              {ofDay.map((one, hourAt) => (
                <td key={one.clock + String(hourAt)}>
                  <button
                    type="button"
                    className={one.openMin === 0 ? "hourCell closed" : "hourCell"}
                    aria-label={words.cell(dayWords(date), one.clock, one.openMin, one.ofMin)}
                    aria-pressed={dayAt === at.day && hourAt === at.hour}
                    tabIndex={dayAt === at.day && hourAt === at.hour ? 0 : -1}
                    data-row={dayAt}
                    data-px={hourAt}
                    onFocus={() => setAt({ day: dayAt, hour: hourAt })}
                    onClick={() => setAt({ day: dayAt, hour: hourAt })}
                  >
                    <span style={{ height: `${(100 * one.openMin) / one.ofMin}%` }} />
                  </button>
                </td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
      <HourWords day={day} hour={hour} />
      <LimitStrips day={day} />
    </>
  );
}

function firstOpen(days: readonly HoursOfDay[], wanted: string | null): At {
  const isWanted = days.some(({ date, openMin }) => date === wanted && openMin > 0);
  const day = days.findIndex(({ date, openMin }) => openMin > 0 && (!isWanted || date === wanted));
  if (day < 0) return { day: 0, hour: 0 };
  return { day, hour: days[day]!.hours.findIndex(({ openMin }) => openMin > 0) };
}

function HourWords({ day, hour }: { readonly day: HoursOfDay; readonly hour: ShownHour }) {
  const units = useUnits();
  return (
    <p className="hourWords" role="status">
      <b>{words.hourOf(dayWords(day.date), hour.clock, hour.endClock)}</b> {words.openMinutes(hour.openMin, hour.ofMin)}{" "}
      {hour.judgements.map(({ sentence }) => `${upperFirst(inUnits(sentence, units))}.`).join(" ")}
    </p>
  );
}

function LimitStrips({ day }: { readonly day: HoursOfDay }) {
  const units = useUnits();
  const limits = closingLimits(day);
  if (limits.length === 0) return <p>{words.nothingCloses(dayWords(day.date))}</p>;
  return (
    <>
      <h4>{words.closesOn(dayWords(day.date))}</h4>
      <ul className="limitStrips">
        {limits.map(({ closes, limit, spans, worst }) => (
          <li key={limit}>
            <b>{weekWords.limits[limit]}</b>{" "}
            {(worst.hasFigures ? words.closes : words.closesPlainly)(
              spans.map(({ from, to }) => words.span(from, to)).join(words.and),
              worst.clock,
              inUnits(worst.sentence, units),
            )}
            <span className="strip" aria-hidden="true">
              {closes.map((isClosed, at) => (
                // biome-ignore lint/suspicious/noArrayIndexKey: hours have no other name, and stay where they are.
                <span key={at} className={isClosed ? "closed" : ""} />
              ))}
            </span>
          </li>
        ))}
      </ul>
    </>
  );
}

const upperFirst = (sentence: string) => sentence.charAt(0).toUpperCase() + sentence.slice(1);
