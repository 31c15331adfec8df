import { useCallback } from "react";
import { Empty, Shown } from "../kit/states.tsx";
import { useAsked } from "../kit/useAsked.ts";
import { addressOf } from "../place.ts";
import { caseWords as words } from "../strings/cases.ts";
import { studyWords } from "../strings/studies.ts";
import { fetchCaseSets } from "./calls.ts";
import { RunsOfOperation } from "./RunsOfOperation.tsx";
import { TightForm } from "./TightForm.tsx";
import { whenWords } from "./when.ts";

/** Where the owner begins: sets of cases, what has been run, and where a plan is tight. */
export function SetsAndRuns({ mayWrite, operationId }: { readonly operationId: string; readonly mayWrite: boolean }) {
  const asked = useAsked(useCallback((signal: AbortSignal) => fetchCaseSets(operationId, signal), [operationId]));
  return (
    <div className="cases">
      <h1>{words.title}</h1>
      <p className="introduction">{words.intro}</p>
      {mayWrite && (
        <p>
          <a className="asButton" href={addressOf("cases", "set", "new")}>
            {words.newSet}
          </a>
        </p>
      )}
      <section className="part">
        <h2>{words.sets}</h2>
        <Shown asked={asked}>
          {(sets) =>
            sets.length === 0 ? (
              <Empty>{mayWrite ? words.noSets : words.noSetsLook}</Empty>
            ) : (
              <ul className="setList">
                {sets.map(({ createdAt, id, name, version }) => (
                  <li key={id}>
                    <a href={addressOf("cases", "set", id)}>{name}</a>
                    <span className="quiet">
                      {words.version(version)}, {whenWords(createdAt)}
                    </span>
                    {mayWrite && (
                      <a href={addressOf("cases", "copy", id)} aria-label={`${words.copy}: ${name}`}>
                        {words.copy}
                      </a>
                    )}
                  </li>
                ))}
              </ul>
            )
          }
        </Shown>
      </section>
      <section className="part">
        <h2>{words.runs}</h2>
        <RunsOfOperation
          operationId={operationId}
          setNames={new Map((asked.value ?? []).map(({ id, name }) => [id, name]))}
        />
      </section>
      <section className="part">
        <h2>{studyWords.tight.title}</h2>
        <TightForm operationId={operationId} />
      </section>
    </div>
  );
}
