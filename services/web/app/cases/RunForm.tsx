import { useMemo, useState } from "react";
import type { CaseSetSummary } from "../../../../shared/contracts/caseSets.ts";
import { say } from "../kit/Say.tsx";
import { Failure } from "../kit/states.tsx";
import { addressOf, go } from "../place.ts";
import { studyWords as words } from "../strings/studies.ts";
import { beginCases } from "./calls.ts";
import type { Draft } from "./forms/draft.ts";
import type { Steps } from "./forms/faultPlaces.ts";
import { ChoiceField, NumberField } from "./forms/inputs.tsx";
import { useWriting, WritingOf } from "./forms/writing.ts";
import { casesAsked, plansOf, type RunWanted } from "./runAsk.ts";

const usualSeeds = 3;
const usualWeeks = 20;

/** Begins a run of the set; what is not saved yet is saved first. */
export function RunForm({
  file,
  hasSeason,
  isChanged,
  prepare,
}: {
  readonly file: Draft;
  readonly hasSeason: boolean;
  readonly isChanged: boolean;
  /** The set as it is saved; null: it was refused. */
  readonly prepare: () => Promise<CaseSetSummary | null>;
}) {
  const around = useWriting();
  const [wanted, setWanted] = useState<RunWanted>({
    over: "week",
    weeks: usualWeeks,
    seeds: file.seeds ?? usualSeeds,
    iterations: null,
  });
  const [error, setError] = useState<Error | null>(null);
  const [isBusy, setIsBusy] = useState(false);
  const over = hasSeason ? wanted.over : "week";
  const plans = plansOf({ ...wanted, over }, file);
  // The fields are those of the other forms; what they put goes into what is wanted here.
  const writing = useMemo(
    () => ({
      ...around,
      faults: [],
      put: ([member]: Steps, value: unknown) => setWanted((before) => ({ ...before, [member!]: value })),
    }),
    [around],
  );
  return (
    <form
      className="part runForm"
      onSubmit={async (event) => {
        event.preventDefault();
        setIsBusy(true);
        setError(null);
        try {
          const set = await prepare();
          if (set === null) return;
          const { id } = await beginCases(set.id, casesAsked({ ...wanted, over }));
          say(words.started);
          go(addressOf("cases", "run", id));
        } catch (failed) {
          setError(failed as Error);
        } finally {
          setIsBusy(false);
        }
      }}
    >
      <h2>{words.runTitle}</h2>
      <WritingOf value={writing}>
        <div className="fieldGrid">
          <ChoiceField
            label={words.over}
            place={["over"]}
            value={over}
            hint={hasSeason ? undefined : words.noSeason}
            choices={[
              { id: "week", words: words.thisWeek },
              ...(hasSeason ? [{ id: "season", words: words.sampled }] : []),
            ]}
            onChoose={(id) => {
              const next = id === "season" ? "season" : "week";
              // What a search leaves to chance goes under in many weeks: there one plan of each is enough.
              setWanted((before) => ({
                ...before,
                over: next,
                seeds: next === "season" ? 1 : (file.seeds ?? usualSeeds),
              }));
            }}
          />
          {over === "season" && (
            <NumberField label={words.weeks} hint={words.weeksHint} place={["weeks"]} value={wanted.weeks} of="count" />
          )}
          <NumberField label={words.seeds} hint={words.seedsHint} place={["seeds"]} value={wanted.seeds} of="count" />
          <ChoiceField
            label={words.effort}
            place={["iterations"]}
            value={wanted.iterations ?? undefined}
            whenEmpty={words.asSet}
            choices={Object.entries(words.efforts).map(([id, label]) => ({ id: Number(id), words: label }))}
            onChoose={(id) => setWanted((before) => ({ ...before, iterations: id ?? null }))}
          />
        </div>
      </WritingOf>
      {error !== null && <Failure error={error} />}
      <p>
        <button type="submit" className="main" disabled={isBusy || plans === null}>
          {isChanged ? words.saveAndRun : words.run}
        </button>{" "}
        {plans !== null && <span className="quiet">{words.plans(plans)}</span>}
      </p>
    </form>
  );
}
