import { useCallback, useState } from "react";
import type { PlanProgress } from "../../../../../shared/contracts/fieldwork.ts";
import type { OperationSummary } from "../../../../../shared/contracts/operations.ts";
import type { PlanRequest } from "../../../../../shared/contracts/planRequests.ts";
import type { ListedPlan } from "../../../../../shared/contracts/plans.ts";
import type { WeekView } from "../../../../../shared/plan/weekView.ts";
import type { ChangeCost } from "../../../../../shared/replan/changeCost.ts";
import { get, pathOf, post, Refusal } from "../../api/call.ts";
import { Dialog } from "../../kit/Dialog.tsx";
import { shortDayWords } from "../../kit/dates.ts";
import { say } from "../../kit/Say.tsx";
import { Failure, Shown } from "../../kit/states.tsx";
import { useAsked } from "../../kit/useAsked.ts";
import { addressOf } from "../../place.ts";
import { common } from "../../strings/common.ts";
import { planningWords } from "../../strings/planning.ts";
import { replanWords as words } from "../../strings/replan.ts";
import { ForecastDrop } from "../../weather/ForecastDrop.tsx";
import { HowLong } from "./AskForPlan.tsx";
import { MomentField } from "./MomentField.tsx";
import { OutOfService } from "./OutOfService.tsx";
import { patiently } from "./patiently.ts";
import { planFrom, roundedUp } from "./planFrom.ts";
import { watchOf } from "./requestWatch.ts";
import { localDateTime } from "./times.ts";
import { WithdrawOrder } from "./WithdrawOrder.tsx";

interface SomethingChangedProps {
  readonly operationId: string;
  /** The plan that is shown: near it the new one stays as long as nothing is published. */
  readonly plan: ListedPlan;
  readonly week: WeekView | null;
  readonly onOperationChanged: () => void;
  readonly onClose: () => void;
}

/** What crews have been told and have reported; null: nothing was published yet. */
interface Told {
  readonly latestReportAt: Date | null;
}

/** What has changed, and planning again from now on, near to the plan that crews go by. */
export function SomethingChanged(props: SomethingChangedProps) {
  const { operationId, week } = props;
  const asked = useAsked(
    useCallback(
      async (signal: AbortSignal): Promise<{ readonly told: Told | null }> => ({
        told: await toldOf(operationId, signal),
      }),
      [operationId],
    ),
  );
  return (
    <Dialog title={words.title} onClose={props.onClose}>
      {week === null ? (
        <p className="empty">{common.loading}</p>
      ) : (
        <Shown asked={asked}>{({ told }) => <Steps {...props} week={week} told={told} />}</Shown>
      )}
    </Dialog>
  );
}

