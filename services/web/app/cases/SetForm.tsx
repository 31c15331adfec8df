import { useEffect, useMemo, useRef, useState } from "react";
import type { CaseSetSummary } from "../../../../shared/contracts/caseSets.ts";
import type { Fault } from "../../../../shared/contracts/problem.ts";
import type { Operation } from "../../../../shared/model/operation.ts";
import { Refusal } from "../api/call.ts";
import { say } from "../kit/Say.tsx";
import { Failure } from "../kit/states.tsx";
import { addressOf, go } from "../place.ts";
import { caseWords as words } from "../strings/cases.ts";
import { common } from "../strings/common.ts";
import { saveCaseSet } from "./calls.ts";
import { CaseForm, nameFromChanges } from "./forms/CaseForm.tsx";
import { CurveForm } from "./forms/CurveForm.tsx";
import { type Draft, newCaseId, withValue } from "./forms/draft.ts";
import { isWithin, placeWords, type Steps } from "./forms/faultPlaces.ts";
import { NumberField, TextField } from "./forms/inputs.tsx";
import { beginChange } from "./forms/kinds.ts";
import { SeasonForm } from "./forms/SeasonForm.tsx";
import { WritingOf } from "./forms/writing.ts";
import { RunForm } from "./RunForm.tsx";
import { VersionChoice } from "./VersionChoice.tsx";

/** What was written and not saved, by what it is a draft of: another room may be looked into meanwhile. */
const unsaved = new Map<string, Draft>();

const mostFaults = 12;

