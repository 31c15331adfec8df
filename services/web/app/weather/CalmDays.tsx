import { shortDayWords } from "../kit/dates.ts";
import { weatherWords as words } from "../strings/weather.ts";
import type { CalmDay, Stretch } from "./calmDays.ts";

const axisHours = [0, 6, 12, 18, 24];
const place = ({ from, to }: Stretch) => ({ left: `${from * 100}%`, width: `${(to - from) * 100}%` });

/** The week's days, each hour calm or not, with the calm stretches in words beside; a day chosen is shown in numbers below. */
export function CalmDays({
  chosen,
  days,
  onChoose,
}: {
  readonly days: readonly CalmDay[];
  readonly chosen: string | null;
  readonly onChoose: (date: string) => void;
}) {
  return (
    <section aria-labelledby="calmDays">
      <h2 id="calmDays">{words.calmTitle}</h2>
      <div className="calmAxis" aria-hidden="true">
        <div>
          {axisHours.map((hour) => (
            <span key={hour} style={{ left: `${(hour / 24) * 100}%` }}>
              {String(hour).padStart(2, "0")}
            </span>
          ))}
        </div>
      </div>
      <ul className="calmDays">
        {days.map((day) => (
          <li key={day.date}>
            <button type="button" aria-pressed={day.date === chosen} onClick={() => onChoose(day.date)}>
              {shortDayWords(day.date)}
            </button>
            <Strip day={day} />
            <p>{dayTold(day)}</p>
          </li>
        ))}
      </ul>
      <p className="quiet">
        {words.limitsFrom} {words.calmMeans} {words.calmKey}
      </p>
    </section>
  );
}

/** A picture of what stands beside it in words. */
const Strip = ({ day: { cells, nights } }: { readonly day: CalmDay }) => (
  <div className="calmStrip" aria-hidden="true">
    {cells.map(({ closing, from, to }) => (
      <span key={from} className={closing === null ? "cell calm" : "cell"} style={place({ from, to })}>
        {closing === null ? "" : words.closingSigns[closing]}
      </span>
    ))}
    {nights.map((night) => (
      <span key={night.from} className="night" style={place(night)} />
    ))}
  </div>
);

function dayTold({ calm, calmS, cells, closed }: CalmDay): string {
  if (cells.length === 0) return words.noWeather;
  const closedBy = words.closedBy(closed.map(({ closing, seconds }) => words.closedFor(closing, lengthWords(seconds))));
  if (calm.length === 0) return [words.notCalm, closedBy].filter(Boolean).join(" ");
  const stretches = calm.map(({ from, to }) => words.stretch(from, to)).join(", ");
  return [words.calmFor(lengthWords(calmS), stretches), closedBy].filter(Boolean).join(" ");
}

function lengthWords(seconds: number): string {
  const minutes = Math.round(seconds / 60);
  const [hours, rest] = [Math.floor(minutes / 60), minutes % 60];
  return [hours > 0 ? `${hours} h` : "", rest > 0 || hours === 0 ? `${rest} min` : ""].filter(Boolean).join(" ");
}
