import { copyOf, newId } from "../../../../../shared/cases/edit.ts";
import { valueAt } from "../../../../../shared/model/faults.ts";
import type { Order } from "../../../../../shared/model/order.ts";
import { changeWordsOfForms } from "../../strings/caseChanges.ts";
import { caseWords } from "../../strings/cases.ts";
import { type Draft, stepsOf } from "./draft.ts";
import { Faults } from "./Field.tsx";
import { faultsOfWhole, type Steps } from "./faultPlaces.ts";
import { type FieldForm, thing } from "./fields.ts";
import { ChoiceField, ChoicesField, NumberField, TextField } from "./inputs.tsx";
import { type ChangeKind, changeKinds, kindForms, kindGroups, kindLabel, turnedInto } from "./kinds.ts";
import { presentValue } from "./present.ts";
import { choicesOf } from "./things.ts";
import { WeatherFileField } from "./WeatherFileField.tsx";
import { useWriting } from "./writing.ts";

/** One change of a case: its kind in words, and the fields of that kind. */
export function ChangeForm({ change, place }: { readonly change: Draft; readonly place: Steps }) {
  const { faults, isReadOnly, operation, put } = useWriting();
  const kind = change.kind as ChangeKind;
  const form = kindForms[kind];
  const optional = form.fields.filter(({ whenEmpty }) => whenEmpty !== undefined);
  const needed = form.fields.filter(({ whenEmpty }) => whenEmpty === undefined);
  const isFolded = optional.length > 4;
  const fields = (some: readonly FieldForm[]) =>
    some.map((field) => <FieldOf key={field.path} field={field} change={change} place={place} />);
  return (
    <div className="changeForm">
      <div className="caseField kindChoice">
        <label>
          {caseWords.whatChanges}
          <select
            value={kind}
            disabled={isReadOnly}
            onChange={({ target }) => put(place, turnedInto(target.value as ChangeKind, change, operation))}
          >
            {kindGroups.map((group) => (
              <optgroup key={group} label={changeWordsOfForms.groups[group]}>
                {changeKinds
                  .filter((one) => kindForms[one].group === group)
                  .map((one) => (
                    <option key={one} value={one}>
                      {kindLabel(one)}
                    </option>
                  ))}
              </optgroup>
            ))}
          </select>
        </label>
      </div>
      {fields(needed)}
      {!isFolded && fields(optional)}
      {isFolded && (
        <details className="moreFields" open={"set" in change || needed.length === 0 || undefined}>
          <summary>{needed.length > 1 ? caseWords.otherThanThat : caseWords.figuresToChange}</summary>
          <div className="fieldGrid">{fields(optional)}</div>
        </details>
      )}
      <Faults faults={faultsOfWhole(faults, place).map(({ expected }) => expected)} />
    </div>
  );
}

function FieldOf({
  change,
  field,
  place,
}: {
  readonly field: FieldForm;
  readonly change: Draft;
  readonly place: Steps;
}) {
  const { operation, put } = useWriting();
  const steps = stepsOf(field.path);
  const at: Steps = [...place, ...steps];
  const value = valueAt(change, steps);
  const { label, whenEmpty } = field;
  switch (field.as) {
    case "number":
      return (
        <NumberField
          label={label}
          place={at}
          value={value}
          of={field.in}
          whenEmpty={whenEmpty}
          present={whenEmpty && presentValue(operation, change, field.path)}
        />
      );
    case "thing":
      return (
        <ChoiceField
          label={label}
          place={at}
          value={value}
          choices={choicesOf(field.of, operation, change.crewId)}
          whenEmpty={whenEmpty}
        />
      );
    case "things":
      return (
        <ChoicesField
          label={label}
          place={at}
          value={value}
          choices={choicesOf(field.of, operation, change.crewId)}
          whenNone={whenEmpty === undefined ? [] : undefined}
        />
      );
    case "word":
      return <ChoiceField label={label} place={at} value={value} choices={field.of} whenEmpty={whenEmpty} />;
    case "orderLike":
      return (
        <ChoiceField
          label={label}
          place={at}
          value={(value as Partial<Order> | undefined)?.id}
          hint={caseWords.orderLike}
          choices={choicesOf("orders", operation)}
          onChoose={(id) => {
            const order = operation.orders.find((one) => one.id === id);
            if (order) put(at, { ...copyOf(order), id: newId(operation.orders, order.id), apartFrom: [] });
          }}
        />
      );
    case "setsToMove":
      return <SetsToMove place={at} value={value} />;
    case "weather":
      return <WeatherFileField label={label} place={at} value={value} />;
    default:
      return (
        <TextField
          label={label}
          place={at}
          value={value}
          type={inputTypes[field.as]}
          hint={whenEmpty && caseWords.whenEmpty(whenEmpty)}
        />
      );
  }
}

const inputTypes = { text: "text", date: "date", clock: "time", dateTime: "datetime-local" } as const;

const { fields: words } = changeWordsOfForms;
const setsFields = [thing("fromBaseId", words.fromBase, "bases"), thing("typeId", words.type, "batteryTypes")];

/** Battery sets go by number, not one by one. */
function SetsToMove({ place, value }: { readonly place: Steps; readonly value: unknown }) {
  const { isReadOnly, operation, put } = useWriting();
  const entries = Array.isArray(value) ? (value as Draft[]) : [];
  return (
    <fieldset className="caseChoices">
      <legend>{words.sets}</legend>
      {entries.map((entry, number) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: entries have nothing else to be told apart by.
        <div className="fieldGrid" key={number}>
          {setsFields.map((field) => (
            <FieldOf key={field.path} field={field} change={entry} place={[...place, number]} />
          ))}
          <NumberField label={words.howMany} place={[...place, number, "sets"]} value={entry.sets} of="count" />
          {!isReadOnly && (
            <button type="button" onClick={() => put([...place, number], undefined)}>
              {caseWords.takeOut}
            </button>
          )}
        </div>
      ))}
      {!isReadOnly && (
        <button
          type="button"
          onClick={() =>
            put([...place, entries.length], {
              fromBaseId: operation.settings.bases[0]?.id,
              typeId: choicesOf("batteryTypes", operation)[0]?.id,
              sets: 1,
            })
          }
        >
          {caseWords.addSets}
        </button>
      )}
    </fieldset>
  );
}
