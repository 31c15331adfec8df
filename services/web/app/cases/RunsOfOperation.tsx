import { useCallback, useEffect, useState } from "react";
import type { StudySummary } from "../../../../shared/contracts/studies.ts";
import { say } from "../kit/Say.tsx";
import { Empty, errorWords, Shown } from "../kit/states.tsx";
import { useAsked } from "../kit/useAsked.ts";
import { addressOf } from "../place.ts";
import { caseWords } from "../strings/cases.ts";
import { studyWords as words } from "../strings/studies.ts";
import { fetchStudies, shownKinds } from "./calls.ts";
import { askWords, isGoingOn } from "./studyState.ts";
import { whenWords } from "./when.ts";

const againAfterMs = 5_000;

/** What was run, newest first; while something runs it is asked again. */
export function RunsOfOperation({
  operationId,
  setNames,
  caseSetId = null,
}: {
  readonly operationId: string;
  readonly setNames: ReadonlyMap<string, string>;
  /** Those of one set only. */
  readonly caseSetId?: string | null;
}) {
  const asked = useAsked(useCallback((signal: AbortSignal) => fetchStudies(operationId, null, signal), [operationId]));
  const [older, setOlder] = useState<readonly StudySummary[]>([]);
  const [next, setNext] = useState<string | null>();
  const runs = asked.value?.studies;
  const isGoing = runs?.some(({ status }) => isGoingOn(status)) ?? false;
  const { again } = asked;
  useEffect(() => {
    if (!isGoing) return;
    const timer = setInterval(again, againAfterMs);
    return () => clearInterval(timer);
  }, [isGoing, again]);
  const after = next === undefined ? (asked.value?.next ?? null) : next;
  return (
    <Shown asked={asked}>
      {({ studies }) => {
        const known = new Set(studies.map(({ id }) => id));
        const all = [...studies, ...older.filter(({ id }) => !known.has(id))].filter(
          (one) => shownKinds.includes(one.kind) && (caseSetId === null || one.caseSetId === caseSetId),
        );
        return (
          <>
            {all.length === 0 && <Empty>{caseWords.noRuns}</Empty>}
            {all.length > 0 && (
              <ul className="runList">
                {all.map((study) => (
                  <Run key={study.id} study={study} setName={setNames.get(study.caseSetId ?? "")} />
                ))}
              </ul>
            )}
            {after !== null && (
              <button
                type="button"
                onClick={() =>
                  fetchStudies(operationId, after).then(
                    (page) => {
                      setOlder((before) => [...before, ...page.studies]);
                      setNext(page.next);
                    },
                    (error: Error) => say(errorWords(error), true),
                  )
                }
              >
                {words.older}
              </button>
            )}
          </>
        );
      }}
    </Shown>
  );
}

function Run({ setName, study }: { readonly study: StudySummary; readonly setName: string | undefined }) {
  const { createdAt, id, kind, progress, status } = study;
  return (
    <li>
      <a href={addressOf("cases", "run", id)}>
        {kind === "cases" ? (setName ?? words.kinds.cases) : words.kinds[kind]}
      </a>
      <span className={`runState is-${status}`}>
        {words.states[status]}
        {status === "running" && `, ${Math.floor(progress.share * 100)} %`}
      </span>
      <span className="quiet">{[whenWords(createdAt), ...askWords(study)].join(", ")}</span>
    </li>
  );
}
