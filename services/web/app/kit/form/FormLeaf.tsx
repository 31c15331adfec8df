import { useContext, useId, useState } from "react";
import type { Path } from "../../../../../shared/model/faults.ts";
import { choiceOf, labelOf } from "../../../../../shared/model/memberWords.ts";
import { formWords as words } from "../../strings/forms.ts";
import { FormFacts, type Option, quantityContext } from "./context.ts";
import { hintOf } from "./hints.ts";
import { faultsAt } from "./placedFaults.ts";
import { quantityOf, shownNumber, typedNumber } from "./quantities.ts";
import { type FieldKind, referredBy, type Shape } from "./shape.ts";

export interface FieldProps {
  readonly name: string;
  readonly shape: Shape;
  readonly path: Path;
  readonly value: unknown;
  readonly isNeeded: boolean;
  /** The things that it lies in, from the outside in. */
  readonly around: readonly unknown[];
  /** What it is called, where its name does not say it. */
  readonly label?: string;
}

export function Leaf({ kind, ...props }: FieldProps & { readonly kind: FieldKind }) {
  const facts = useContext(FormFacts)!;
  const id = useId();
  const { name, path, shape } = props;
  const quantity = kind === "number" ? quantityOf(name, quantityContext(facts, props.around)) : null;
  const faults = faultsAt(facts.faults, path, true);
  const isFixed = facts.fixed.includes(path.join("."));
  const unit = quantity?.unit ?? null;
  const hint = isFixed ? null : hintOf(shape);
  const describedBy = [hint !== null && `${id}hint`, faults.length > 0 && `${id}fault`].filter(Boolean);
  const control = {
    id,
    required: props.isNeeded,
    "aria-describedby": describedBy.join(" ") || undefined,
    "aria-invalid": faults.length > 0 || undefined,
  };
  return (
    <div className={faults.length > 0 ? "formField faulty" : "formField"}>
      <label htmlFor={id}>
        <span>
          {props.label ?? labelOf(name)}
          {unit !== null && <span className="unit"> ({unit})</span>}
        </span>
      </label>
      <Control {...props} kind={kind} control={control} isFixed={isFixed} />
      {hint !== null && <small id={`${id}hint`}>{hint}</small>}
      {faults.length > 0 && (
        <p className="fieldFault" id={`${id}fault`}>
          {faults.map(({ expected }) => words.expected(`${expected}${storedUnit(name, facts.system)}`)).join(" ")}
        </p>
      )}
    </div>
  );
}

/** Faults speak of what is stored; where something else was typed it has to be said in what. */
function storedUnit(name: string, system: "metric" | "us"): string {
  const context = { currency: "", rateUnit: "L" } as const;
  const stored = quantityOf(name, { ...context, system: "metric" });
  const typed = quantityOf(name, { ...context, system });
  if (stored === null || typed === null) return "";
  if (/Cents/.test(name)) return words.storedIn("hundredths");
  return stored.unit === typed.unit && stored.factor === 1 ? "" : words.storedIn(stored.unit);
}

type ControlProps = FieldProps & {
  readonly kind: FieldKind;
  readonly control: {
    readonly id: string;
    readonly required: boolean;
    readonly "aria-describedby": string | undefined;
    readonly "aria-invalid": true | undefined;
  };
  readonly isFixed: boolean;
};

