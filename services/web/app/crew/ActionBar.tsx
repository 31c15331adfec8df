import { useState } from "react";
import type { SheetStop } from "../../../../shared/plan/crewSheet.ts";
import { crewWords as words } from "../strings/crew.ts";
import { ConditionsForm } from "./ConditionsForm.tsx";
import { clockAt } from "./clockWords.ts";
import { FinishedForm } from "./FinishedForm.tsx";
import { GoOnWhen } from "./GoOnWhen.tsx";
import type { Told } from "./makeReport.ts";
import type { Reporter } from "./report.ts";
import { StoppedForm } from "./StoppedForm.tsx";
import type { DayReport, StopStand } from "./stands.ts";
import { TakeBack } from "./TakeBack.tsx";

/** A gloved finger taps twice: for so long after a tap nothing else is taken. Our choice. */
const restMs = 1_200;

type Form = "stopped" | "finished" | "conditions";

/** At the thumb: what comes next at the stop that the crew is at. */
export function ActionBar({
  altitudeM,
  date,
  last,
  reporter,
  stand,
  stop,
  timeZone,
}: {
  readonly stop: SheetStop;
  readonly stand: StopStand;
  readonly reporter: Reporter;
  readonly date: string;
  readonly altitudeM: number;
  /** What was last reported of the stop; null: nothing. */
  readonly last: DayReport | null;
  readonly timeZone: string;
}) {
  const [form, setForm] = useState<Form | null>(null);
  const [isResting, setIsResting] = useState(false);
  const [wrong, setWrong] = useState<DayReport | null>(null);
  const { fieldName, number } = stop;

  const tell = async (told: Told) => {
    if (isResting) return;
    setIsResting(true);
    setTimeout(() => setIsResting(false), restMs);
    if (await reporter.tell(told, stop.blockId)) setForm(null);
  };
  const forms = { stop, stand, onTell: tell, onClose: () => setForm(null) };

  return (
    <section className="actionBar" aria-label={words.bar}>
      <p>
        <span>
          <b>
            {number} {fieldName}
          </b>
          {last ? lastWords(last, timeZone) : words.state[stand.state]}
        </span>
        {last && (
          <button type="button" className="plain" onClick={() => setWrong(last)}>
            {words.takeBack}
          </button>
        )}
      </p>
      {stand.state === "stopped" && stand.reason !== null && <GoOnWhen stop={stop} reason={stand.reason} date={date} />}
      <div className="actions">
        {actionsOf(stand).map(({ does, isMain, text }) => (
          <button
            key={text}
            type="button"
            className={isMain ? "main" : undefined}
            disabled={isResting}
            onClick={() => (typeof does === "string" ? setForm(does) : void tell(does))}
          >
            {text}
          </button>
        ))}
      </div>
      {form === "stopped" && <StoppedForm {...forms} />}
      {form === "finished" && <FinishedForm {...forms} />}
      {form === "conditions" && <ConditionsForm {...forms} altitudeM={altitudeM} />}
      {wrong && (
        <TakeBack
          what={`${words.did[wrong.report.kind]}, ${fieldName}`}
          onYes={() => void reporter.takeBack(wrong).then(() => setWrong(null))}
          onNo={() => setWrong(null)}
        />
      )}
    </section>
  );
}

/** `Stopped 09:15, wind`. */
function lastWords({ report }: DayReport, timeZone: string): string {
  const why = report.kind === "stopped" ? `, ${words.reasons[report.reason].toLowerCase()}` : "";
  return `${words.did[report.kind]} ${clockAt(report.at, timeZone)}${why}`;
}

interface Action {
  readonly text: string;
  readonly does: Told | Form;
  readonly isMain?: boolean;
}

/** The likeliest first. */
function actionsOf({ arrivedAt, loads, loadsDone, state }: StopStand): readonly Action[] {
  const measured: Action = { text: words.measured, does: "conditions" };
  const finish: Action = { text: words.finish, does: "finished" };
  if (state === "notBegun") {
    const started: Action = { text: words.did.started, does: { kind: "started" }, isMain: arrivedAt !== null };
    if (arrivedAt !== null) return [started, measured];
    return [{ text: words.did.arrived, does: { kind: "arrived" }, isMain: true }, started, measured];
  }
  if (state === "stopped") return [{ text: words.goOn, does: { kind: "goesOn" }, isMain: true }, finish, measured];
  const stopIt: Action = { text: words.stop, does: "stopped" };
  if (loadsDone < loads) {
    const text = words.loadDone(loadsDone + 1, loads);
    return [{ text, does: { kind: "loadDone" }, isMain: true }, stopIt, finish, measured];
  }
  return [{ ...finish, isMain: true }, { text: words.extraLoad, does: { kind: "loadDone" } }, stopIt, measured];
}
