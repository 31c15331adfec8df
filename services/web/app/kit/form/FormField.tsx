import { useContext, useRef } from "react";
import { choiceOf, labelOf } from "../../../../../shared/model/memberWords.ts";
import { common } from "../../strings/common.ts";
import { formWords as words } from "../../strings/forms.ts";
import { FormFacts } from "./context.ts";
import { Choices, type FieldProps, Leaf } from "./FormLeaf.tsx";
import { faultsAt } from "./placedFaults.ts";
import { emptyOf, kindOf, type Shape, unionOf } from "./shape.ts";

/** One member of a thing, whatever it is. */
export function FormField(props: FieldProps) {
  const kind = kindOf(props.name, props.shape);
  if (kind === "fixed") return null;
  if (kind === "group") return <FormGroup {...props} />;
  if (kind === "union") return <FormUnion {...props} />;
  if (kind === "list") return <FormList {...props} />;
  if (kind === "choices") return <Choices {...props} />;
  return <Leaf {...props} kind={kind} />;
}

type Members = Readonly<Record<string, unknown>>;
const membersOf = (value: unknown): Members => (typeof value === "object" && value !== null ? (value as Members) : {});

/** All members of a thing that forms show. */
export function FormMembers({
  around,
  except = [],
  path,
  shape,
  value,
}: Pick<FieldProps, "around" | "path" | "shape" | "value"> & { readonly except?: readonly string[] }) {
  const members = membersOf(value);
  return Object.entries(shape.properties ?? {})
    .filter(([name]) => !except.includes(name))
    .map(([name, inner]) => (
      <FormField
        key={name}
        name={name}
        shape={inner}
        path={[...path, name]}
        value={members[name]}
        isNeeded={shape.required?.includes(name) ?? false}
        around={[...around, members]}
      />
    ));
}

/** A thing within a thing; one that may be left out can be taken in and out. */
export function FormGroup(props: FieldProps) {
  const { isNeeded, label, name, path, shape, value } = props;
  const facts = useContext(FormFacts)!;
  const words_ = label ?? labelOf(name);
  const isOptional = !isNeeded && shape.default === undefined && typeof path.at(-1) !== "number";
  return (
    <fieldset className="formGroup">
      <legend>{words_}</legend>
      {isOptional && (
        <label className="inline">
          <input
            type="checkbox"
            checked={value !== undefined}
            onChange={({ target }) => facts.put(path, target.checked ? emptyOf(shape) : undefined)}
          />
          {words.has(words_)}
        </label>
      )}
      <OwnFaults {...props} />
      {(value !== undefined || !isOptional) && (
        <div className="formGrid">
          <FormMembers {...props} value={value ?? shape.default} />
        </div>
      )}
    </fieldset>
  );
}

/** One of several shapes, told apart by one member. */
export function FormUnion(props: FieldProps) {
  const { label, name, path, shape, value } = props;
  const facts = useContext(FormFacts)!;
  const { by, shapes } = unionOf(shape);
  const chosen = String(membersOf(value)[by] ?? "");
  const inner = shapes.get(chosen);
  return (
    <fieldset className="formGroup">
      <legend>{label ?? labelOf(name)}</legend>
      <OwnFaults {...props} />
      <div className="formGrid">
        <div className="formField">
          <label>
            {labelOf(by)}
            <select
              value={chosen}
              onChange={({ target }) => {
                const next: Shape = shapes.get(target.value)!;
                const kept = Object.entries(membersOf(value)).filter(([member]) => next.properties?.[member]);
                facts.put(path, { ...Object.fromEntries(kept), [by]: target.value });
              }}
            >
              {inner === undefined && <option value={chosen}>{words.notSaid}</option>}
              {[...shapes.keys()].map((one) => (
                <option key={one} value={one}>
                  {choiceOf(by, one)}
                </option>
              ))}
            </select>
          </label>
        </div>
        {inner && <FormMembers {...props} shape={inner} />}
      </div>
    </fieldset>
  );
}

/** Entries that can be added and removed. */
export function FormList(props: FieldProps) {
  const { around, label, name, path, shape, value } = props;
  const facts = useContext(FormFacts)!;
  const group = useRef<HTMLFieldSetElement>(null);
  const entries = Array.isArray(value) ? (value as unknown[]) : [];
  const called = label ?? labelOf(name);
  const inner = shape.items ?? {};
  const isPlain = inner.properties === undefined && inner.oneOf === undefined;
  return (
    <fieldset className="formList" ref={group} tabIndex={-1}>
      <legend>{called}</legend>
      <OwnFaults {...props} />
      {entries.map((entry, at) => (
        // biome-ignore lint/suspicious/noArrayIndexKey: entries have no other name, and their fields show what stands in the draft.
        <div className={isPlain ? "formEntry plain" : "formEntry"} key={at}>
          <FormField
            name={isPlain ? name : `${name}Entry`}
            label={words.entry(called, at + 1)}
            shape={inner}
            path={[...path, at]}
            value={entry}
            isNeeded
            around={around}
          />
          <button
            type="button"
            className="plain"
            aria-label={words.removeEntry(called, at + 1)}
            onClick={() => {
              facts.put(
                path,
                entries.filter((_, one) => one !== at),
              );
              group.current?.focus();
            }}
          >
            {common.remove}
          </button>
        </div>
      ))}
      <button
        type="button"
        aria-label={words.addEntry(called)}
        onClick={() => facts.put(path, [...entries, emptyOf(inner) ?? ""])}
      >
        {words.addOne}
      </button>
    </fieldset>
  );
}

/** What is wrong with the thing as a whole. */
function OwnFaults({ path }: Pick<FieldProps, "path">) {
  const faults = faultsAt(useContext(FormFacts)!.faults, path, false);
  if (faults.length === 0) return null;
  return <p className="fieldFault">{faults.map(({ expected }) => words.expected(expected)).join(" ")}</p>;
}
