import { type ReactNode, useMemo, useState } from "react";
import type { CrewKey } from "../../../../shared/contracts/access.ts";
import type { SheetStop } from "../../../../shared/plan/crewSheet.ts";
import { pathOf } from "../api/call.ts";
import { shortDayWords } from "../kit/dates.ts";
import { Empty, Failure } from "../kit/states.tsx";
import { keepLook, type Look, useLook } from "../look/look.ts";
import { DayMap } from "../map/DayMap.tsx";
import { common } from "../strings/common.ts";
import { crewWords as words } from "../strings/crew.ts";
import { type UnitSystem, useUnitSystem } from "../units/units.ts";
import { ActionBar } from "./ActionBar.tsx";
import type { PublishedSheet } from "./askDay.ts";
import { ChangedNote } from "./ChangedNote.tsx";
import { clockOn } from "./clockWords.ts";
import { DayStrip } from "./DayStrip.tsx";
import { ReportList } from "./ReportList.tsx";
import { reporter } from "./report.ts";
import { SendingLine } from "./SendingLine.tsx";
import { StopCard } from "./StopCard.tsx";
import { lastOf, presentStop } from "./stands.ts";
import { TakeAlong } from "./TakeAlong.tsx";
import { Timeline } from "./Timeline.tsx";
import { type Day, useDay } from "./useDay.ts";

/** Which paper the sheet is printed on where people use which units. Our choice: letter goes with US customary. */
const paperOf: Readonly<Record<UnitSystem, string>> = { metric: "?size=a4&units=metric", us: "?size=letter&units=us" };

interface Asked {
  readonly crew: CrewKey;
  readonly date: string;
  readonly isOwn: boolean;
  /** False: what was published last has not this day for the crew. */
  readonly isOnPlan: boolean;
  /** Number of the publication that the list of days is of. */
  readonly latest: number;
  readonly aheadMs: number | null;
  readonly isOffline: boolean;
  readonly dayChoice: ReactNode;
}

/** One day of a crew, from leaving to being back, and what it reports of it. */
export function CrewDay(asked: Asked) {
  const { aheadMs, crew, date, dayChoice, isOffline, isOnPlan, isOwn, latest } = asked;
  const day = useDay(crew, date, latest, isOwn);
  const { error, isOpen, value } = day.sheet;
  const stale = isOffline && error !== null ? day.sheet.keptAtMs : null;
  const sending = isOwn && (
    <SendingLine aheadMs={aheadMs} staleSinceMs={stale} timeZone={value?.sheet.timeZone ?? null} />
  );
  if (!isOnPlan || value === null) {
    return (
      <div className="crewDay">
        <div className="dayTools">{dayChoice}</div>
        {sending}
        {isOnPlan && isOpen && <p className="empty">{common.loading}</p>}
        {isOnPlan &&
          !isOpen &&
          error &&
          (isOffline ? <Empty>{words.noDayYet}</Empty> : <Failure error={error} onAgain={day.sheet.again} />)}
        {(!isOnPlan || day.sheet.isGone) && (
          <Empty>
            {words.dayGone} {day.reports.length > 0 && words.dayGoneReports}
          </Empty>
        )}
      </div>
    );
  }
  return <Sheet {...asked} day={day} published={value} sending={sending} />;
}