function Control(props: ControlProps) {
  const { control, isFixed, isNeeded, kind, name, path, shape, value } = props;
  const facts = useContext(FormFacts)!;
  const put = (next: unknown) => facts.put(path, next);
  const given = value ?? shape.default;
  if (kind === "number") return <NumberInput {...props} />;
  if (kind === "choice") {
    const options = (shape.enum ?? []).map((one) => ({ value: one, words: choiceOf(name, one) }));
    return <Choice {...{ control, options, put, isNeeded: isNeeded || shape.default !== undefined, value: given }} />;
  }
  if (kind === "yesNo") {
    const options = [
      { value: "yes", words: words.yes },
      { value: "no", words: words.no },
    ];
    const chosen = given === undefined ? undefined : given ? "yes" : "no";
    const isSaid = isNeeded || shape.default !== undefined;
    const take = (next: string | undefined) => put(next === undefined ? undefined : next === "yes");
    return <Choice {...{ control, options, put: take, isNeeded: isSaid, value: chosen }} />;
  }
  if (kind === "reference") {
    const options = facts.optionsOf(referredBy(name)!);
    return isFixed ? (
      <input {...control} readOnly value={String(value ?? "")} />
    ) : (
      <Choice {...{ control, options, put, isNeeded, value: given }} />
    );
  }
  const type = { date: "date", dateTime: "datetime-local", clock: "time" }[kind as string] ?? "text";
  const shown = typeof value === "string" ? value : "";
  const take = (typed: string) => put(typed === "" && typeof path.at(-1) !== "number" ? undefined : typed);
  if (name === "notes") {
    return <textarea {...control} rows={3} value={shown} onChange={({ target }) => take(target.value)} />;
  }
  return (
    <input {...control} type={type} readOnly={isFixed} value={shown} onChange={({ target }) => take(target.value)} />
  );
}

/** Shows what is stored in the units that people have chosen; what nobody types over stays as it was, to the last digit. */
function NumberInput({ around, control, name, path, shape, value }: ControlProps) {
  const facts = useContext(FormFacts)!;
  const quantity = quantityOf(name, quantityContext(facts, around));
  const textOf = (stored: unknown) =>
    typeof stored === "number" ? shownNumber(stored, quantity) : typeof stored === "string" ? stored : "";
  const [typed, setTyped] = useState<{ readonly text: string; readonly before: unknown } | null>(null);
  return (
    <input
      {...control}
      type="text"
      inputMode="decimal"
      autoComplete="off"
      placeholder={typeof shape.default === "number" ? shownNumber(shape.default, quantity) : undefined}
      value={typed?.text ?? textOf(value)}
      onFocus={() => setTyped({ text: textOf(value), before: value })}
      onBlur={() => setTyped(null)}
      onChange={({ target: { value: text } }) => {
        const before = typed === null ? value : typed.before;
        setTyped({ text, before });
        facts.put(path, text === textOf(before) ? before : typedNumber(text, quantity));
      }}
    />
  );
}

function Choice({
  control,
  isNeeded,
  options,
  put,
  value,
}: {
  readonly control: ControlProps["control"];
  readonly options: readonly Option[];
  readonly isNeeded: boolean;
  readonly value: unknown;
  readonly put: (value: string | undefined) => void;
}) {
  const chosen = typeof value === "string" ? value : "";
  const isStrange = chosen !== "" && options.every((one) => one.value !== chosen);
  return (
    <select {...control} value={chosen} onChange={({ target }) => put(target.value === "" ? undefined : target.value)}>
      {(!isNeeded || chosen === "") && <option value="">{words.notSaid}</option>}
      {isStrange && <option value={chosen}>{chosen}</option>}
      {options.map((one) => (
        <option key={one.value} value={one.value}>
          {one.words}
        </option>
      ))}
    </select>
  );
}

/** Several of a few. */
export function Choices({ label, name, path, shape, value }: FieldProps) {
  const facts = useContext(FormFacts)!;
  const list = referredBy(name);
  const options = list
    ? facts.optionsOf(list)
    : (shape.items?.enum ?? []).map((one) => ({ value: one, words: choiceOf(name, one) }));
  const chosen = Array.isArray(value) ? (value as string[]) : [];
  const faults = faultsAt(facts.faults, path, true);
  const all = [...options, ...chosen.filter((one) => options.every((option) => option.value !== one)).map(asOption)];
  return (
    <fieldset className="formChoices">
      <legend>{label ?? labelOf(name)}</legend>
      {all.map((option) => (
        <label key={option.value} className="inline">
          <input
            type="checkbox"
            checked={chosen.includes(option.value)}
            onChange={({ target }) =>
              facts.put(path, target.checked ? [...chosen, option.value] : chosen.filter((one) => one !== option.value))
            }
          />
          {option.words}
        </label>
      ))}
      {faults.length > 0 && (
        <p className="fieldFault">{faults.map(({ expected }) => words.expected(expected)).join(" ")}</p>
      )}
    </fieldset>
  );
}

const asOption = (value: string): Option => ({ value, words: value });
