import { useCallback, useState } from "react";
import type { Publication, StoredPlan } from "../../../../../shared/contracts/plans.ts";
import type { DifferenceAnswer } from "../../../../../shared/contracts/replans.ts";
import { ask, get, pathOf, post, Refusal } from "../../api/call.ts";
import { Dialog } from "../../kit/Dialog.tsx";
import { say } from "../../kit/Say.tsx";
import { Failure, Shown } from "../../kit/states.tsx";
import { useAsked } from "../../kit/useAsked.ts";
import { planningWords as words } from "../../strings/planning.ts";
import { replanWords } from "../../strings/replan.ts";
import { useUnits } from "../../units/units.ts";
import { Difference } from "./Difference.tsx";
import { patiently } from "./patiently.ts";
import { momentWords, moneyWords } from "./times.ts";

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
  readonly crewsOut: number;
}

/** Tells crews a plan, after a look at what is otherwise than they know. */
export function PublishPlan(props: PublishPlanProps) {
  const { isAgain, onClose, operationId, planId } = props;
  const asked = useAsked(
    useCallback(
      async (signal: AbortSignal): Promise<ToLookAt> => {
        const known = await latestPublication(operationId, signal);
        if (known === null) {
          const { plan } = await get<StoredPlan>(pathOf`/api/plans/${planId}`, signal);
          return { known, difference: null, crewsOut: new Set(plan.crewDays.map(({ crewId }) => crewId)).size };
        }
        if (known.planId === planId) return { known, difference: null, crewsOut: 0 };
        const path = pathOf`/api/plans/${planId}/difference?to=${known.planId}`;
        const difference = await patiently(() => get<DifferenceAnswer>(path, signal), signal);
        return { known, difference, crewsOut: 0 };
      },
      [operationId, planId],
    ),
  );
  return (
    <Dialog title={isAgain ? replanWords.acceptTitle : words.publishTitle} onClose={onClose}>
      <p>{isAgain ? replanWords.acceptText : words.publishText}</p>
      <Shown asked={asked}>{(toLookAt) => <Look {...props} {...toLookAt} onAgain={asked.again} />}</Shown>
    </Dialog>
  );
}

function Look({
  crewsOut,
  currency,
  difference,
  known,
  onAgain,
  onClose,
  onLinks,
  onPublished,
  onShow,
  planId,
  timeZone,
}: PublishPlanProps & ToLookAt & { readonly onAgain: () => void }) {
  const [note, setNote] = useState("");
  const [isAsking, setIsAsking] = useState(false);
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
        <p>{words.againstKnown(known.number, known.byName, momentWords(known.createdAt, timeZone))}</p>
      )}
      {difference !== null && (
        <>
          <ComesTo difference={difference} currency={currency} />
          <Difference difference={difference} />
        </>
      )}
      <div className="dialogFoot">
        {error !== null && isMeanwhile(error) && <p className="bad">{words.meanwhile}</p>}
        {error !== null && <Failure error={error} />}
        <label>
          {words.noteLabel}
          <textarea value={note} maxLength={2000} rows={2} onChange={({ target }) => setNote(target.value)} />
          <small>{words.noteHint}</small>
        </label>
        <p className="buttons">
          <button type="button" className="main" disabled={isAsking} onClick={publish}>
            {words.publishNow(after + 1)}
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

/** Before and now, of the days that both plans have. */
function ComesTo({
  currency,
  difference: { before, now },
}: {
  readonly difference: DifferenceAnswer;
  readonly currency: string;
}) {
  const units = useUnits();
  const facts: readonly [string, string, string][] = [
    [words.figures.planned, units.areaHa(before.servedHa), units.areaHa(now.servedHa)],
    [words.figures.road, units.roadKm(before.roadKm), units.roadKm(now.roadKm)],
    [words.figures.cost, moneyWords(before.totalCents, currency), moneyWords(now.totalCents, currency)],
  ];
  return (
    <ul className="comesTo">
      {facts.map(([title, was, is]) => (
        <li key={title}>{words.wasIs(title, was, is)}</li>
      ))}
    </ul>
  );
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
