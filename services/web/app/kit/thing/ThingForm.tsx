import { useMemo, useState } from "react";
import type { Fault } from "../../../../../shared/contracts/problem.ts";
import { type Path, pathText } from "../../../../../shared/model/faults.ts";
import type { Operation } from "../../../../../shared/model/operation.ts";
import { ask, Refusal, SignedOut } from "../../api/call.ts";
import { tellSignedOut } from "../../session/signedOut.ts";
import { common } from "../../strings/common.ts";
import { formWords as words } from "../../strings/forms.ts";
import { type FormContext, FormFacts } from "../form/context.ts";
import { placeFaults } from "../form/placedFaults.ts";
import { differences, type Shape, withAt } from "../form/shape.ts";
import { say } from "../Say.tsx";
import { Failure } from "../states.tsx";
import { Meanwhile } from "./Meanwhile.tsx";
import { placeWords } from "./placeWords.ts";
import { ThingFields } from "./ThingFields.tsx";
import type { FactsContext } from "./words.ts";
import "./thing.css";

export interface Opened {
  /** As it was read; null: it is new. */
  readonly value: unknown;
  readonly etag: string | null;
}

/** Changes one thing, or adds one. What is not right is said where it is; what somebody else has changed meanwhile is not overwritten unseen. */
export function ThingForm({
  addressOf,
  begin,
  facts,
  fixed,
  kind,
  onCancel,
  onSaved,
  opened: openedFirst,
  operation,
  placeOf,
  shape,
}: {
  readonly kind: string;
  readonly shape: Shape;
  readonly operation: Operation;
  readonly facts: FactsContext;
  /** What a new one begins with. */
  readonly begin: unknown;
  readonly opened: Opened;
  readonly fixed: readonly string[];
  /** Of the thing in the API, by what stands in the form. */
  readonly addressOf: (value: unknown) => string;
  /** Where it stands in the document, for the faults. */
  readonly placeOf: (value: unknown) => Path;
  readonly onSaved: (value: unknown) => void;
  readonly onCancel: () => void;
}) {
  const [opened, setOpened] = useState(openedFirst);
  const [draft, setDraft] = useState<unknown>(openedFirst.value ?? begin);
  const [faults, setFaults] = useState<readonly Fault[]>([]);
  const [error, setError] = useState<Error | null>(null);
  const [theirs, setTheirs] = useState<Opened | null>(null);
  const [isBusy, setIsBusy] = useState(false);
  const { elsewhere, within } = placeFaults(faults, placeOf(draft));
  const context = useMemo<FormContext>(
    () => ({
      ...facts,
      faults: within,
      fixed: opened.etag === null ? [] : fixed,
      put: (path, value) => setDraft((before: unknown) => withAt(before, path, value)),
    }),
    [facts, within, fixed, opened.etag],
  );

  const save = async (known: Opened) => {
    setIsBusy(true);
    setError(null);
    setFaults([]);
    const address = addressOf(draft);
    try {
      const condition = known.etag === null ? { ifNew: true } : { ifMatch: known.etag };
      await ask(address, { method: "PUT", body: draft, ...condition });
      say(words.saved);
      onSaved(draft);
    } catch (failed) {
      if (failed instanceof SignedOut) tellSignedOut();
      if (failed instanceof Refusal && failed.status === 412) setTheirs(await storedAt(address));
      else if (failed instanceof Refusal && failed.faults.length > 0) setFaults(failed.faults);
      else setError(failed as Error);
    } finally {
      setIsBusy(false);
    }
  };
  const begun = opened.value ?? begin;
  const isChanged = differences([begun, draft]).length > 0;

  return (
    <FormFacts value={context}>
      <form
        className="thingForm"
        noValidate
        onSubmit={(event) => {
          event.preventDefault();
          if (isChanged) save(opened).catch(setError);
          else say(words.unchanged);
        }}
      >
        {theirs && (
          <Meanwhile
            opened={opened.value}
            theirs={theirs.value}
            mine={draft}
            facts={facts}
            onTheirs={() => {
              if (theirs.value === null) return onCancel();
              setOpened(theirs);
              setDraft(theirs.value);
              setTheirs(null);
            }}
            onMine={() => {
              setOpened({ value: opened.value, etag: theirs.etag });
              setTheirs(null);
              save(theirs).catch(setError);
            }}
          />
        )}
        <ThingFields kind={kind} shape={shape} draft={draft} operation={operation} />
        {within.length > 0 && <FaultSummary title={words.faultsHere(within.length)} faults={within} />}
        {elsewhere.length > 0 && <FaultSummary title={words.faultsElsewhere} faults={elsewhere} />}
        {error && <Failure error={error} />}
        <p className="buttons">
          <button type="submit" className="main" disabled={isBusy || theirs !== null}>
            {common.save}
          </button>
          <button type="button" onClick={onCancel}>
            {common.cancel}
          </button>
        </p>
      </form>
    </FormFacts>
  );
}

async function storedAt(address: string): Promise<Opened> {
  try {
    const { body, etag } = await ask<unknown>(address);
    return { value: body, etag };
  } catch (error) {
    if (error instanceof Refusal && error.status === 404) return { value: null, etag: null };
    throw error;
  }
}

function FaultSummary({ faults, title }: { readonly title: string; readonly faults: readonly Fault[] }) {
  return (
    <div className="failure" role="alert">
      <p>
        {title} {words.nothingStored}
      </p>
      <ul>
        {faults.map(({ expected, path }) => (
          <li key={`${pathText(path)} ${expected}`}>
            <b>{placeWords(path)}</b> {words.expected(expected)}
          </li>
        ))}
      </ul>
    </div>
  );
}
