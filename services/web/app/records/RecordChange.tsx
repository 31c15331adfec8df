import { useId, useState } from "react";
import type { ApplicationRecord } from "../../../../shared/contracts/applicationRecords.ts";
import type { ByHand } from "../../../../shared/done/applicationRecord.ts";
import { say } from "../kit/Say.tsx";
import { Failure } from "../kit/states.tsx";
import { common } from "../strings/common.ts";
import { recordWords as words } from "../strings/records.ts";
import { useUnitSystem } from "../units/units.ts";
import { byHandOf, type FormField, formFields, type RecordForm } from "./recordForm.ts";

/** Completes a record or puts it right; what is missing comes first. */
export function RecordChange({
  onStore,
  told,
}: {
  readonly told: ApplicationRecord;
  readonly onStore: (change: { readonly byHand: ByHand; readonly reason: string }) => Promise<void>;
}) {
  const system = useUnitSystem();
  const [given, setGiven] = useState<RecordForm>({});
  const [reason, setReason] = useState("");
  const [faults, setFaults] = useState<readonly string[]>([]);
  const [error, setError] = useState<Error | null>(null);
  const [isBusy, setIsBusy] = useState(false);
  const reasonId = useId();
  return (
    <form
      className="recordChange"
      onSubmit={(event) => {
        event.preventDefault();
        setError(null);
        const outcome = byHandOf(told, given, system);
        if (!outcome.ok) return setFaults(outcome.faults);
        if (!outcome.isChanged) return setFaults([words.nothingChanged]);
        setFaults([]);
        setIsBusy(true);
        onStore({ byHand: outcome.byHand, reason })
          .then(() => say(words.stored), setError)
          .finally(() => setIsBusy(false));
      }}
    >
      <p>{words.changeText}</p>
      {formFields(told, system).map((field) => (
        <FieldOf
          key={field.key}
          field={field}
          value={given[field.key] ?? field.text}
          onChange={(text) => setGiven((before) => ({ ...before, [field.key]: text }))}
        />
      ))}
      <label>
        {words.reason}
        <input
          required
          maxLength={500}
          value={reason}
          aria-describedby={reasonId}
          onChange={({ target }) => setReason(target.value)}
        />
        <small id={reasonId}>{words.reasonHint}</small>
      </label>
      {faults.length > 0 && (
        <ul className="failure" role="alert">
          {faults.map((fault) => (
            <li key={fault}>{fault}</li>
          ))}
        </ul>
      )}
      {error && <Failure error={error} />}
      <button type="submit" className="main" disabled={isBusy}>
        {common.save}
      </button>
    </form>
  );
}

function FieldOf({
  field: { hint, kind, label, unit },
  onChange,
  value,
}: {
  readonly field: FormField;
  readonly value: string;
  readonly onChange: (text: string) => void;
}) {
  const [id, hintId] = [useId(), useId()];
  const described = hint ? hintId : undefined;
  return (
    <div className="field">
      <label htmlFor={id}>{unit ? `${label} (${unit})` : label}</label>
      {kind === "lines" ? (
        <textarea
          id={id}
          rows={2}
          value={value}
          aria-describedby={described}
          onChange={({ target }) => onChange(target.value)}
        />
      ) : (
        <input
          id={id}
          type={kind === "time" ? "datetime-local" : "text"}
          inputMode={kind === "number" ? "decimal" : undefined}
          value={value}
          aria-describedby={described}
          onChange={({ target }) => onChange(target.value)}
        />
      )}
      {hint && <small id={hintId}>{hint}</small>}
    </div>
  );
}