function Sheet({
  crew,
  date,
  day,
  dayChoice,
  isOwn,
  published,
  sending,
}: Asked & { readonly day: Day; readonly published: PublishedSheet; readonly sending: ReactNode }) {
  const { publication, sheet } = published;
  const { changes, changesRead, groundOfBlock, map, reports, stands } = day;
  const { crewId, operationId } = crew;
  const system = useUnitSystem();
  const report = useMemo(
    () =>
      reporter(
        { operationId, crewId, date },
        { publication: publication.number, timeZone: sheet.timeZone, groundOfBlock },
      ),
    [operationId, crewId, date, publication.number, sheet.timeZone, groundOfBlock],
  );
  const [chosen, setChosen] = useState<string | null>(null);
  const [isMapOpen, setIsMapOpen] = useState(false);
  const byReports = presentStop(sheet.stops, stands);
  const isChosenLeft = chosen !== null && stands.get(chosen) !== undefined && stands.get(chosen)?.state !== "finished";
  const present = isChosenLeft ? chosen : byReports;
  const stop = sheet.stops.find(({ blockId }) => blockId === present) ?? null;
  const hasBegun = [...stands.values()].some(({ lastAt }) => lastAt !== null);
  const back = clockOn(sheet.backAt, date);
  const finished = sheet.stops.filter(({ blockId }) => stands.get(blockId)!.state === "finished");
  const ahead = sheet.stops.filter(({ blockId }) => stands.get(blockId)!.state !== "finished");
  const listOf = (stops: readonly SheetStop[]) => (
    <ol className="stopList">
      {stops.map((one) => (
        <li key={one.blockId}>
          <StopCard
            stop={one}
            date={date}
            altitudeM={sheet.altitudeM}
            timeZone={sheet.timeZone}
            stand={stands.get(one.blockId)!}
            reports={reports}
            isPresent={one.blockId === present}
            picture={
              hasBegun &&
              one.blockId === present && (
                <DayStrip sheet={sheet} present={present} only={one.blockId} nowMs={Date.now()} />
              )
            }
            onReport={isOwn && one.blockId !== present ? () => setChosen(one.blockId) : null}
          />
        </li>
      ))}
    </ol>
  );
  // Before anybody leaves, what to take comes first; on the way, the stop that the crew is at.
  const before = (
    <>
      <DayStrip sheet={sheet} present={present} nowMs={Date.now()} />
      <TakeAlong sheet={sheet} map={map} isOpen={!hasBegun} />
    </>
  );

  return (
    <div className="crewDay">
      <header className="dayHead">
        <h1>
          {sheet.crewName}, {shortDayWords(date)}
        </h1>
        {hasBegun ? (
          <p className="leave">{sheet.sleepsAt === null ? words.backAt(back) : words.sleepsAt(sheet.sleepsAt, back)}</p>
        ) : (
          <p className="leave">
            {words.leave} <b>{clockOn(sheet.leaveBy, date)}</b>{" "}
            <span>
              {words.leaveFrom(
                sheet.base,
                sheet.sleepsAt === null ? words.back(back) : words.sleeps(sheet.sleepsAt, back),
              )}
            </span>
          </p>
        )}
        {sheet.clockShiftMin !== 0 && <p className="notice">{words.clockShift(sheet.clockShiftMin)}</p>}
        <div className="dayTools">
          {dayChoice}
          <SunButton />
        </div>
      </header>
      {sending}
      {!isOwn && <p className="quiet">{words.lookOnly}</p>}
      {changes.length > 0 && <ChangedNote changes={changes} date={date} onRead={changesRead} />}
      {publication.note !== "" && <p className="notice">{words.note(publication.note)}</p>}
      {present === null && <p className="allDone">{words.allDone}</p>}
      {!hasBegun && before}
      <h2 className={hasBegun ? "visuallyHidden" : undefined}>{words.stops}</h2>
      {finished.length > 0 && (
        <details className="fold finishedStops">
          <summary>{words.finishedStops(finished.length)}</summary>
          {listOf(finished)}
        </details>
      )}
      {listOf(ahead)}
      {hasBegun && before}
      <Timeline sheet={sheet} map={map} />
      <details className="fold" onToggle={({ currentTarget }) => setIsMapOpen(currentTarget.open)}>
        <summary>{words.map}</summary>
        {isMapOpen && (map ? <DayMap map={map} stopNumber={stop?.number ?? null} /> : <p>{words.mapMissing}</p>)}
      </details>
      <ReportList sheet={sheet} reports={reports} reporter={isOwn ? report : null} />
      <p>
        <a href={`${pathOf`/api/operations/${operationId}/crews/${crewId}/days/${date}`}/sheet.pdf${paperOf[system]}`}>
          {words.paper}
        </a>
      </p>
      <p className="quiet">{words.toldBy(publication.number, publication.byName)}</p>
      {isOwn && stop && (
        <ActionBar
          key={stop.blockId}
          stop={stop}
          stand={stands.get(stop.blockId)!}
          reporter={report}
          date={date}
          altitudeM={sheet.altitudeM}
          last={lastOf(reports, stop.blockId)}
          timeZone={sheet.timeZone}
        />
      )}
    </div>
  );
}

/** One tap to a screen that can be read in the sun, and one back. */
function SunButton() {
  const look = useLook();
  const isSun = look === "sun";
  const [before, setBefore] = useState<Look>("auto");
  const change = () => {
    setBefore(look);
    keepLook(isSun ? (before === "sun" ? "auto" : before) : "sun");
  };
  return (
    <button type="button" onClick={change}>
      {isSun ? words.sunOff : words.sun}
    </button>
  );
}
