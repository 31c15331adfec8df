import { useId } from "react";

/** A number as people type it; what it means is judged when the form is sent. */
export function NumberField({
  hint,
  label,
  onChange,
  value,
}: {
  readonly label: string;
  readonly value: string;
  readonly hint?: string;
  readonly onChange: (value: string) => void;
}) {
  const hintId = useId();
  return (
    <label>
      {label}
      <input
        inputMode="decimal"
        autoComplete="off"
        value={value}
        aria-describedby={hint ? hintId : undefined}
        onChange={({ target }) => onChange(target.value)}
      />
      {hint && <small id={hintId}>{hint}</small>}
    </label>
  );
}
