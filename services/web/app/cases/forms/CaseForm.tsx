import type { Change } from "../../../../../shared/cases/change.ts";
import { changesWords } from "../../../../../shared/cases/changeWords.ts";
import type { Operation } from "../../../../../shared/model/operation.ts";
import { caseWords as words } from "../../strings/cases.ts";
import { changeWordsIn } from "../figures/changeWords.ts";
import { BuysForm } from "./BuysForm.tsx";
import { ChangeForm } from "./ChangeForm.tsx";
import type { Draft } from "./draft.ts";
import { Faults } from "./Field.tsx";
import { faultsOfWhole, isWithin, type Steps } from "./faultPlaces.ts";
import { TextField } from "./inputs.tsx";
import { beginChange } from "./kinds.ts";
import { useWriting } from "./writing.ts";

const mostNameCharacters = 80;

/** The changes in a few words; of what is still being written nothing. */
function wordsOfChanges(operation: Operation, changes: readonly Draft[]): string {
  try {
    return changesWords(operation, changes as unknown as readonly Change[]);
  } catch {
    return "";
  }
}

/** A name from the changes, where the owner gives none. */
export function nameFromChanges(operation: Operation, changes: readonly Draft[]): string {
  // A name is kept, and read by people with either units.
  return changeWordsIn(wordsOfChanges(operation, changes), "metric").slice(0, mostNameCharacters);
}

export function CaseForm({
  isOpen,
  number,
  place,
  value,
}: {
  readonly value: Draft;
  readonly number: number;
  readonly place: Steps;
  readonly isOpen: boolean;
}) {
  const { faults, isReadOnly, operation, put } = useWriting();
  const changes = Array.isArray(value.changes) ? (value.changes as Draft[]) : [];
  const fromChanges = nameFromChanges(operation, changes);
  const isFaulty = faults.some(({ path }) => isWithin(path, place));
  return (
    <details className={isFaulty ? "caseForm isFaulty" : "caseForm"} open={isOpen || isFaulty || undefined}>
      <summary>
        {words.caseNumber(number)}: {String(value.name || fromChanges)}
      </summary>
      <Faults faults={faultsOfWhole(faults, place).map(({ expected }) => expected)} />
      <div className="fieldGrid wideFirst">
        <TextField
          label={words.caseName}
          hint={words.caseNameHint}
          place={[...place, "name"]}
          value={value.name}
          longest={mostNameCharacters}
          placeholder={fromChanges}
        />
      </div>
      <ol className="changes">
        {changes.map((change, at) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: changes have nothing else to be told apart by.
          <li key={`${changes.length} ${at}`}>
            <ChangeForm change={change} place={[...place, "changes", at]} />
            {!isReadOnly && changes.length > 1 && (
              <button type="button" onClick={() => put([...place, "changes", at], undefined)}>
                {words.removeChange}
              </button>
            )}
          </li>
        ))}
      </ol>
      {!isReadOnly && (
        <button
          type="button"
          onClick={() => put([...place, "changes", changes.length], beginChange("addAircraft", operation))}
        >
          {words.addChange}
        </button>
      )}
      <BuysForm title={words.buys.title} value={value.buys} place={[...place, "buys"]} />
      {!isReadOnly && (
        <p>
          <button type="button" onClick={() => put(place, undefined)}>
            {words.removeCase}
          </button>
        </p>
      )}
    </details>
  );
}