export function SetForm({
  document,
  draftKey,
  isReadOnly,
  latestVersion,
  onSaved,
  operation,
  operationId,
  stored,
}: {
  readonly document: Draft;
  readonly draftKey: string;
  readonly isReadOnly: boolean;
  /** 0: nothing of it is stored. */
  readonly latestVersion: number;
  readonly operation: Operation;
  readonly operationId: string;
  readonly stored: CaseSetSummary | null;
  readonly onSaved: () => void;
}) {
  const [draft, setDraft] = useState<Draft>(() => unsaved.get(draftKey) ?? document);
  const [error, setError] = useState<Error | null>(null);
  const [faults, setFaults] = useState<readonly Fault[]>([]);
  const [isBusy, setIsBusy] = useState(false);
  const [added, setAdded] = useState<unknown>(null);
  const refusal = useRef<HTMLDivElement>(null);
  const isChanged = draft !== document || stored === null || stored.version !== latestVersion;

  useEffect(() => {
    if (draft === document) unsaved.delete(draftKey);
    else unsaved.set(draftKey, draft);
  }, [draft, document, draftKey]);
  useEffect(() => {
    if (draft === document) return;
    const warn = (event: BeforeUnloadEvent) => event.preventDefault();
    window.addEventListener("beforeunload", warn);
    return () => window.removeEventListener("beforeunload", warn);
  }, [draft, document]);
  useEffect(() => {
    if (error !== null) refusal.current?.focus();
  }, [error]);

  const writing = useMemo(
    () => ({
      operation,
      faults,
      isReadOnly,
      put: (place: Steps, value: unknown) => {
        setDraft((before) => withValue(before, [...place], value));
        setFaults((before) => before.filter(({ path }) => !isWithin(path, place)));
      },
    }),
    [operation, faults, isReadOnly],
  );

  const { cases: file, name, season } = draft as { name: unknown; cases: Draft; season?: Draft };
  const cases = Array.isArray(file.cases) ? (file.cases as Draft[]) : [];

  /** Null: it was refused, and why stands on the page. */
  const save = async (): Promise<CaseSetSummary | null> => {
    setIsBusy(true);
    setError(null);
    setFaults([]);
    try {
      const named = cases.map((one) => ({
        ...one,
        name: one.name || nameFromChanges(operation, (one.changes ?? []) as Draft[]),
      }));
      const saved = await saveCaseSet(operationId, { ...draft, cases: { ...file, cases: named } });
      unsaved.delete(draftKey);
      say(
        saved.version === latestVersion && saved.id === stored?.id
          ? words.nothingNew
          : words.saved(saved.name, saved.version),
      );
      return saved;
    } catch (failed) {
      setError(failed as Error);
      setFaults(failed instanceof Refusal ? failed.faults : []);
      return null;
    } finally {
      setIsBusy(false);
    }
  };
  const shownAs = (saved: CaseSetSummary) => {
    if (saved.id === stored?.id && stored.version === latestVersion) onSaved();
    else go(addressOf("cases", "set", saved.id), stored === null);
  };

  return (
    <WritingOf value={writing}>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          save().then((saved) => saved && shownAs(saved));
        }}
      >
        <h1>{String(name || words.newSet)}</h1>
        {stored !== null && <VersionChoice id={stored.id} version={stored.version} latest={latestVersion} />}
        {isReadOnly && <p className="quiet">{words.lookOnly}</p>}
        {!isReadOnly && stored !== null && stored.version !== latestVersion && <p>{words.oldVersion}</p>}
        <div ref={refusal} tabIndex={-1}>
          {error !== null && faults.length === 0 && <Failure error={error} />}
          {faults.length > 0 && <Refused faults={faults} cases={cases} />}
        </div>
        <section className="part">
          <h2>{words.set.basics}</h2>
          <div className="fieldGrid">
            <TextField label={words.set.name} hint={words.set.nameHint} place={["name"]} value={name} longest={120} />
            <NumberField
              label={words.set.weeksPerYear}
              hint={words.set.weeksHint}
              place={["cases", "weeksPerYear"]}
              value={file.weeksPerYear}
              of="count"
            />
            <NumberField
              label={words.set.interest}
              place={["cases", "interestPct"]}
              value={file.interestPct}
              of="count"
            />
          </div>
        </section>
        <section className="part">
          <h2>{words.set.cases}</h2>
          {cases.length === 0 && <p className="quiet">{words.noCases}</p>}
          {cases.map((one, at) => (
            <CaseForm
              key={String(one.id)}
              value={one}
              number={at + 1}
              place={["cases", "cases", at]}
              isOpen={one.id === added}
            />
          ))}
          {!isReadOnly && (
            <button
              type="button"
              onClick={() => {
                const id = newCaseId(cases);
                setAdded(id);
                writing.put(["cases", "cases", cases.length], { id, changes: [beginChange("addAircraft", operation)] });
              }}
            >
              {words.addCase}
            </button>
          )}
        </section>
        <CurveForm curve={file.curve as Draft | undefined} />
        <SeasonForm season={season} />
        {!isReadOnly && (
          <div className="saveBar">
            <button type="submit" className="main" disabled={isBusy || !isChanged}>
              {words.save}
            </button>
            {draft !== document && (
              <>
                <span role="note">{words.unsaved}</span>
                <button
                  type="button"
                  onClick={() => {
                    setDraft(document);
                    setFaults([]);
                    setError(null);
                  }}
                >
                  {words.discard}
                </button>
              </>
            )}
            {stored === null && <a href={addressOf("cases")}>{common.cancel}</a>}
          </div>
        )}
      </form>
      {!isReadOnly && (
        <RunForm
          file={file}
          hasSeason={season !== undefined}
          isChanged={isChanged}
          prepare={async () => (isChanged || stored === null ? save() : stored)}
        />
      )}
    </WritingOf>
  );
}

/** What was refused, each by its place in the form. */
function Refused({ cases, faults }: { readonly faults: readonly Fault[]; readonly cases: readonly Draft[] }) {
  const lines = [
    ...new Set(faults.map(({ expected, path }) => `${placeWords(path, cases)}: ${words.expected(expected)}`)),
  ];
  return (
    <div className="failure" role="alert">
      <p>{words.refused}</p>
      <ul>
        {lines.slice(0, mostFaults).map((line) => (
          <li key={line}>{line}</li>
        ))}
        {lines.length > mostFaults && <li>{words.moreFaults(lines.length - mostFaults)}</li>}
      </ul>
    </div>
  );
}
