import type { CrewDayView } from "../../../../../shared/plan/weekView.ts";
import { pathOf } from "../../api/call.ts";
import { dayWords } from "../../kit/dates.ts";
import { chosenWords as words } from "../../strings/chosen.ts";
import { useUnits } from "../../units/units.ts";
import { durationWords } from "../planning/times.ts";
import type { ChosenProps } from "./Chosen.tsx";
import { CrewDayLock } from "./CrewDayLock.tsx";

/** A crew's day in words, and what is locked of it. */
export function CrewDayChosen({
  crewId,
  date,
  onSelect,
  ...props
}: ChosenProps & { readonly crewId: string; readonly date: string }) {
  const { plan, session, week } = props;
  const crew = week.crews.find(({ id }) => id === crewId);
  if (crew === undefined) return <p>{words.gone}</p>;
  const crewDay = crew.days.find((one) => one.date === date)?.crewDay ?? null;
  const mayChange = session.roles.includes("dispatcher");
  return (
    <>
      <h2>{words.crewDay(crew.name, dayWords(date))}</h2>
      {crewDay === null ? (
        <p>{words.stays}</p>
      ) : (
        <>
          <DayInWords crewDay={crewDay} base={crew.base} onSelect={onSelect} />
          {mayChange && (
            <>
              <p>
                <a
                  href={pathOf`/api/plans/${plan.id}/crews/${crewId}/days/${date}/sheet.pdf`}
                  target="_blank"
                  rel="noreferrer"
                >
                  {words.sheet}
                </a>
              </p>
              <CrewDayLock {...props} crewId={crewId} crewName={crew.name} date={date} />
            </>
          )}
        </>
      )}
    </>
  );
}

function DayInWords({
  base,
  crewDay: { areaHa, back, dutyMin, leave, outfit, roadKm, sleepsAt, stops, workMin },
  onSelect,
}: Pick<ChosenProps, "onSelect"> & { readonly crewDay: CrewDayView; readonly base: string }) {
  const units = useUnits();
  return (
    <>
      <ol className="plainList">
        <li>{words.leave(leave.clock, base)}</li>
        {stops.map((stop, at) => (
          <li key={stop.blockId}>
            <button
              type="button"
              className="plain"
              onClick={() => onSelect({ kind: "order", orderId: stop.orderId, blockId: stop.blockId })}
            >
              {words.stopLine(at + 1, stop.fieldName, stop.start.clock, stop.end.clock, units.areaHa(stop.areaHa))}
            </button>
            {stop.pauses.map(({ because, end, start }) => (
              <p key={start.min} className="quiet">
                {[words.pauseLine(start.clock, end.clock), ...because].join(": ")}
              </p>
            ))}
          </li>
        ))}
        <li>{words.back(back.clock, sleepsAt ?? base)}</li>
      </ol>
      <dl className="facts">
        <dt>{words.outfit}</dt>
        <dd>{outfit}</dd>
        <dt>{words.area}</dt>
        <dd>{units.areaHa(areaHa)}</dd>
        <dt>{words.onDuty}</dt>
        <dd>{durationWords(dutyMin)}</dd>
        <dt>{words.atWork}</dt>
        <dd>{durationWords(workMin)}</dd>
        <dt>{words.road}</dt>
        <dd>{units.roadKm(roadKm)}</dd>
      </dl>
    </>
  );
}
