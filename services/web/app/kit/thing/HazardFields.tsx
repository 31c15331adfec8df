import { useContext, useId, useRef, useState } from "react";
import type { Path } from "../../../../../shared/model/faults.ts";
import type { Hazard } from "../../../../../shared/model/field.ts";
import { labelOf } from "../../../../../shared/model/memberWords.ts";
import { common } from "../../strings/common.ts";
import { formWords } from "../../strings/forms.ts";
import { hazardWords as words } from "../../strings/hazards.ts";
import { FormFacts } from "../form/context.ts";
import { FormMembers } from "../form/FormField.tsx";
import { faultsAt } from "../form/placedFaults.ts";
import { emptyOf, type Shape } from "../form/shape.ts";
import { placesText, typedPlaces } from "./hazardPlaces.ts";

const path: Path = ["properties", "hazards"];

/** A field's hazards: where each stands is typed or pasted, all else is made of the shape. */
export function HazardFields({ shape, value }: { readonly shape: Shape; readonly value: readonly Partial<Hazard>[] }) {
  const { put } = useContext(FormFacts)!;
  const group = useRef<HTMLFieldSetElement>(null);
  const inner = shape.items!;
  return (
    <fieldset className="formList" ref={group} tabIndex={-1}>
      <legend>{labelOf("hazards")}</legend>
      {value.map((hazard, at) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: hazards have no other name; with their count those behind a removed one are drawn anew.
        <div className="formEntry" key={`${at} of ${value.length}`}>
          <fieldset className="formGroup">
            <legend>{formWords.entry(labelOf("hazards"), at + 1)}</legend>
            <div className="formGrid">
              <FormMembers shape={inner} value={hazard} path={[...path, at]} around={[]} except={["geometry"]} />
              <PlaceField hazard={hazard} at={at} />
            </div>
          </fieldset>
          <button
            type="button"
            className="plain"
            aria-label={formWords.removeEntry(labelOf("hazards"), at + 1)}
            onClick={() => {
              const left = value.filter((_, one) => one !== at);
              put(path, left.length === 0 ? undefined : left);
              group.current?.focus();
            }}
          >
            {common.remove}
          </button>
        </div>
      ))}
      <button
        type="button"
        aria-label={formWords.addEntry(labelOf("hazards"))}
        onClick={() => {
          const { kind } = emptyOf(inner) as Partial<Hazard>;
          put(path, [...value, kind === undefined ? {} : { kind }]);
        }}
      >
        {formWords.addOne}
      </button>
    </fieldset>
  );
}

function PlaceField({ at, hazard }: { readonly hazard: Partial<Hazard>; readonly at: number }) {
  const { faults, put } = useContext(FormFacts)!;
  const id = useId();
  const [typed, setTyped] = useState(() => placesText(hazard.geometry));
  const own = faultsAt(faults, [...path, at, "geometry"], true);
  return (
    <div className={own.length > 0 ? "formField faulty" : "formField"}>
      <label htmlFor={id}>{words.places}</label>
      <input
        id={id}
        type="text"
        required
        value={typed}
        aria-describedby={own.length > 0 ? `${id}hint ${id}fault` : `${id}hint`}
        aria-invalid={own.length > 0 || undefined}
        onChange={({ target }) => {
          setTyped(target.value);
          put([...path, at, "geometry"], typedPlaces(target.value));
        }}
      />
      <small id={`${id}hint`}>{words.placesHint}</small>
      {own.length > 0 && (
        <p className="fieldFault" id={`${id}fault`}>
          {own.map(({ expected }) => formWords.expected(expected)).join(" ")}
        </p>
      )}
    </div>
  );
}