function Steps({
  onClose,
  onOperationChanged,
  operationId,
  plan,
  told,
  week,
}: SomethingChangedProps & { readonly week: WeekView; readonly told: Told | null }) {
  const dates = week.days.map(({ date }) => date);
  const [stored, setStored] = useState<readonly string[]>([]);
  const [start] = useState(() => startOf(week.timeZone, dates, told));
  const [asOf, setAsOf] = useState<string | null>(start);
  const [keepUntil, setKeepUntil] = useState("");
  const [changeCost, setChangeCost] = useState<ChangeCost>("high");
  const [seconds, setSeconds] = useState<number>(60);
  const [isAsking, setIsAsking] = useState(false);
  const [error, setError] = useState<Error | null>(null);
  const fromDate = (asOf ?? start).slice(0, 10);
  const onStored = (sentence: string) => {
    setStored((before) => [...before, sentence]);
    say(sentence);
    onOperationChanged();
  };
  const begin = () => {
    setIsAsking(true);
    setError(null);
    const body = {
      seconds,
      asOf,
      changeCost,
      ...(keepUntil === "" ? {} : { keepUntil }),
      ...(told === null ? { fromPlanId: plan.id } : {}),
    };
    patiently(() => post<PlanRequest>(pathOf`/api/operations/${operationId}/replans`, body)).then(
      () => {
        watchOf(operationId).look();
        say(words.begun);
        onClose();
      },
      (failed: Error) => {
        setIsAsking(false);
        setError(failed);
      },
    );
  };
  return (
    <>
      <p>{words.text}</p>
      <h3>{words.whatTitle}</h3>
      {stored.length > 0 && (
        <div className="storedChanges">
          <h4>{words.stored}</h4>
          <ul>
            {stored.map((sentence, at) => (
              // The same may be said twice.
              // biome-ignore lint/suspicious/noArrayIndexKey: sentences are only ever added at the end.
              <li key={at}>{sentence}</li>
            ))}
          </ul>
        </div>
      )}
      <details className="changeKind" open>
        <summary>{words.out}</summary>
        <OutOfService operationId={operationId} dates={dates} from={fromDate} onStored={onStored} />
      </details>
      <details className="changeKind">
        <summary>{words.forecast}</summary>
        <p>{words.forecastText}</p>
        <ForecastDrop operationId={operationId} onTaken={(_: OperationSummary) => onStored(words.forecastTaken)} />
      </details>
      <details className="changeKind">
        <summary>{words.orders}</summary>
        <WithdrawOrder operationId={operationId} orders={week.orders} onStored={onStored} />
        <p>
          <a href={addressOf("orders")}>{words.addOrder}</a>
        </p>
      </details>
      <h3>{words.whenTitle}</h3>
      <div className="formRow">
        <MomentField
          label={words.asOf}
          hint={words.asOfHint(cityOf(week.timeZone))}
          dates={dates}
          start={start}
          onChange={setAsOf}
        />
        <label>
          {words.keepUntil}
          <select value={keepUntil} onChange={({ target }) => setKeepUntil(target.value)}>
            <option value="">{words.keepNone}</option>
            {dates
              .filter((date) => date >= fromDate)
              .map((date) => (
                <option key={date} value={date}>
                  {words.keepTo(shortDayWords(date))}
                </option>
              ))}
          </select>
        </label>
      </div>
      <h3>{words.howTitle}</h3>
      <Nearness changeCost={changeCost} onChange={setChangeCost} />
      <HowLong seconds={seconds} onChange={setSeconds} />
      {told === null && <p>{words.nearShown}</p>}
      <div className="dialogFoot">
        {error !== null && <Failure error={error} />}
        <p className="buttons">
          <button type="button" className="main" disabled={isAsking || asOf === null} onClick={begin}>
            {words.begin}
          </button>
          <button type="button" onClick={onClose}>
            {planningWords.closeOnly}
          </button>
        </p>
      </div>
    </>
  );
}

/** How dear it is that crews learn something new. */
function Nearness({
  changeCost,
  onChange,
}: {
  readonly changeCost: ChangeCost;
  readonly onChange: (changeCost: ChangeCost) => void;
}) {
  return (
    <fieldset className="choices">
      <legend>{words.nearness}</legend>
      {(["high", "usual"] as const).map((one) => (
        <label key={one} className="inline">
          <input type="radio" name="changeCost" checked={one === changeCost} onChange={() => onChange(one)} />
          {words.nearnesses[one]}
        </label>
      ))}
      <small>{words.nearnessHints[changeCost]}</small>
    </fieldset>
  );
}

function startOf(timeZone: string, dates: readonly string[], told: Told | null): string {
  const local = (at: Date) => localDateTime(at, timeZone);
  const report = told?.latestReportAt ?? null;
  return planFrom(local(new Date()), dates, report === null ? null : local(roundedUp(report)));
}

/** `Madrid` of Europe/Madrid: people know their clocks by it. */
const cityOf = (timeZone: string) => (timeZone.split("/").at(-1) ?? timeZone).replaceAll("_", " ");

async function toldOf(operationId: string, signal: AbortSignal): Promise<Told | null> {
  try {
    const path = pathOf`/api/operations/${operationId}/progress`;
    const { stops } = await patiently(() => get<PlanProgress>(path, signal), signal);
    const moments = stops.flatMap(({ endedAt, startedAt }) => [startedAt, endedAt].filter((at) => at !== null));
    const latestMs = Math.max(...moments.map((at) => Date.parse(at)));
    return { latestReportAt: moments.length === 0 ? null : new Date(latestMs) };
  } catch (error) {
    if (error instanceof Refusal && error.status === 404) return null;
    throw error;
  }
}
