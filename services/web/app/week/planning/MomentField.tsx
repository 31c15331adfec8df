import { useId, useState } from "react";
import { shortDayWords } from "../../kit/dates.ts";
import { replanWords as words } from "../../strings/replan.ts";
import { clockOf } from "./planFrom.ts";

/** A moment of the plan's days on 24 h clocks, whatever the browser's own fields would make of it. Null is handed on while what is typed is no time of day. */
export function MomentField({
  dates,
  hint,
  label,
  onChange,
  start,
}: {
  readonly dates: readonly string[];
  readonly label: string;
  readonly hint: string;
  /** Local time at which it stands first, as 2027-06-14T05:30. */
  readonly start: string;
  readonly onChange: (moment: string | null) => void;
}) {
  const hintId = useId();
  const [date, setDate] = useState(start.slice(0, 10));
  const [typed, setTyped] = useState(start.slice(11, 16));
  const clock = clockOf(typed);
  const tell = (day: string, time: string | null) => onChange(time === null ? null : `${day}T${time}`);
  return (
    <fieldset className="moment">
      <legend>{label}</legend>
      <label>
        <span className="visuallyHidden">{words.day}</span>
        <select
          value={date}
          onChange={({ target }) => {
            setDate(target.value);
            tell(target.value, clock);
          }}
        >
          {dates.map((one) => (
            <option key={one} value={one}>
              {shortDayWords(one)}
            </option>
          ))}
        </select>
      </label>
      <label>
        <span className="visuallyHidden">{words.clock}</span>
        <input
          className="clockField"
          inputMode="numeric"
          autoComplete="off"
          size={5}
          maxLength={5}
          value={typed}
          aria-invalid={clock === null}
          aria-describedby={hintId}
          onChange={({ target }) => {
            setTyped(target.value);
            tell(date, clockOf(target.value));
          }}
          onBlur={() => setTyped(clock ?? typed)}
        />
      </label>
      <small id={hintId} className={clock === null ? "bad" : ""} aria-live="polite">
        {clock === null ? words.clockWrong : hint}
      </small>
    </fieldset>
  );
}
