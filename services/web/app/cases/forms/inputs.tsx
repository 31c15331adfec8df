import { useState } from "react";
import { changeWordsOfForms } from "../../strings/caseChanges.ts";
import { caseWords } from "../../strings/cases.ts";
import { useUnitSystem } from "../../units/units.ts";
import { Field } from "./Field.tsx";
import type { Steps } from "./faultPlaces.ts";
import { type Quantity, shownOf, storedOf, typedNumber, unitOf } from "./quantity.ts";
import type { Choice } from "./things.ts";
import { useWriting } from "./writing.ts";

interface At {
  readonly label: string;
  readonly place: Steps;
  readonly value: unknown;
  readonly hint?: string | undefined;
}

/** A number in the units that were chosen; stored under the unit of its name. */
export function NumberField({
  label,
  place,
  value,
  hint,
  of,
  present,
  whenEmpty,
}: At & {
  readonly of: Quantity;
  readonly whenEmpty?: string | undefined;
  /** What holds when it is left empty, where that is known. */
  readonly present?: unknown;
}) {
  const system = useUnitSystem();
  const { isReadOnly, operation, put } = useWriting();
  const unit = unitOf(of, system, operation.settings.currency);
  const stored = typeof value === "number" ? String(shownOf(of, system, value)) : String(value ?? "");
  // While somebody types the text stays as it is typed: "1." is on its way to 1.5.
  const [typed, setTyped] = useState<string | null>(null);
  return (
    <Field
      label={unit === "" ? label : `${label}, ${unit}`}
      place={place}
      hint={
        whenEmpty
          ? caseWords.whenEmpty(whenEmpty, typeof present === "number" ? String(shownOf(of, system, present)) : null)
          : hint
      }
    >
      {(carried) => (
        <input
          {...carried}
          inputMode="decimal"
          autoComplete="off"
          readOnly={isReadOnly}
          value={typed ?? stored}
          onBlur={() => setTyped(null)}
          onChange={({ target }) => {
            setTyped(target.value);
            const number = typedNumber(target.value);
            put(place, typeof number === "number" ? storedOf(of, system, number) : number);
          }}
        />
      )}
    </Field>
  );
}

/** Text, a day (2027-06-14), a time of day (05:30) or both as the browser asks for them. */
export function TextField({
  label,
  place,
  value,
  hint,
  type = "text",
  longest,
  placeholder,
}: At & {
  readonly type?: "text" | "date" | "time" | "datetime-local";
  readonly longest?: number;
  readonly placeholder?: string | undefined;
}) {
  const { isReadOnly, put } = useWriting();
  return (
    <Field label={label} place={place} hint={hint}>
      {(carried) => (
        <input
          {...carried}
          type={type}
          readOnly={isReadOnly}
          autoComplete="off"
          maxLength={longest}
          placeholder={placeholder}
          value={typeof value === "string" ? value : ""}
          onChange={({ target }) => put(place, target.value === "" && type !== "text" ? undefined : target.value)}
        />
      )}
    </Field>
  );
}

/** One of several; without `whenEmpty` there is always one. */
export function ChoiceField<Id extends string | boolean | number>({
  label,
  place,
  value,
  hint,
  choices,
  whenEmpty,
  onChoose,
}: At & {
  readonly choices: readonly { readonly id: Id; readonly words: string }[];
  readonly whenEmpty?: string | undefined;
  readonly onChoose?: (id: Id | undefined) => void;
}) {
  const { isReadOnly, put } = useWriting();
  const isKnown = choices.some(({ id }) => id === value);
  return (
    <Field label={label} place={place} hint={hint}>
      {(carried) => (
        <select
          {...carried}
          disabled={isReadOnly}
          value={isKnown ? String(value) : ""}
          onChange={({ target }) => {
            const chosen = choices.find(({ id }) => String(id) === target.value)?.id;
            if (onChoose) onChoose(chosen);
            else put(place, chosen);
          }}
        >
          {(whenEmpty !== undefined || !isKnown) && <option value="">{whenEmpty ?? changeWordsOfForms.choose}</option>}
          {choices.map(({ id, words }) => (
            <option key={String(id)} value={String(id)}>
              {words}
            </option>
          ))}
        </select>
      )}
    </Field>
  );
}

/** Any of several, each to be ticked. `whenNone`: what is stored when none is. */
export function ChoicesField({
  label,
  place,
  value,
  choices,
  whenNone,
}: At & { readonly choices: readonly Choice[]; readonly whenNone: readonly string[] | undefined }) {
  const { isReadOnly, put } = useWriting();
  const chosen = Array.isArray(value) ? (value as string[]) : [];
  if (choices.length === 0) return null;
  return (
    <fieldset className="caseChoices">
      <legend>{label}</legend>
      {choices.map(({ id, words }) => (
        <label key={id} className="inline">
          <input
            type="checkbox"
            disabled={isReadOnly}
            checked={chosen.includes(id)}
            onChange={({ target }) => {
              const next = choices
                .map((one) => one.id)
                .filter((one) => (one === id ? target.checked : chosen.includes(one)));
              put(place, next.length === 0 ? whenNone : next);
            }}
          />
          {words}
        </label>
      ))}
    </fieldset>
  );
}
