import { useEffect, useState } from "react";
import type { PlanProgress } from "../../../../../shared/contracts/fieldwork.ts";
import type { WeekView } from "../../../../../shared/plan/weekView.ts";
import { inUnits } from "../../../../../shared/units/inUnits.ts";
import { pathOf } from "../../api/call.ts";
import { follow } from "../../api/follow.ts";
import { shortDayWords } from "../../kit/dates.ts";
import { whileSeen } from "../../kit/whileSeen.ts";
import { planningWords } from "../../strings/planning.ts";
import { progressWords as words } from "../../strings/replan.ts";
import { useUnits } from "../../units/units.ts";
import { weekAddress } from "../selected.ts";
import {
  type CrewDayProgress,
  crewDayProgress,
  needsEye,
  onTimeMin,
  type Standing as StandingOf,
} from "./crewDayProgress.ts";
import { durationWords, localDateTime } from "./times.ts";

const minuteMs = 60_000;

/** How far crews have come with the published plan, as they report it: in one line, beside which stands whatever needs a look. */
export function WorkProgress({
  operationId,
  planId,
  week,
}: {
  readonly operationId: string;
  readonly planId: string;
  /** Of the published plan. */
  readonly week: WeekView;
}) {
  const units = useUnits();
  const { isSilent, progress } = useProgress(operationId);
  const nowMs = useNow();
  if (progress === null) return null;
  const today = localDateTime(new Date(nowMs), week.timeZone).slice(0, 10);
  const rows = crewDayProgress(week, progress, nowMs, today);
  const look = rows.filter(needsEye);
  return (
    <div className="workProgress">
      <details>
        <summary>
          {words.title}: {rows.length === 0 ? words.none : summaryWords(rows)}
        </summary>
        {rows.length > 0 && (
          <ul>
            {rows.map((row) => (
              <Row key={`${row.crewId} ${row.date}`} row={row} planId={planId} />
            ))}
          </ul>
        )}
        {progress.remarks.length > 0 && (
          <details>
            <summary>{words.remarks(progress.remarks.length)}</summary>
            <ul>
              {progress.remarks.map(({ kind, reportId, sentence }) => (
                <li key={`${kind} ${reportId}`}>{inUnits(sentence, units)}</li>
              ))}
            </ul>
          </details>
        )}
      </details>
      {look.length > 0 && (
        <ul className="needLook" aria-label={words.needLook}>
          {look.map((row) => (
            <li key={`${row.crewId} ${row.date}`} className="needsEye">
              <CrewDayLink row={row} planId={planId} /> <Standing row={row} />
            </li>
          ))}
        </ul>
      )}
      {isSilent && <p className="bad">{words.silent}</p>}
    </div>
  );
}

function summaryWords(rows: readonly CrewDayProgress[]): string {
  return words.summary(sumOf(rows, "finished"), sumOf(rows, "stops"));
}

function sumOf(rows: readonly CrewDayProgress[], name: "finished" | "stops"): number {
  return rows.reduce((sum, row) => sum + row[name], 0);
}

interface RowProps {
  readonly row: CrewDayProgress;
  readonly planId: string;
}

function CrewDayLink({ planId, row: { crewId, crewName, date } }: RowProps) {
  return (
    <a href={weekAddress(planId, { kind: "crewDay", crewId, date })}>
      {crewName}, {shortDayWords(date)}
    </a>
  );
}

function Standing({ row }: Pick<RowProps, "row">) {
  return (
    <span>
      {standingWords(row.standing)}
      {needsEye(row) && <b className="look"> {words.look}</b>}
    </span>
  );
}

function Row({ planId, row }: RowProps) {
  const units = useUnits();
  const { areaHa, doneHa, finished, stops } = row;
  const share = areaHa > 0 ? doneHa / areaHa : 0;
  return (
    <li className={needsEye(row) ? "needsEye" : ""}>
      <b>
        <CrewDayLink row={row} planId={planId} />
      </b>
      <progress value={share} max={1} aria-label={words.done}>
        {Math.round(share * 100)} %
      </progress>
      <span>
        {words.doneOf(`${finished} / ${stops}`, planningWords.ofArea(units.areaHa(doneHa), units.areaHa(areaHa)))}
      </span>
      <Standing row={row} />
    </li>
  );
}

function standingWords(standing: StandingOf): string {
  switch (standing.kind) {
    case "toCome":
      return words.toCome;
    case "silent":
      return words.quiet(standing.fieldName, durationWords(standing.behindMin));
    case "running":
      return words.running(standing.fieldName, behindWords(standing.behindMin));
    case "between":
      return words.between(behindWords(standing.behindMin));
    case "stopped":
      return words.stopped(
        standing.fieldName,
        standing.reason === null ? words.noReason : words.reasons[standing.reason],
      );
    case "finished":
      return words.finished(behindWords(standing.behindMin));
  }
}

function behindWords(behindMin: number): string {
  if (Math.abs(behindMin) <= onTimeMin) return words.onTime;
  return (behindMin > 0 ? words.late : words.ahead)(durationWords(behindMin));
}

function useProgress(operationId: string): { progress: PlanProgress | null; isSilent: boolean } {
  const [state, setState] = useState<{ progress: PlanProgress | null; isSilent: boolean }>({
    progress: null,
    isSilent: false,
  });
  useEffect(
    () =>
      whileSeen(() =>
        follow<PlanProgress>(pathOf`/api/operations/${operationId}/progress/events`, {
          onProgress: (progress) => setState({ progress, isSilent: false }),
          onDone: () => undefined,
          onSilence: () => setState((before) => ({ ...before, isSilent: true })),
        }),
      ),
    [operationId],
  );
  return state;
}

function useNow(): number {
  const [nowMs, setNowMs] = useState(() => Date.now());
  useEffect(() => {
    const timer = setInterval(() => setNowMs(Date.now()), minuteMs);
    return () => clearInterval(timer);
  }, []);
  return nowMs;
}
