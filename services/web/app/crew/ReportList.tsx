import { useState } from "react";
import type { CrewSheet } from "../../../../shared/plan/crewSheet.ts";
import { crewWords as words } from "../strings/crew.ts";
import { clockAt } from "./clockWords.ts";
import { nearestAt } from "./makeReport.ts";
import { ReportForm } from "./ReportForm.tsx";
import type { Reporter } from "./report.ts";
import { type DayReport, takenBack } from "./stands.ts";
import { TakeBack } from "./TakeBack.tsx";

/** Everything that was reported of the day, what became of it, and how to put it right. */
export function ReportList({
  reporter,
  reports,
  sheet,
}: {
  readonly sheet: CrewSheet;
  readonly reports: readonly DayReport[];
  /** Null: who looks does not report. */
  readonly reporter: Reporter | null;
}) {
  const [asked, setAsked] = useState<{ readonly one: DayReport; readonly to: "takeBack" | "putRight" } | null>(null);
  const back = takenBack(reports);
  const close = () => setAsked(null);
  // The newest first: what was tapped wrongly is what was tapped last.
  const shown = reports.filter(({ report, state }) => report.kind !== "correction" || state === "refused").reverse();
  return (
    <details className="fold" open={reports.some(({ state }) => state === "refused")}>
      <summary>{words.reports}</summary>
      {shown.length === 0 && <p>{words.noReports}</p>}
      <ol className="reportList">
        {shown.map((one) => {
          const { entry, report, state, why } = one;
          const isBack = back.has(report.id);
          return (
            <li key={report.id}>
              <p>
                <b>
                  {clockAt(report.at, sheet.timeZone)} {whatWords(one, sheet)}
                </b>
                <br />
                {isBack ? words.takenBack : stateWords(one)}
                {state === "refused" && why !== null && <span className="failure">{why}</span>}
              </p>
              {reporter && state === "refused" && entry && (
                <div className="actions">
                  <button type="button" onClick={() => void reporter.again(entry)}>
                    {words.sendAgain}
                  </button>
                  <button type="button" onClick={() => void reporter.putAway(entry)}>
                    {words.putAway}
                  </button>
                </div>
              )}
              {reporter && state !== "refused" && !isBack && (
                <div className="actions">
                  <button type="button" onClick={() => setAsked({ one, to: "takeBack" })}>
                    {words.takeBack}
                    <span className="visuallyHidden">, {whatWords(one, sheet)}</span>
                  </button>
                  <button type="button" onClick={() => setAsked({ one, to: "putRight" })}>
                    {words.otherTime}
                    <span className="visuallyHidden">, {whatWords(one, sheet)}</span>
                  </button>
                </div>
              )}
            </li>
          );
        })}
      </ol>
      {reporter && asked?.to === "takeBack" && (
        <TakeBack
          what={whatWords(asked.one, sheet)}
          onYes={() => void reporter.takeBack(asked.one).then(close)}
          onNo={close}
        />
      )}
      {reporter && asked?.to === "putRight" && (
        <OtherTime one={asked.one} onClose={close} onAt={(at) => void reporter.putRight(asked.one, at).then(close)} />
      )}
    </details>
  );
}

function OtherTime({
  onAt,
  onClose,
  one,
}: {
  readonly one: DayReport;
  readonly onAt: (at: string) => void;
  readonly onClose: () => void;
}) {
  const wasMs = Date.parse(one.report.at);
  const [clock, setClock] = useState(() => new Date(wasMs).toTimeString().slice(0, 5));
  const [fault, setFault] = useState<string | null>(null);
  const send = () => {
    const at = nearestAt(clock, wasMs);
    if (at === null) setFault(words.notNumber(words.otherTimeLabel, "00:00", "23:59"));
    else onAt(at);
  };
  return (
    <ReportForm title={words.otherTimeTitle} fault={fault} onSend={send} onClose={onClose}>
      <label>
        {words.otherTimeLabel}
        <input type="time" value={clock} onChange={({ target }) => setClock(target.value)} />
      </label>
      <p>{words.otherTimeText}</p>
    </ReportForm>
  );
}

function stateWords({ entry, state }: DayReport): string {
  if (state === "waiting") return words.waits;
  if (state === "refused") return words.refused;
  return entry === null ? `${words.sent}, ${words.byOther}` : words.sent;
}

/** `Started, Long Acre`, with what else was said. */
function whatWords({ report }: DayReport, sheet: CrewSheet): string {
  if (report.kind === "correction") return words.did.correction;
  const field = sheet.stops.find(({ blockId }) => blockId === report.blockId)?.fieldName ?? report.blockId;
  const more = report.kind === "stopped" ? [words.reasons[report.reason].toLowerCase(), report.words] : [];
  return [words.did[report.kind], field, ...more].filter(Boolean).join(", ");
}
