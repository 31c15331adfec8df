import { useCallback } from "react";
import type { CrewKey } from "../../../../shared/contracts/access.ts";
import type { WeekView } from "../../../../shared/plan/weekView.ts";
import { get, pathOf } from "../api/call.ts";
import { dayWords } from "../kit/dates.ts";
import { Empty, Shown } from "../kit/states.tsx";
import { useAsked } from "../kit/useAsked.ts";
import { WithOperation } from "../kit/WithOperation.tsx";
import { addressOf } from "../place.ts";
import type { RoomProps } from "../rooms.ts";
import { crewWords as words } from "../strings/crew.ts";
import { CrewDays } from "./CrewDays.tsx";
import "./crew.css";
import "./reporting.css";

/** A crew's day: of the caller's own crew, or of any for who plans. */
export default function DayRoom({ session, within }: RoomProps) {
  const [operationId, crewId, date] = within;
  const { crews, roles } = session;
  if (operationId && crewId) {
    const crew = { operationId, crewId };
    return <CrewDays key={`${operationId} ${crewId}`} crew={crew} date={date ?? null} isOwn={isAmong(crews, crew)} />;
  }
  const [only] = crews;
  if (crews.length === 1) return <CrewDays crew={only!} date={null} isOwn />;
  return (
    <>
      {crews.length > 1 && <CrewChoice crews={crews} />}
      {roles.includes("dispatcher") && (
        <WithOperation>{({ id }) => <PublishedDays key={id} operationId={id} />}</WithOperation>
      )}
      {crews.length === 0 && !roles.includes("dispatcher") && <Empty>{words.noCrewOfYours}</Empty>}
    </>
  );
}

const isAmong = (crews: readonly CrewKey[], crew: CrewKey): boolean =>
  crews.some((one) => one.operationId === crew.operationId && one.crewId === crew.crewId);

function CrewChoice({ crews }: { readonly crews: readonly CrewKey[] }) {
  return (
    <section className="crewChoice">
      <h1>{words.chooseCrew}</h1>
      <ul>
        {crews.map(({ crewId, operationId }) => (
          <li key={`${operationId} ${crewId}`}>
            <a href={addressOf("day", operationId, crewId)}>{crewId}</a>
          </li>
        ))}
      </ul>
    </section>
  );
}

function PublishedDays({ operationId }: { readonly operationId: string }) {
  const asked = useAsked(
    useCallback(
      (signal: AbortSignal) => get<WeekView>(pathOf`/api/operations/${operationId}/published/week`, signal),
      [operationId],
    ),
  );
  return (
    <section className="crewChoice">
      <h1>{words.publishedDays}</h1>
      <Shown asked={asked}>
        {({ crews }) => (
          <div className="crewLists">
            {crews.map(({ days, id, name }) => (
              <div key={id}>
                <h2>{name}</h2>
                <ul>
                  {days
                    .flatMap(({ crewDay, date }) => (crewDay ? [{ crewDay, date }] : []))
                    .map(({ crewDay, date }) => (
                      <li key={date}>
                        <a href={addressOf("day", operationId, id, date)}>
                          {dayWords(date)}, {words.goesOut(crewDay.stops.length)}
                        </a>
                      </li>
                    ))}
                </ul>
              </div>
            ))}
          </div>
        )}
      </Shown>
    </section>
  );
}
