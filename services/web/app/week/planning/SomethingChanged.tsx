import { useCallback, useState } from "react";
import type { OperationSummary } from "../../../../../shared/contracts/operations.ts";
import type { PlanRequest } from "../../../../../shared/contracts/planRequests.ts";
import type { ListedPlan } from "../../../../../shared/contracts/plans.ts";
import type { WeekView } from "../../../../../shared/plan/weekView.ts";
import { get, pathOf, post, Refusal } from "../../api/call.ts";
import { Dialog } from "../../kit/Dialog.tsx";
import { shortDayWords } from "../../kit/dates.ts";
import { say } from "../../kit/Say.tsx";
import { Failure } from "../../kit/states.tsx";
import { useAsked } from "../../kit/useAsked.ts";
import { addressOf } from "../../place.ts";
import { common } from "../../strings/common.ts";
import { planningWords } from "../../strings/planning.ts";
import { replanWords as words } from "../../strings/replan.ts";
import { ForecastDrop } from "../../weather/ForecastDrop.tsx";
import { HowLong } from "./AskForPlan.tsx";
import { OutOfService } from "./OutOfService.tsx";
import { patiently } from "./patiently.ts";
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

/** What has changed, and planning again from now on, near to the plan that crews go by. */
export function SomethingChanged(props: SomethingChangedProps) {
  return (
    <Dialog title={words.title} onClose={props.onClose}>
      {props.week === null ? <p className="empty">{common.loading}</p> : <Steps {...props} week={props.week} />}
    </Dialog>
  );
}

function Steps({
  onClose,
  onOperationChanged,
  operationId,
  plan,
  week,
}: SomethingChangedProps & { readonly week: WeekView }) {
  const dates = week.days.map(({ date }) => date);
  const [stored, setStored] = useState<readonly string[]>([]);
  const [asOf, setAsOf] = useState(() => within(localDateTime(new Date(), week.timeZone), dates));
  const [keepUntil, setKeepUntil] = useState("");
  const [seconds, setSeconds] = useState<number>(60);
  const [isAsking, setIsAsking] = useState(false);
  const [error, setError] = useState<Error | null>(null);
  const isPublished = useIsPublished(operationId);
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
      ...(keepUntil === "" ? {} : { keepUntil }),
      ...(isPublished === false ? { fromPlanId: plan.id } : {}),
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
      <details className="changeKind">
        <summary>{words.forecast}</summary>
        <p>{words.forecastText}</p>
        <ForecastDrop operationId={operationId} onTaken={(_: OperationSummary) => onStored(words.forecastTaken)} />
      </details>
      <details className="changeKind">
        <summary>{words.out}</summary>
        <OutOfService operationId={operationId} dates={dates} from={asOf.slice(0, 10)} onStored={onStored} />
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
        <label>
          {words.asOf}
          <input
            type="datetime-local"
            required
            value={asOf}
            min={`${dates[0]}T00:00`}
            max={`${dates.at(-1)}T23:59`}
            onChange={({ target }) => setAsOf(target.value)}
          />
          <small>{words.asOfHint(week.timeZone)}</small>
        </label>
        <label>
          {words.keepUntil}
          <select value={keepUntil} onChange={({ target }) => setKeepUntil(target.value)}>
            <option value="">{words.keepNone}</option>
            {dates
              .filter((date) => date >= asOf.slice(0, 10))
              .map((date) => (
                <option key={date} value={date}>
                  {words.keepTo(shortDayWords(date))}
                </option>
              ))}
          </select>
        </label>
      </div>
      <h3>{words.howTitle}</h3>
      <HowLong seconds={seconds} onChange={setSeconds} />
      {isPublished === false && <p>{words.nearShown}</p>}
      {error !== null && <Failure error={error} />}
      <p className="buttons">
        <button
          type="button"
          className="main"
          disabled={isAsking || asOf === "" || isPublished === null}
          onClick={begin}
        >
          {words.begin}
        </button>
        <button type="button" onClick={onClose}>
          {planningWords.closeOnly}
        </button>
      </p>
    </>
  );
}

/** Now, or the first or last minute of the plan's days. */
function within(moment: string, dates: readonly string[]): string {
  const first = `${dates[0]}T00:00`;
  const last = `${dates.at(-1)}T23:59`;
  return moment < first ? first : moment > last ? last : moment;
}

/** Null: not known yet. */
function useIsPublished(operationId: string): boolean | null {
  return useAsked(
    useCallback(
      async (signal: AbortSignal) => {
        try {
          await get(pathOf`/api/operations/${operationId}/published`, signal);
          return true;
        } catch (error) {
          if (error instanceof Refusal && error.status === 404) return false;
          throw error;
        }
      },
      [operationId],
    ),
  ).value;
}
