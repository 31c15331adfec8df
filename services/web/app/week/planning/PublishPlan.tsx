import { useCallback, useState } from "react";
import type { PlanProgress } from "../../../../../shared/contracts/fieldwork.ts";
import type { Publication } from "../../../../../shared/contracts/plans.ts";
import type { DifferenceAnswer } from "../../../../../shared/contracts/replans.ts";
import type { WeekView } from "../../../../../shared/plan/weekView.ts";
import { ask, get, pathOf, post, Refusal } from "../../api/call.ts";
import { Dialog } from "../../kit/Dialog.tsx";
import { say } from "../../kit/Say.tsx";
import { Failure, Shown } from "../../kit/states.tsx";
import { useAsked } from "../../kit/useAsked.ts";
import { planningWords as words } from "../../strings/planning.ts";
import { publishWords } from "../../strings/publish.ts";
import { replanWords } from "../../strings/replan.ts";
import { Difference } from "./Difference.tsx";
import { FiguresTable } from "./FiguresTable.tsx";
import { patiently } from "./patiently.ts";
import { momentWords } from "./times.ts";
import { namesWords, useLeftOut, WhatIsWorse } from "./WhatIsWorse.tsx";
import { type LeftOutOrder, mustBeDoneLeftOut, type Worse, whatIsWorse } from "./worse.ts";

interface PublishPlanProps {
  readonly operationId: string;
  readonly planId: string;
  /** It was planned again, and is to be accepted or left. */
  readonly isAgain: boolean;
  readonly timeZone: string | undefined;
  readonly currency: string;
  readonly onClose: () => void;
  readonly onLinks: () => void;
  readonly onPublished: () => void;
  readonly onShow: (planId: string) => void;
}

interface ToLookAt {
  /** What crews go by; null: nothing was published yet. */
  readonly known: Publication | null;
  readonly difference: DifferenceAnswer | null;
  readonly worse: Worse | null;
  /** Must be done, and would be out of what crews know from now on. */
  readonly mustLeftOut: readonly LeftOutOrder[];
  readonly crewsOut: number;
}

/** Tells crews a plan, after a look at what is otherwise than they know. */
export function PublishPlan(props: PublishPlanProps) {
  const { isAgain, onClose, operationId, planId } = props;
  const asked = useAsked(
    useCallback((signal: AbortSignal) => toLookAt(operationId, planId, signal), [operationId, planId]),
  );
  return (
    <Dialog title={isAgain ? replanWords.acceptTitle : words.publishTitle} onClose={onClose}>
      <p>{isAgain ? replanWords.acceptText : words.publishText}</p>
      <Shown asked={asked}>{(look) => <Look {...props} {...look} onAgain={asked.again} />}</Shown>
    </Dialog>
  );
}

function Look({
  crewsOut,
  currency,
  difference,
  known,
  mustLeftOut,
  onAgain,
  onClose,
  onLinks,
  onPublished,
  onShow,
  planId,
  timeZone,
  worse,
}: PublishPlanProps & ToLookAt & { readonly onAgain: () => void }) {
  const [note, setNote] = useState("");
  const leftOut = useLeftOut();
  const [isAsking, setIsAsking] = useState(false);
  const [isQuestioned, setIsQuestioned] = useState(false);
  const [error, setError] = useState<Error | null>(null);
  const [done, setDone] = useState<Publication | null>(null);
  if (done !== null) {
    return (
      <>
        <p role="status">{words.published(done.number)}</p>
        <p className="buttons">
          <button type="button" className="main" onClick={onLinks}>
            {words.nextLinks}
          </button>
          <button
            type="button"
            onClick={() => {
              onClose();
              onShow(planId);
            }}
          >
            {words.ended.show}
          </button>
        </p>
      </>
    );
  }
  if (known?.planId === planId) return <p>{words.isPublished}</p>;
  const after = known?.number ?? 0;
  const publish = () => {
    if (mustLeftOut.length > 0 && !isQuestioned) {
      setIsQuestioned(true);
      return;
    }
    setIsAsking(true);
    setError(null);
    patiently(() => post<Publication>(pathOf`/api/plans/${planId}/publish`, { after, note })).then(
      (publication) => {
        say(words.published(publication.number));
        setDone(publication);
        onPublished();
      },
      (failed: Error) => {
        setIsAsking(false);
        setIsQuestioned(false);
        setError(failed);
        // Broken rules are of the plan; without any somebody else was quicker.
        if (isMeanwhile(failed)) onAgain();
      },
    );
  };
  return (
    <>
      {known === null ? (
        <p>{words.firstTime(crewsOut)}</p>
      ) : (
        <p>{publishWords.againstLive(known.number, known.byName, momentWords(known.createdAt, timeZone))}</p>
      )}
      {worse !== null && <WhatIsWorse worse={worse} />}
      {difference !== null && <FiguresTable difference={difference} currency={currency} />}
      <label>
        {words.noteLabel}
        <textarea value={note} maxLength={2000} rows={2} onChange={({ target }) => setNote(target.value)} />
        <small>{words.noteHint}</small>
      </label>
      {difference !== null && (
        <>
          <h3>{publishWords.stopByStop}</h3>
          <Difference difference={difference} />
        </>
      )}
      <div className="dialogFoot">
        {error !== null && isMeanwhile(error) && <p className="bad">{words.meanwhile}</p>}
        {error !== null && <Failure error={error} />}
        {isQuestioned && (
          <p role="alert" className="question">
            <b>{publishWords.mustQuestion(mustLeftOut.length)}</b> {namesWords(leftOut(mustLeftOut))}
          </p>
        )}
        <p className="buttons">
          <button type="button" className="main" disabled={isAsking} onClick={publish}>
            {isQuestioned ? publishWords.allTheSame : words.publishNow(after + 1)}
          </button>
          <button type="button" onClick={onClose}>
            {words.leave}
          </button>
        </p>
      </div>
    </>
  );
}

const isMeanwhile = (error: Error) =>
  error instanceof Refusal && error.status === 409 && error.breaches.length === 0 && error.faults.length === 0;

async function toLookAt(operationId: string, planId: string, signal: AbortSignal): Promise<ToLookAt> {
  const known = await latestPublication(operationId, signal);
  const nothing = { known, difference: null, worse: null, mustLeftOut: [], crewsOut: 0 };
  if (known?.planId === planId) return nothing;
  const { crews, orders } = await patiently(() => get<WeekView>(pathOf`/api/plans/${planId}/week`, signal), signal);
  if (known === null) {
    const crewsOut = crews.filter(({ days }) => days.some(({ crewDay }) => crewDay !== null)).length;
    return { ...nothing, mustLeftOut: mustBeDoneLeftOut(orders), crewsOut };
  }
  const path = pathOf`/api/plans/${planId}/difference?to=${known.planId}`;
  const [difference, progress] = await Promise.all([
    patiently(() => get<DifferenceAnswer>(path, signal), signal),
    patiently(() => get<PlanProgress>(pathOf`/api/operations/${operationId}/progress`, signal), signal),
  ]);
  const worse = whatIsWorse(difference, orders, progress.stops);
  return { ...nothing, difference, worse, mustLeftOut: worse.mandatory };
}

async function latestPublication(operationId: string, signal: AbortSignal): Promise<Publication | null> {
  try {
    const { body } = await ask<{ publication: Publication }>(pathOf`/api/operations/${operationId}/published`, {
      signal,
    });
    return body.publication;
  } catch (error) {
    if (error instanceof Refusal && error.status === 404) return null;
    throw error;
  }
}
