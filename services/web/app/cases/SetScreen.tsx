import { useCallback, useState } from "react";
import type { CaseSetVersion } from "../../../../shared/contracts/caseSets.ts";
import type { Operation } from "../../../../shared/model/operation.ts";
import { Shown } from "../kit/states.tsx";
import { useAsked } from "../kit/useAsked.ts";
import { addressOf } from "../place.ts";
import { caseWords as words } from "../strings/cases.ts";
import { studyWords } from "../strings/studies.ts";
import { fetchCaseSet, fetchOperation } from "./calls.ts";
import { copyName, type Draft, emptySet } from "./forms/draft.ts";
import { RunsOfOperation } from "./RunsOfOperation.tsx";
import { SetForm } from "./SetForm.tsx";

interface Opened {
  readonly set: CaseSetVersion | null;
  readonly latestVersion: number;
  readonly operationId: string;
  readonly operation: Operation;
}

async function open(
  id: string | null,
  version: string | null,
  operationId: string,
  signal: AbortSignal,
): Promise<Opened> {
  const set = id === null ? null : await fetchCaseSet(id, version, signal);
  const latest = id === null || version === null ? set : await fetchCaseSet(id, null, signal);
  const { document } = await fetchOperation(set?.operationId ?? operationId, null, signal);
  return {
    set,
    latestVersion: latest?.version ?? 0,
    operationId: set?.operationId ?? operationId,
    operation: document,
  };
}

/** A set of cases: new, a copy of another, the latest version of one or an older one. */
export function SetScreen({
  id,
  isCopy,
  mayWrite,
  operationId = "",
  version,
}: {
  readonly id: string | null;
  readonly version: string | null;
  readonly isCopy: boolean;
  readonly mayWrite: boolean;
  readonly operationId?: string;
}) {
  // After it is saved what is stored is asked for again, and the form begins from that.
  const [saves, setSaves] = useState(0);
  const asked = useAsked(
    useCallback(
      (signal: AbortSignal) => open(id, version, operationId, signal).then((opened) => ({ ...opened, saves })),
      [id, version, operationId, saves],
    ),
  );
  return (
    <div className="cases">
      <p className="back">
        <a href={addressOf("cases")}>{studyWords.toAll}</a>
      </p>
      <Shown asked={asked}>
        {({ latestVersion, operation, operationId: ofOperation, saves: at, set }) => {
          const document = set === null ? emptySet() : (set.document as Draft);
          const begun = isCopy ? { ...document, name: copyName(set?.name ?? "") } : document;
          return (
            <>
              <SetForm
                key={`${set?.id} ${set?.version} ${at}`}
                draftKey={`${isCopy ? "copy" : "set"} ${id} ${version}`}
                document={begun}
                operation={operation}
                operationId={ofOperation}
                stored={isCopy ? null : set}
                latestVersion={latestVersion}
                isReadOnly={!mayWrite}
                onSaved={() => setSaves((count) => count + 1)}
              />
              {set !== null && !isCopy && (
                <section className="part">
                  <h2>{words.runs}</h2>
                  <RunsOfOperation
                    operationId={ofOperation}
                    caseSetId={set.id}
                    setNames={new Map([[set.id, set.name]])}
                  />
                </section>
              )}
            </>
          );
        }}
      </Shown>
    </div>
  );
}
