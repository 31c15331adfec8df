import { type ReactNode, useId } from "react";
import { caseWords } from "../../strings/cases.ts";
import type { Steps } from "./faultPlaces.ts";
import { useFaultsBeside } from "./writing.ts";

/** What a control has to carry so that its faults and its hint are read out with it. */
export interface Carried {
  readonly id: string;
  readonly "aria-describedby": string | undefined;
  readonly "aria-invalid": boolean | undefined;
}

/** A label, its control, and what is wrong with what stands in it. */
export function Field({
  children,
  hint,
  label,
  place,
}: {
  readonly label: string;
  readonly place: Steps;
  readonly hint?: string | undefined;
  readonly children: (carried: Carried) => ReactNode;
}) {
  const id = useId();
  const faults = useFaultsBeside(place);
  const described = [hint && `${id}-hint`, faults.length > 0 && `${id}-faults`].filter(Boolean).join(" ");
  return (
    <div className="caseField">
      <label htmlFor={id}>{label}</label>
      {children({
        id,
        "aria-describedby": described || undefined,
        "aria-invalid": faults.length > 0 || undefined,
      })}
      {hint && <small id={`${id}-hint`}>{hint}</small>}
      <Faults id={`${id}-faults`} faults={faults} />
    </div>
  );
}

export function Faults({ faults, id }: { readonly faults: readonly string[]; readonly id?: string }) {
  if (faults.length === 0) return null;
  return (
    <p className="caseFault" id={id}>
      {faults.map(caseWords.expected).join(" ")}
    </p>
  );
}
