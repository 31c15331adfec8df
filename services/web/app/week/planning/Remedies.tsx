import { useState } from "react";
import type { GroupRemedies, Remedy } from "../../../../../shared/cases/remedy.ts";
import { inUnits } from "../../../../../shared/units/inUnits.ts";
import { pathOf, Refusal } from "../../api/call.ts";
import { Dialog } from "../../kit/Dialog.tsx";
import { say } from "../../kit/Say.tsx";
import { Failure } from "../../kit/states.tsx";
import { common } from "../../strings/common.ts";
import { unplannedWords as words } from "../../strings/unplanned.ts";
import { useUnits } from "../../units/units.ts";
import { changeThing } from "./changeThing.ts";
import { type ThingChange, thingChangeOf } from "./putIn.ts";
import { remedyDeed, remedyEffects } from "./remedyWords.ts";
import { moneyWords } from "./times.ts";
import type { RemediesOfPlan } from "./useRemedies.ts";

/** Asks what would help, and tells how far that has come. */
export function AskRemedies({ remedies: { ask, isOpen, stop, study } }: { readonly remedies: RemediesOfPlan }) {
  if (isOpen && study !== null) {
    const { share } = study.progress;
    return (
      <div className="askRemedies" role="status">
        <p>
          {words.looking}. {study.status === "queued" ? words.queued : words.lookingShare(Math.round(share * 100))}
        </p>
        <progress value={share} max={1} aria-label={words.looking} />
        <button type="button" onClick={stop}>
          {words.stop}
        </button>
      </div>
    );
  }
  return (
    <div className="askRemedies">
      {study?.status === "failed" && (
        <p className="bad">
          {words.failed} {study.failure?.message}
        </p>
      )}
      {study?.status === "cancelled" && <p>{words.stopped}</p>}
      <button type="button" onClick={() => ask()}>
        {study === null ? words.helpAll : words.again}
      </button>
      {study === null && <p className="quiet">{words.helpText}</p>}
    </div>
  );
}

interface FoundRemediesProps {
  readonly operationId: string;
  readonly remedies: RemediesOfPlan;
  readonly currency: string;
  readonly mayPutIn: boolean;
  readonly onOperationChanged: () => void;
}

export function FoundRemedies(props: FoundRemediesProps) {
  const { result, study } = props.remedies;
  if (result === null) return null;
  const of = study?.ask.orderId;
  const helpful = result.groups.filter(({ remedies }) => remedies.length > 0);
  return (
    <section className="foundRemedies" aria-label={words.found}>
      <h3>
        {words.found}
        {typeof of === "string" && `: ${of}`}
      </h3>
      {helpful.length === 0 && <p>{words.nothing}</p>}
      {helpful.map((group) => (
        <Group key={`${group.group.kind} ${group.group.orderIds.join(" ")}`} {...props} group={group} />
      ))}
      <p className="quiet">
        {words.triedWords(
          result.groups.reduce((sum, { tried }) => sum + tried, 0),
          result.groups.reduce((sum, { leftOut }) => sum + leftOut, 0),
        )}
      </p>
    </section>
  );
}

function Group({ group: { group, remedies }, ...props }: FoundRemediesProps & { readonly group: GroupRemedies }) {
  return (
    <>
      <h4>{words.foundFor(group.orderIds.join(", "))}</h4>
      <ul>
        {remedies.map((remedy) => (
          <OneRemedy key={remedy.sentence} {...props} remedy={remedy} />
        ))}
      </ul>
    </>
  );
}

function OneRemedy({
  currency,
  mayPutIn,
  onOperationChanged,
  operationId,
  remedy,
}: FoundRemediesProps & { readonly remedy: Remedy }) {
  const units = useUnits();
  const [isAsking, setIsAsking] = useState(false);
  const [isDone, setIsDone] = useState(false);
  const effects = remedyEffects(remedy, units.areaHa, (cents) => moneyWords(cents, currency));
  const changes = remedy.changes.map(thingChangeOf);
  const own = changes.filter((one) => one !== null);
  const deed = inUnits(remedyDeed(remedy), units);
  return (
    <li>
      <b>{deed}</b>
      <ul className="effects">
        {effects.map((effect) => (
          <li key={effect}>{effect}</li>
        ))}
      </ul>
      {own.length < changes.length && <p className="quiet">{words.elsewhere}</p>}
      {isDone && <p className="good">{words.putInDone}</p>}
      {mayPutIn && !isDone && own.length === changes.length && (
        <button type="button" aria-label={words.putInOf(deed)} onClick={() => setIsAsking(true)}>
          {words.putIn}
        </button>
      )}
      {isAsking && (
        <PutIn
          operationId={operationId}
          deed={deed}
          changes={own}
          asksGrower={remedy.askGrower}
          onClose={() => setIsAsking(false)}
          onDone={() => {
            setIsAsking(false);
            setIsDone(true);
            say(words.putInDone);
            onOperationChanged();
          }}
        />
      )}
    </li>
  );
}

function PutIn({
  asksGrower,
  changes,
  deed,
  onClose,
  onDone,
  operationId,
}: {
  readonly operationId: string;
  readonly deed: string;
  readonly changes: readonly ThingChange[];
  readonly asksGrower: boolean;
  readonly onClose: () => void;
  readonly onDone: () => void;
}) {
  const [hasAgreed, setHasAgreed] = useState(!asksGrower);
  const [isAsking, setIsAsking] = useState(false);
  const [problem, setProblem] = useState<string | null>(null);
  const [error, setError] = useState<Error | null>(null);
  const putIn = async () => {
    for (const { changed, id, resource } of changes) {
      const path = pathOf`/api/operations/${operationId}/${resource}/${id}`;
      if ((await changeThing<unknown>(path, changed)) === null) {
        setProblem(words.cannotShift);
        return;
      }
    }
    onDone();
  };
  const onPutIn = () => {
    setIsAsking(true);
    setProblem(null);
    setError(null);
    putIn()
      .catch((failed: Error) => {
        if (failed instanceof Refusal && failed.status === 412) setProblem(words.changedMeanwhile);
        else setError(failed);
      })
      .finally(() => setIsAsking(false));
  };
  return (
    <Dialog title={words.putInTitle} onClose={onClose}>
      <p>
        <b>{deed}</b>
      </p>
      <p>{words.putInText}</p>
      {asksGrower && (
        <label className="inline">
          <input type="checkbox" checked={hasAgreed} onChange={({ target }) => setHasAgreed(target.checked)} />
          {words.agreed}
        </label>
      )}
      {problem !== null && (
        <p className="bad" role="alert">
          {problem}
        </p>
      )}
      {error !== null && <Failure error={error} />}
      <p className="buttons">
        <button type="button" className="main" disabled={!hasAgreed || isAsking} onClick={onPutIn}>
          {words.putIn}
        </button>
        <button type="button" onClick={onClose}>
          {common.cancel}
        </button>
      </p>
    </Dialog>
  );
}
