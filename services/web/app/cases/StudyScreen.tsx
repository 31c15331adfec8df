import { useCallback, useEffect, useState } from "react";
import type { Comparison } from "../../../../shared/cases/comparison.ts";
import type { Study } from "../../../../shared/contracts/studies.ts";
import { follow } from "../api/follow.ts";
import { say } from "../kit/Say.tsx";
import { errorWords, Shown } from "../kit/states.tsx";
import { useAsked } from "../kit/useAsked.ts";
import { addressOf } from "../place.ts";
import { studyWords as words } from "../strings/studies.ts";
import { BottlenecksView } from "./BottlenecksView.tsx";
import { ComparisonView } from "./ComparisonView.tsx";
import { cancelStudy, fetchCaseSet, fetchOperation, fetchStudy } from "./calls.ts";
import type { Bottlenecks } from "./figures/bottleneckTables.ts";
import { askWords, isGoingOn } from "./studyState.ts";
import { whenWords } from "./when.ts";

interface Opened {
  readonly study: Study;
  readonly setName: string | null;
  /** What people call the bases and trucks of the operation that was studied. */
  readonly nameOf: (id: string) => string;
}

async function open(id: string, signal: AbortSignal): Promise<Opened> {
  const study = await fetchStudy(id, signal);
  const version = study.caseSetVersion === null ? null : String(study.caseSetVersion);
  const set = study.caseSetId === null ? null : await fetchCaseSet(study.caseSetId, version, signal);
  const names = study.kind === "bottlenecks" ? await namesOf(study, signal) : new Map<string, string>();
  return { study, setName: set?.name ?? null, nameOf: (thing) => names.get(thing) ?? thing };
}

async function namesOf({ operationId, version }: Study, signal: AbortSignal): Promise<ReadonlyMap<string, string>> {
  const { fleet, settings } = (await fetchOperation(operationId, version, signal)).document;
  return new Map([...fleet.tenders, ...settings.bases].map(({ id, name }) => [id, name]));
}

/** A run: how far it has come, and what came of it. */
export function StudyScreen({ id }: { readonly id: string }) {
  const asked = useAsked(useCallback((signal: AbortSignal) => open(id, signal), [id]));
  return (
    <div className="cases">
      <p className="back">
        <a href={addressOf("cases")}>{words.toAll}</a>
      </p>
      <Shown asked={asked}>
        {({ nameOf, setName, study }) => (
          <>
            <h1>{setName ?? words.kinds[study.kind]}</h1>
            <StudyFacts study={study} />
            {isGoingOn(study.status) && <Progress study={study} onEnded={asked.again} />}
            <Result study={study} nameOf={nameOf} />
          </>
        )}
      </Shown>
    </div>
  );
}

function StudyFacts({ study }: { readonly study: Study }) {
  const { caseSetId, caseSetVersion, createdAt, endedAt, status, version } = study;
  return (
    <p className="quiet facts">
      <span className={`runState is-${status}`}>{words.states[status]}</span>
      {[
        `${words.begun} ${whenWords(createdAt)}`,
        ...(endedAt === null ? [] : [`${words.ended} ${whenWords(endedAt)}`]),
        ...askWords(study),
        words.ofVersion(version),
      ].join(", ")}
      {caseSetId !== null && (
        <>
          {". "}
          <a href={addressOf("cases", "set", caseSetId)}>{words.toSet}</a>
          {caseSetVersion !== null && `, version ${caseSetVersion}`}
        </>
      )}
    </p>
  );
}

function Progress({ onEnded, study }: { readonly study: Study; readonly onEnded: () => void }) {
  const [progress, setProgress] = useState(study.progress);
  const [isSilent, setIsSilent] = useState(false);
  const [isCancelling, setIsCancelling] = useState(false);
  const { id } = study;
  useEffect(
    () =>
      follow<Study["progress"]>(`/api/studies/${encodeURIComponent(id)}/events`, {
        onProgress: (now) => {
          setProgress(now);
          setIsSilent(false);
        },
        onDone: onEnded,
        onSilence: () => setIsSilent(true),
      }),
    [id, onEnded],
  );
  const hasBegun = progress.share > 0 || progress.ended > 0 || study.status === "running";
  const percent = Math.floor(progress.share * 100);
  return (
    <section className="part">
      <p>{hasBegun ? words.stateText.running : words.stateText.queued}</p>
      <progress max={100} value={percent} aria-label={words.states.running} />
      <p role="status">
        {percent} %. {words.parts(progress.ended, progress.parts)}
        {progress.failed > 0 && `, ${words.failedParts(progress.failed)}`}.
      </p>
      {isSilent && <p className="caseFault">{words.silence}</p>}
      <button
        type="button"
        disabled={isCancelling}
        onClick={() => {
          setIsCancelling(true);
          cancelStudy(id).then(
            () => {
              say(words.cancelling);
              onEnded();
            },
            (error: Error) => {
              setIsCancelling(false);
              say(errorWords(error), true);
            },
          );
        }}
      >
        {words.cancel}
      </button>
    </section>
  );
}

function Result({ nameOf, study }: Pick<Opened, "nameOf" | "study">) {
  const { failure, kind, result, status } = study;
  if (isGoingOn(status)) return null;
  const again = study.caseSetId !== null && (
    <p>
      <a href={addressOf("cases", "set", study.caseSetId)}>{words.runAgain}</a>
    </p>
  );
  if (status === "cancelled")
    return (
      <>
        <p>{words.stateText.cancelled}</p>
        {again}
      </>
    );
  if (status === "failed" || result === null)
    return (
      <div className="failure" role="alert">
        <p>{words.stateText.failed}</p>
        {failure && <p>{failure.message}</p>}
        {again}
      </div>
    );
  if (kind === "cases") return <ComparisonView comparison={result as Comparison} />;
  if (kind === "bottlenecks") return <BottlenecksView found={result as Bottlenecks} nameOf={nameOf} />;
  return <p>{words.remediesElsewhere}</p>;
}
