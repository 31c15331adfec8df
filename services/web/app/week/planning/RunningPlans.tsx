import { useEffect, useRef, useState, useSyncExternalStore } from "react";
import { gapPercent } from "../../../../../shared/plan/proof.ts";
import { ask, pathOf } from "../../api/call.ts";
import { say } from "../../kit/Say.tsx";
import { errorWords } from "../../kit/states.tsx";
import { planningWords } from "../../strings/planning.ts";
import { useUnits } from "../../units/units.ts";
import { ProgressCurve } from "./ProgressCurve.tsx";
import { type WatchedRequest, watchOf } from "./requestWatch.ts";
import { durationWords, moneyWords } from "./times.ts";

const words = planningWords.running;

export function useWatched(operationId: string): readonly WatchedRequest[] {
  const watch = watchOf(operationId);
  return useSyncExternalStore(watch.subscribe, watch.now);
}

interface RunningPlansProps {
  readonly operationId: string;
  readonly currency: string;
  /** False: may look, not stop. */
  readonly mayPlan: boolean;
  readonly onShow: (planId: string) => void;
  /** A plan made again is looked at by what is otherwise in it. */
  readonly onLook: (planId: string) => void;
  readonly onPlansChanged: () => void;
}

/** What is being planned, and what has become of it. */
export function RunningPlans(props: RunningPlansProps) {
  const { onPlansChanged, operationId } = props;
  const watched = useWatched(operationId);
  const news = watched.filter(({ isNews }) => isNews).length;
  const told = useRef(news);
  useEffect(() => {
    if (news > told.current) onPlansChanged();
    told.current = news;
  }, [news, onPlansChanged]);
  const open = watched.filter(({ isNews, request }) => isNews || request.endedAt === null);
  if (open.length === 0) return null;
  return (
    <ul className="runningPlans">
      {open.map((one) => (
        <li key={one.request.id}>
          {one.isNews ? <Ended {...props} watched={one} /> : <Running {...props} watched={one} />}
        </li>
      ))}
    </ul>
  );
}

interface OneProps extends RunningPlansProps {
  readonly watched: WatchedRequest;
}

function Running({ currency, mayPlan, watched }: OneProps) {
  const { costCents, isSilent, progress, request, servedHa } = watched;
  const units = useUnits();
  const [isStopping, setIsStopping] = useState(false);
  const stop = () => {
    setIsStopping(true);
    ask(pathOf`/api/plan-requests/${request.id}/cancel`, { method: "POST" }).catch((error: Error) => {
      setIsStopping(false);
      say(errorWords(error), true);
    });
  };
  return (
    <section className="runningPlan" aria-label={words.title[request.kind]}>
      <div>
        <h3>{words.title[request.kind]}</h3>
        <p>{stateWords(watched)}</p>
        {progress !== null && (
          <p>
            {words.areaNow(units.areaHa(progress.servedHa))}, {words.costNow(moneyWords(progress.totalCents, currency))}
            , {progress.gapFrac === undefined ? words.noGap : words.gap(gapPercent(progress.gapFrac))}.
          </p>
        )}
        {progress?.first !== undefined && <p className="quiet">{words.first(progress.first.seconds.toFixed(1))}</p>}
        {isSilent && <p className="bad">{words.silent}</p>}
        {progress !== null && (
          <progress value={progress.share} max={1} aria-label={words.title[request.kind]}>
            {Math.round(progress.share * 100)} %
          </progress>
        )}
      </div>
      {servedHa.length > 0 && <ProgressCurve label={words.area} points={servedHa} />}
      {costCents.length > 0 && <ProgressCurve label={words.cost} points={costCents} />}
      {mayPlan && (
        <button type="button" onClick={stop} disabled={isStopping}>
          {isStopping ? words.stopping : words.stop}
        </button>
      )}
    </section>
  );
}

function stateWords({ progress, request }: WatchedRequest): string {
  if (progress === null) return request.status === "queued" ? words.queued : words.starting;
  if (progress.share >= 1) return words.ending;
  if (request.seconds === null) return `${Math.round(progress.share * 100)} %`;
  const leftS = Math.ceil(request.seconds * (1 - progress.share));
  return words.left(leftS < 60 ? `${leftS} s` : durationWords(leftS / 60));
}

const ended = planningWords.ended;

function Ended({ onLook, onShow, operationId, watched: { progress, request } }: OneProps) {
  const units = useUnits();
  const { failure, kind, planId, status } = request;
  const dismiss = () => watchOf(operationId).dismiss(request.id);
  const served = units.areaHa(progress?.servedHa ?? 0);
  const sentence =
    status === "failed"
      ? ended.failed[failure?.kind ?? "plannerFailed"]
      : status === "cancelled"
        ? planId === null
          ? ended.stoppedEmpty
          : ended.stopped
        : kind === "replan"
          ? ended.doneReplan(served)
          : ended.done(served);
  return (
    <section className={status === "failed" ? "endedPlan bad" : "endedPlan"}>
      <p role="status">{sentence}</p>
      {status === "failed" && failure !== null && <p>{failure.message}</p>}
      {planId !== null && (
        <button
          type="button"
          className="main"
          onClick={() => {
            dismiss();
            if (kind === "replan") onLook(planId);
            else onShow(planId);
          }}
        >
          {kind === "replan" ? ended.look : ended.show}
        </button>
      )}
      <button type="button" className="plain" onClick={dismiss}>
        {ended.dismiss}
      </button>
    </section>
  );
}
